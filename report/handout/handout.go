// Package handout writes the result of a study as a web page for readers without the program: the answer
// first, then the shots in motion, pictures, tables, cautions, assumed values, inputs and explanations of
// terms.
//
// A page is one file that loads nothing from outside; its content policy forbids it. It has layouts for
// phones, desktops and paper, light and dark; without scripts it shows still pictures. Equal results give
// equal bytes. The package opens no file, draws no picture and computes nothing: pictures are passed as svg
// elements.
package handout

import (
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"regexp"
	"slices"
	"strings"

	"lanesim/internal/theme"
	"lanesim/report"
)

// Page is the content of a handout. Only the title is required.
type Page struct {
	Kind  string // kind of study, as "Comparison"
	Title string

	Answer   []string  // sentences at the top
	Playback *Playback // nil without shots in motion
	Pictures []Picture
	Document report.Document // shown without its title

	Sure     []string // how sure the answer is, in addition to the document
	Cautions []string
	Assumed  []string // values that are assumed or defaults
	Inputs   []Inputs
}

// Picture is a picture as svg elements in two layouts: Wide for paper and desktops, Narrow for phones.
// Without Narrow, phones scroll Wide. The elements are trusted: they must come from package plots.
type Picture struct {
	Wide, Narrow template.HTML
	Title        string // distinguishes it from the page's other pictures; the part that equals the page's title is left out
	Caption      string
}

//go:embed page.html
var pageText string

//go:embed style.css
var ownStyle string

var style = theme.Style(ownStyle) + ownStyle

//go:embed playback.js
var playbackScript string

//go:embed terms.js
var termsScript string

var script = playbackScript + termsScript

var pageTemplate = template.Must(template.New("page").Parse(pageText))

// allowed returns the source expression of a content policy for a text inside the page, its digest.
func allowed(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// Write writes the page as HTML. The error is the writer's.
func (p Page) Write(to io.Writer) error {
	marker := newMarker()
	for _, in := range p.Inputs {
		for _, v := range valuesOf("", in.JSON) {
			if v.name == "name" && v.text != "" {
				marker.names = append(marker.names, v.text)
			}
		}
	}
	view := struct {
		Page
		Policy   string
		Style    template.CSS
		Script   template.JS
		Blocks   []block
		Tables   []table
		Playback *playbackView
		Shared   template.HTML
		Terms    []term
		Model    int
	}{
		Page:   p,
		Policy: fmt.Sprintf("default-src 'none'; img-src data:; style-src %s; script-src %s", allowed(style), allowed(script)),
		Style:  template.CSS(style), Script: template.JS(script),
		Blocks: marker.blocks(p.Document), Model: report.Model,
	}
	view.Answer, view.Sure, view.Cautions, view.Assumed = sentences(p.Answer), sentences(p.Sure), sentences(p.Cautions), sentences(p.Assumed)
	view.Blocks = slices.DeleteFunc(view.Blocks, func(b block) bool { return b.Text != "" && slices.Contains(view.Answer, b.Text) })
	for _, in := range p.Inputs {
		view.Tables = append(view.Tables, marker.inputs(in))
	}
	if p.Playback != nil {
		v := p.Playback.view(marker)
		view.Playback = &v
	}
	view.Pictures = slices.Clone(p.Pictures)
	var all []*template.HTML
	if view.Playback != nil {
		all = append(all, &view.Playback.Wide, &view.Playback.Narrow)
	}
	for i := range view.Pictures {
		one := &view.Pictures[i]
		if one.Title = strings.TrimPrefix(one.Title, p.Title+": "); len(view.Pictures) == 1 || one.Title == p.Title {
			one.Title = ""
		}
		all = append(all, &view.Pictures[i].Wide, &view.Pictures[i].Narrow)
	}
	view.Shared = share(all...)
	view.Terms = marker.list()
	return pageTemplate.Execute(to, view)
}

// sentences returns texts that begin with a capital letter and end with a full stop.
func sentences(list []string) []string {
	var full []string
	for _, s := range list {
		if s = sentence(s); s != "" {
			full = append(full, s)
		}
	}
	return full
}

// micro matches the letter u for µ in units.
var micro = regexp.MustCompile(`(\d |, )u(m|in|L)\b`)

// minusSign matches a hyphen for a minus sign.
var minusSign = regexp.MustCompile(`(^|[\s(,])-(\d)`)

// joinedWords matches words joined by underscores, as in keys.
var joinedWords = regexp.MustCompile(`\b[a-z]+(_[a-z]+)+\b`)

// readable returns a text with spaces between the words of keys, and with [signs].
func readable(s string) string {
	s = joinedWords.ReplaceAllStringFunc(s, keyWords)
	return signs(s)
}

// signs returns a text with typographic signs, µ and minus.
func signs(s string) string {
	return minusSign.ReplaceAllString(micro.ReplaceAllString(s, "${1}µ$2"), "$1−$2")
}

func sentence(s string) string {
	s = readable(strings.Join(strings.Fields(s), " "))
	if s == "" {
		return ""
	}
	if first := s[:1]; first >= "a" && first <= "z" {
		s = strings.ToUpper(first) + s[1:]
	}
	if !strings.ContainsAny(s[len(s)-1:], ".!?:") {
		s += "."
	}
	return s
}
