package terms

import (
	"strings"
	"unicode/utf8"
)

// Part is a piece of a text: a term as it is written, or what stands between terms.
type Part struct {
	Text string
	Term Term // without a name between terms
}

// Mark takes a heading apart into its terms and what stands between them. The parts
// together are the text.
func Mark(text string) []Part {
	type word struct{ from, to int }
	var words []word
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
	var parts []Part
	done := 0
	for i := 0; i < len(words); i++ {
		for n := len(words) - i; n > 0; n-- {
			from, to := words[i].from, words[i+n-1].to
			t, ok := index[fold(text[from:to])]
			if !ok || strings.Trim(text[from:to], "0123456789") == "" {
				continue // a number in a heading is a number
			}
			if done < from {
				parts = append(parts, Part{Text: text[done:from]})
			}
			parts = append(parts, Part{text[from:to], t})
			done, i = to, i+n-1
			break
		}
	}
	if done < len(text) {
		parts = append(parts, Part{Text: text[done:]})
	}
	return parts
}
