package scenario

import (
	"bytes"
	"cmp"
	"encoding/json"
	"maps"
	"regexp"
	"slices"
	"strings"

	"lanesim/pins"
	"lanesim/report"
)

// Schema returns the JSON Schema (draft 2020-12) of scenario files, indented.
// It describes shapes, units, defaults and limits of bare numbers; limits of
// quantities and conditions between fields are in the descriptions.
func Schema() []byte {
	schema := report.ObjectOf("$schema", "https://json-schema.org/draft/2020-12/schema", "title", "lanesim scenario")
	var b bytes.Buffer
	text, err := report.JSON(append(schema, formSchema(&scenarioShape.forms[0], "")...))
	if err = cmp.Or(err, json.Indent(&b, text, "", "  ")); err != nil {
		panic("scenario: " + err.Error()) // plain values can always be written
	}
	b.WriteByte('\n')
	return b.Bytes()
}

// schema returns the schema of a shape.
func (s *shape) schema() report.Object {
	var kinds []report.Object
	if s.toggle {
		kinds = append(kinds, report.ObjectOf("enum", []any{"on", "off", true, false}))
	}
	if len(s.words) > 0 {
		kinds = append(kinds, report.ObjectOf("enum", slices.Concat(s.words, slices.Sorted(maps.Keys(s.aliases)))))
	}
	if s.leave {
		kinds = append(kinds, report.ObjectOf("type", "string", "pattern", "^(10|[1-9])(-(10|[1-9]))*$"),
			report.ObjectOf("type", "integer", "minimum", 1, "maximum", pins.Count))
	}
	if s.side {
		kinds = append(kinds, report.ObjectOf("type", "string", "pattern", sidePattern), report.ObjectOf("const", 0))
	}
	if s.text {
		kinds = append(kinds, report.ObjectOf("type", "string"))
	}
	if s.number != nil {
		kinds = append(kinds, s.number.schema())
	}
	if s.items != nil {
		list := report.ObjectOf("type", "array", "items", s.items.schema())
		if s.least > 0 {
			list = list.With("minItems", s.least)
		}
		if s.most > 0 {
			list = list.With("maxItems", s.most)
		}
		kinds = append(kinds, list)
	}
	if s.spelt != nil {
		kinds = append(kinds, report.ObjectOf("type", "string", "pattern", s.spelt.pattern))
	}
	for i := range s.forms {
		kinds = append(kinds, formSchema(&s.forms[i], s.selector))
	}
	if len(kinds) == 1 {
		return kinds[0]
	}
	return report.ObjectOf("anyOf", kinds)
}

// formSchema returns the schema of a mapping; the selector key is fixed to the
// form's word.
func formSchema(f *form, selector string) report.Object {
	var properties report.Object
	var required []string
	for i := range f.fields {
		g := &f.fields[i]
		schema := g.shape.schema()
		if g.key == selector {
			schema = report.ObjectOf("const", f.word)
			if g.fallback != "" && g.fallback != f.word {
				required = append(required, g.key)
			}
		}
		schema = schema.With("description", g.describe())
		if g.required {
			required = append(required, g.key)
		}
		properties = properties.With(g.key, schema)
	}
	o := report.ObjectOf("type", "object", "description", "Written as "+f.title+".", "properties", properties, "additionalProperties", false)
	if len(required) > 0 {
		o = o.With("required", required)
	}
	var all []report.Object
	for _, c := range f.choices {
		var one []report.Object
		for _, k := range c.keys {
			one = append(one, report.ObjectOf("required", []string{k}))
		}
		if c.missing != "" {
			all = append(all, report.ObjectOf("oneOf", one))
			continue
		}
		all = append(all, report.ObjectOf("not", report.ObjectOf("required", c.keys)))
	}
	if len(all) > 0 {
		o = o.With("allOf", all)
	}
	return o
}

// numberText matches the number of a quantity, without its checks.
const numberText = `^\s*[+\-−]?\s*[0-9.¼½¾⅛⅜⅝⅞⅓⅔][0-9.eE+\-/ ¼½¾⅛⅜⅝⅞⅓⅔]*\s*`

func (n *number) schema() report.Object {
	if n.dimension != nil {
		var units []string
		for _, u := range n.dimension.units {
			for _, name := range append([]string{u.name}, u.aliases...) {
				units = append(units, regexp.QuoteMeta(name))
			}
		}
		ounces := ""
		if n.dimension == weight {
			ounces = `|lbs? \s*[0-9.¼½¾⅛⅜⅝⅞⅓⅔][0-9./ ¼½¾⅛⅜⅝⅞⅓⅔-]*oz`
		}
		return report.ObjectOf("type", "string", "pattern", numberText+"("+strings.Join(units, "|")+ounces+`)\s*$`)
	}
	kind := "number"
	if n.integer {
		kind = "integer"
	}
	o := report.ObjectOf("type", kind)
	limit := func(key, text string) {
		if text != "" {
			o = o.With(key, bareNumber(n.must(text)))
		}
	}
	limit(map[bool]string{true: "exclusiveMinimum", false: "minimum"}[n.least.open], n.least.text)
	limit("maximum", n.most.text)
	return o
}

// describe describes a field in sentences: its meaning, default and limits.
func (f *field) describe() string {
	var b strings.Builder
	b.WriteString(f.meaning + ".")
	switch {
	case f.fallback == "{}":
	case f.fallback != "" && f.assumed:
		b.WriteString(" Default " + f.fallback + ", assumed.")
	case f.fallback != "":
		b.WriteString(" Default " + f.fallback + ".")
	case f.note != "":
		b.WriteString(" Default: " + f.note + ".")
	}
	if n := f.shape.number; n != nil && n.limits() != "" {
		b.WriteString(" Hard limits: " + n.limits() + ".")
	}
	if f.listed != nil {
		b.WriteString(" Limits listed: " + f.listed.String() + ".")
	}
	return b.String()
}
