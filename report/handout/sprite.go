package handout

import (
	"fmt"
	"html/template"
	"regexp"
	"strings"
)

// inlineImage matches an image in a picture of package plots: its place and its content.
var inlineImage = regexp.MustCompile(`<image preserveAspectRatio="none"( x="-?\d+" y="-?\d+" width="\d+" height="\d+") href="(data:image/png;base64,[^"]+)"/>`)

// share replaces images that occur in several pictures by references, and returns the images: the oil of a
// lane is drawn in many places.
func share(pictures ...*template.HTML) template.HTML {
	times, order := map[string]int{}, []string(nil)
	for _, p := range pictures {
		for _, found := range inlineImage.FindAllStringSubmatch(string(*p), -1) {
			if times[found[2]]++; times[found[2]] == 2 {
				order = append(order, found[2])
			}
		}
	}
	if order == nil {
		return ""
	}
	ids := map[string]string{}
	var b strings.Builder
	b.WriteString(`<svg class="shared" aria-hidden="true">`)
	for i, data := range order {
		ids[data] = fmt.Sprintf("image-%d", i+1)
		fmt.Fprintf(&b, `<symbol id="%s" viewBox="0 0 1 1" preserveAspectRatio="none"><image preserveAspectRatio="none" width="1" height="1" href="%s"/></symbol>`, ids[data], data)
	}
	b.WriteString("</svg>")
	for _, p := range pictures {
		*p = template.HTML(inlineImage.ReplaceAllStringFunc(string(*p), func(one string) string {
			found := inlineImage.FindStringSubmatch(one)
			if id, shared := ids[found[2]]; shared {
				return `<use href="#` + id + `"` + found[1] + `/>`
			}
			return one
		}))
	}
	return template.HTML(b.String())
}
