package theme

import (
	"encoding/json"
	"fmt"
	"image/color"
	"maps"
	"reflect"
	"slices"
	"strings"
)

// Hex writes a colour as in a style sheet.
func Hex(c color.NRGBA) string {
	text := fmt.Sprintf("#%02x%02x%02x%02x", c.R, c.G, c.B, c.A)
	return strings.TrimSuffix(text, "ff")
}

// named returns the colours, or lists of them, by the names of their fields.
func (c Colours) named() map[string]any {
	all := map[string]any{}
	v := reflect.ValueOf(c)
	for i := range v.NumField() {
		name := v.Type().Field(i).Name
		name = strings.ToLower(name[:1]) + name[1:]
		if one, ok := v.Field(i).Interface().(color.NRGBA); ok {
			all[name] = Hex(one)
			continue
		}
		var list []string
		for k := range v.Field(i).Len() {
			list = append(list, Hex(v.Field(i).Index(k).Interface().(color.NRGBA)))
		}
		all[name] = list
	}
	return all
}

// properties returns the colours that a style sheet uses as custom properties. The paths
// are named by the shots' letters.
func (c Colours) properties(sheet string) string {
	all := c.named()
	for i, letter := range Letters {
		all[strings.ToLower(letter)] = Hex(c.Paths[i])
	}
	var b strings.Builder
	for _, name := range slices.Sorted(maps.Keys(all)) {
		if strings.Contains(sheet, "var(--"+name+")") {
			fmt.Fprintf(&b, "--%s: %s; ", name, all[name])
		}
	}
	return b.String()
}

// Style returns the custom properties that a style sheet uses, as in  color: var(--ink).
// They are light or dark by the device's preference, unless the root element's data-theme
// says light or dark. On paper they are those for print.
func Style(sheet string) string {
	light, dark := Light.properties(sheet)+"color-scheme: light;", Dark.properties(sheet)+"color-scheme: dark;"
	return fmt.Sprintf(`:root { %s }
@media screen { :root[data-theme="dark"] { %s } }
@media screen and (prefers-color-scheme: dark) { :root:not([data-theme="light"]) { %s } }
@media print { :root { %s} }
`, light, dark, dark, Print.properties(sheet))
}

// TypeScript returns the colours of screens, and the dashes and letters of shots, as a
// module that imports their types from ./palette.
func TypeScript() string {
	var b strings.Builder
	b.WriteString("// From internal/theme, by go run ./page/bundle.\n\nimport type { Shots, Theme } from \"./palette\";\n")
	for _, c := range []struct {
		name, kind string
		value      any
	}{{"light", "Theme", Light.named()}, {"dark", "Theme", Dark.named()}, {"dashes", "Shots<number[]>", Dashes}, {"letters", "Shots<string>", Letters}} {
		text, err := json.MarshalIndent(c.value, "", "  ")
		if err != nil {
			panic(err) // of texts and numbers alone
		}
		fmt.Fprintf(&b, "\nexport const %s: %s = %s;\n", c.name, c.kind, text)
	}
	return b.String()
}
