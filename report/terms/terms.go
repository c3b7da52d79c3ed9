// Package terms explains the words in the program's inputs and outputs: terms of the trade, of physics and of
// the studies. Each [Term] has its meaning in two sentences, its unit and its source.
//
// The package is a plain table. It imports nothing of the project, reads no files and prints nothing, so that
// program, reports and pages show the same texts.
//
// [Find] looks up one word; [Explain] finds the terms in keys of outputs, such as hook_start_speed_mph, and
// in headings, such as "rev rate at pins, rpm".
package terms

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Sources of terms, besides published ones, which are named.
const (
	Practice  = "common practice"
	Assumed   = "assumed"
	Mechanics = "mechanics"
	Defined   = "defined by this program"
)

// Term is a word and its meaning.
type Term struct {
	Name string   `json:"term"`
	Also []string `json:"also"` // other words and keys for the same

	// Unit is the unit in inputs and outputs; empty without one.
	Unit string `json:"unit"`

	Text string `json:"meaning"` // two sentences

	// From is the source of the term and its numbers: a published source, common practice of the trade,
	// mechanics, assumed, or a definition of this program.
	From string `json:"from"`

	// Topic is the heading under which the term is listed.
	Topic string `json:"topic"`
}

// Topic groups terms that belong together.
type Topic struct {
	Name  string
	Terms []Term
}

// topics lists all terms by topic.
var topics = func() []Topic {
	list := []Topic{
		{"The shot", shot}, {"The release", release}, {"The ball", balls}, {"Layout and drilling", layouts}, {"Lane and oil", lanes},
		{"Friction", frictions}, {"At the pins", pins}, {"Comparing", comparing}, {"Studies", studies}, {"Measuring and fitting", measuring},
	}
	for _, t := range list {
		for i := range t.Terms {
			t.Terms[i].Topic = t.Name
			if t.Terms[i].Also == nil {
				t.Terms[i].Also = []string{} // an empty list in JSON
			}
		}
	}
	return list
}()

// Topics returns all terms by topic.
func Topics() []Topic { return slices.Clone(topics) }

// All returns all terms in the order of the topics.
func All() []Term {
	var all []Term
	for _, t := range topics {
		all = append(all, t.Terms...)
	}
	return all
}

// Words returns the names of all terms and their other words.
func Words() []string {
	var words []string
	for _, t := range All() {
		words = append(append(words, t.Name), t.Also...)
	}
	return words
}

// index has the terms by their folded names.
var index = func() map[string]Term {
	found := map[string]Term{}
	for _, t := range All() {
		for _, name := range append([]string{t.Name}, t.Also...) {
			found[fold(name)] = t
		}
	}
	return found
}()

// Find returns the term of a name or another word for it; capitals, hyphens and underscores do not matter.
func Find(word string) (Term, bool) {
	t, ok := index[fold(word)]
	return t, ok
}

// fold returns a spelling without capitals and with single spaces for separators.
func fold(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return strings.ContainsRune(separators, r) }), " ")
}

// separators are the characters between words.
const separators = " _-/.,:;()"

// unitWords are units in keys and headings.
var unitWords = strings.Fields("ft in mm m cm deg ° mph mps rad s rpm um µm ml µl j n lb kg oz g cm3 uin unit d fps %")

// word is the place of a word in a text.
type word struct{ from, to int }

func wordsOf(text string) (words []word) {
	in := false
	for i, r := range text {
		apart := strings.ContainsRune(separators, r)
		switch {
		case !apart && !in:
			words = append(words, word{i, i + utf8.RuneLen(r)})
		case !apart:
			words[len(words)-1].to = i + utf8.RuneLen(r)
		}
		in = !apart
	}
	return words
}

// longest returns the term made of the most words from the first on, and their number; 0 if there is none.
func longest(text string, words []word) (Term, int) {
	for n := len(words); n > 0; n-- {
		if t, ok := index[fold(text[words[0].from:words[n-1].to])]; ok {
			return t, n
		}
	}
	return Term{}, 0
}

// Explain returns the terms in a key or a heading, by the longest matches from the left, and the words that
// belong to no term. It leaves out units, numbers, articles and prepositions.
func Explain(key string) (found []Term, rest []string) {
	words := wordsOf(key)
	for i := 0; i < len(words); {
		t, n := longest(key, words[i:])
		one := fold(key[words[i].from:words[i].to])
		switch lettered := strings.IndexFunc(one, unicode.IsLetter) >= 0; {
		case n > 0 && !slices.ContainsFunc(found, func(f Term) bool { return f.Name == t.Name }):
			found = append(found, t)
		case n == 0 && lettered && !slices.Contains(unitWords, one) && !slices.Contains(articles, one):
			rest = append(rest, one)
		}
		i += max(n, 1)
	}
	return found, rest
}

var articles = strings.Fields("a an the of at on in to from by and or up over as")
