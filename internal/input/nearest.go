package input

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// Nearest returns the candidate closest to a word by edit distance, "" if none is
// close: up to a third of the word's letters may be wrong, or one of a short word, but
// not all.
func Nearest(word string, candidates []string) string {
	letters := utf8.RuneCountInString(word)
	best, least := "", min(max(1, letters/3)+1, letters)
	folded := fold(word)
	for _, c := range candidates {
		if off := utf8.RuneCountInString(c) - letters; max(off, -off) >= least {
			continue
		}
		if d := distance(folded, fold(c)); d < least {
			best, least = c, d
		}
	}
	return best
}

// fold makes spellings equal that differ only in case and separators.
func fold(s string) string { return separators.Replace(strings.ToLower(s)) }

var separators = strings.NewReplacer("-", "_", " ", "_")

// longestWord is the longest word, in bytes, that is compared.
const longestWord = 64

// distance counts the letters to insert, delete, exchange or swap with a
// neighbour to turn a into b (optimal string alignment).
func distance(a, b string) int {
	if len(a) > longestWord || len(b) > longestWord {
		return longestWord
	}
	s, t := []rune(a), []rune(b)
	// The last three rows of the table of distances between beginnings of a and b.
	var before, last, row [longestWord + 1]int
	for j := range len(t) + 1 {
		row[j] = j
	}
	for i := 1; i <= len(s); i++ {
		before, last = last, row
		row[0] = i
		for j := 1; j <= len(t); j++ {
			same := 1
			if s[i-1] == t[j-1] {
				same = 0
			}
			d := min(last[j]+1, row[j-1]+1, last[j-1]+same)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				d = min(d, before[j-2]+1)
			}
			row[j] = d
		}
	}
	return row[len(t)]
}

// DidYouMean returns a hint with the nearest candidate, "" if none is near.
func DidYouMean(word string, candidates []string) string {
	if c := Nearest(word, candidates); c != "" {
		return "did you mean " + strconv.Quote(c) + "?"
	}
	return ""
}
