package scenario

import (
	"strconv"
	"strings"
)

// nearest returns the candidate closest to a word by edit distance, "" if
// none is close: a third of the word's letters may be wrong, one at least, but
// not all of them.
func nearest(word string, candidates []string) string {
	letters := len([]rune(word))
	best, least := "", min(max(1, letters/3)+1, letters)
	for _, c := range candidates {
		if d := distance(fold(word), fold(c)); d < least {
			best, least = c, d
		}
	}
	return best
}

// fold makes spellings equal that only differ in case and separators.
func fold(s string) string {
	return strings.NewReplacer("-", "_", " ", "_").Replace(strings.ToLower(s))
}

// longestWord is the longest word, in bytes, that is compared.
const longestWord = 64

// distance counts the letters to insert, delete, exchange or swap with a
// neighbour to turn a into b (optimal string alignment).
func distance(a, b string) int {
	if len(a) > longestWord || len(b) > longestWord {
		return longestWord
	}
	s, t := []rune(a), []rune(b)
	rows := make([][]int, len(s)+1)
	for i := range rows {
		rows[i] = make([]int, len(t)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(s); i++ {
		for j := 1; j <= len(t); j++ {
			same := 1
			if s[i-1] == t[j-1] {
				same = 0
			}
			d := min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+same)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				d = min(d, rows[i-2][j-2]+1)
			}
			rows[i][j] = d
		}
	}
	return rows[len(s)][len(t)]
}

// didYouMean returns a hint with the nearest candidate, "" if none is near.
func didYouMean(word string, candidates []string) string {
	if c := nearest(word, candidates); c != "" {
		return "did you mean " + strconv.Quote(c) + "?"
	}
	return ""
}

// either lists words as "a, b or c".
func either(words []string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + " or " + words[n-1]
	}
}
