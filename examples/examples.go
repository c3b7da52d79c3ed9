// Package examples holds the example files, one question each, so that the program has
// them wherever it runs: scenarios, sweeps, measurements and a pattern as YAML, tracks
// and tape readings as CSV.
package examples

import (
	"embed"
	"slices"
	"strings"
)

//go:embed *.yaml *.csv
var files embed.FS

// The few that the page starts from stand apart, so that its engine holds no others.
//
//go:embed compare-flare.yaml compare-flat.yaml compare-forty-games.yaml first-shot.yaml low-flare.yaml left-hander.yaml two-handed.yaml layout-strong.yaml spread-two-balls.yaml wear-two-layouts.yaml
var few embed.FS

// Example is a file that answers a question.
type Example struct {
	Name     string // of the file
	Question string // as its comment begins; "" for the data of others
	Content  []byte
}

// All returns the files, sorted by name.
func All() []Example { return read(files) }

// Few returns those that the page starts from, sorted by name.
func Few() []Example { return read(few) }

func read(files embed.FS) []Example {
	entries, err := files.ReadDir(".")
	if err != nil {
		panic(err) // they are part of the program
	}
	var list []Example
	for _, entry := range entries {
		content, err := files.ReadFile(entry.Name())
		if err != nil {
			panic(err)
		}
		list = append(list, Example{entry.Name(), question(string(content)), content})
	}
	return list
}

// question returns the first paragraph of a file's comment, if it ends with a question
// mark.
func question(text string) string {
	var words []string
	for line := range strings.Lines(text) {
		said, comment := strings.CutPrefix(strings.TrimSpace(line), "#")
		if !comment || strings.TrimSpace(said) == "" {
			break
		}
		words = append(words, strings.TrimSpace(said))
	}
	if said := strings.Join(words, " "); strings.HasSuffix(said, "?") {
		return said
	}
	return ""
}

// With returns an example and those of the others that it names: its data and what it
// is built on.
func With(e Example) []Example {
	list := []Example{e}
	for i := 0; i < len(list); i++ {
		for _, other := range All() {
			taken := slices.ContainsFunc(list, func(l Example) bool { return l.Name == other.Name })
			if !taken && names(string(list[i].Content), other.Name) {
				list = append(list, other)
			}
		}
	}
	return list
}

// names reports whether a text has the name of a file as a word.
func names(text, file string) bool {
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" \n\t\r{}[],:`'\"()", r) }) {
		if strings.TrimSuffix(word, ".") == file {
			return true
		}
	}
	return false
}
