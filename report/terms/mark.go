package terms

import (
	"strings"
)

// Part is a piece of a text: a term as it is written, or what stands between terms.
type Part struct {
	Text string
	Term Term // without a name between terms
}

// Mark takes a heading apart into its terms and what stands between them. The parts
// together are the text.
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
