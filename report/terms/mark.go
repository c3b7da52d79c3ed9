package terms

import (
	"strings"
)

// Part is a part of a text: a term as written, or the text between terms.
type Part struct {
	Text string
	Term Term // its name is empty for text between terms
}

// Mark splits a heading into its terms and the text between them. The parts joined are the heading.
func Mark(text string) []Part {
	words, done := wordsOf(text), 0
	var parts []Part
	for i := 0; i < len(words); i++ {
		t, n := longest(text, words[i:])
		if n == 0 || strings.Trim(text[words[i].from:words[i+n-1].to], "0123456789") == "" {
			continue // a number in a heading is a number
		}
		from, to := words[i].from, words[i+n-1].to
		if done < from {
			parts = append(parts, Part{Text: text[done:from]})
		}
		parts = append(parts, Part{text[from:to], t})
		done, i = to, i+n-1
	}
	if done < len(text) {
		parts = append(parts, Part{Text: text[done:]})
	}
	return parts
}
