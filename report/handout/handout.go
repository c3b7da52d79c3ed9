// Package handout writes what a study found as a web page to hand on, for somebody who
// does not have the program: the answer first, then the shots in motion, pictures,
// tables, cautions, assumed values, inputs, and the terms explained.
//
// A page is one file that asks for nothing from outside, and its content policy forbids
// it. It is laid out for phones, desktops and paper, in light and dark; without script it
// is a still. Equal results give equal bytes. The package opens no file, draws no
// picture and computes nothing: pictures come as svg elements.
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

// Page is what a handout shows. Only the title must be there.
type Page struct {
	Kind  string // what was done, as "Comparison"
	Title string

	Answer   []string  // sentences, first of all
	Playback *Playback // nil without shots in motion
	Pictures []Picture
	Document report.Document // its title is left out

	Sure     []string // how sure it is, besides what the document says
	Cautions []string
	Assumed  []string // values that are assumed or defaults
	Inputs   []Inputs
}

// Picture is a picture as svg elements, laid out for a sheet and for a phone; without the
// latter, phones scroll the former. Elements are trusted: they must be those of package
// plots.
type Picture struct {
	Wide, Narrow template.HTML
	Title        string // tells it from the page's other pictures; what it shares with the page's is left out
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

// allowed is a source of a content policy: a text inside the page, by its digest.
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

// sentences begin with a capital and end with a full stop.
func sentences(list []string) []string {
	var full []string
	for _, s := range list {
		if s = sentence(s); s != "" {
			full = append(full, s)
		}
	}
	return full
}

// micro is the letter u that stands for µ in units that are typed.
var micro = regexp.MustCompile(`(\d |, )u(m|in|L)\b`)

// minusSign is a hyphen that stands for a minus.
var minusSign = regexp.MustCompile(`(^|[\s(,])-(\d)`)

// joinedWords are words of a key.
var joinedWords = regexp.MustCompile(`\b[a-z]+(_[a-z]+)+\b`)

// readable is a text with spaces between the words of keys, and with [signs].
func readable(s string) string {
	s = joinedWords.ReplaceAllStringFunc(s, keyWords)
	return signs(s)
}

// signs has the signs that people read in place of those that are typed.
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
