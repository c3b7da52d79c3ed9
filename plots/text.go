package plots

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Shares of the type size that a line of the typeface fills above and below
// its baseline: capitals with accents and descenders of Liberation Sans.
const (
	ascentShare  = 0.80
	descentShare = 0.22
)

func (l lettering) ascent() float64 { return ascentShare * l.size }
func (l lettering) height() float64 { return (ascentShare + descentShare) * l.size }

// leading is the distance from a baseline to the next.
func (l lettering) leading() float64 { return 1.22 * l.size }

func (l lettering) width(s string) float64 {
	f := l.face()
	return f.Width(s).Points()
}

// widest returns the width of the longest line.
func (l lettering) widest(lines []string) float64 {
	w := 0.0
	for _, s := range lines {
		w = max(w, l.width(s))
	}
	return w
}

// printable replaces unprintable characters, such as line breaks, which some formats do not
// allow, by spaces.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if r == unicode.ReplacementChar || !unicode.IsPrint(r) {
			return ' '
		}
		return r
	}, s)
}

const ellipsis = "…"

// noBreak is a space at which a line does not end. It is drawn as a space.
const noBreak = "\u00a0"

// glued keeps numbers and their units on one line.
func glued(s string) string {
	return strings.NewReplacer(
		" ft", noBreak+"ft", " mph", noBreak+"mph", " rpm", noBreak+"rpm",
		" units", noBreak+"units", "board ", "board"+noBreak,
	).Replace(s)
}

// wrap breaks s at spaces into lines no wider than width. Wider words are broken. Text
// beyond the allowed number of lines is replaced by an ellipsis; a limit of 0 is no limit.
func (l lettering) wrap(s string, width float64, limit int) []string {
	var lines []string
	line := ""
	for _, word := range strings.FieldsFunc(s, breaks) {
		word = printable(word)
		if line != "" && l.width(line+" "+word) <= width {
			line += " " + word
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for l.width(word) > width {
			head := l.head(word, width)
			lines = append(lines, head)
			word = word[len(head):]
		}
		line = word
	}
	if line != "" {
		lines = append(lines, line)
	}
	if limit > 0 && len(lines) > limit {
		rest := strings.Join(lines[limit-1:], " ")
		lines = append(lines[:limit-1], l.shorten(rest, width))
	}
	return lines
}

// breaks reports whether a line may end at r.
func breaks(r rune) bool { return unicode.IsSpace(r) && string(r) != noBreak }

// head returns the longest beginning of s that fits the width, at least one letter.
func (l lettering) head(s string, width float64) string {
	end := 0
	for i, r := range s {
		next := i + utf8.RuneLen(r)
		if end > 0 && l.width(s[:next]) > width {
			break
		}
		end = next
	}
	return s[:end]
}

// shorten leaves out letters from the middle of s until it fits the width, since related
// names often differ only at their ends.
func (l lettering) shorten(s string, width float64) string {
	if l.width(s) <= width {
		return s
	}
	r := []rune(s)
	for cut := 1; cut < len(r); cut++ {
		keep := len(r) - cut
		front := (keep + 1) / 2
		short := strings.TrimSpace(string(r[:front])) + ellipsis + strings.TrimSpace(string(r[front+cut:]))
		if l.width(short) <= width {
			return short
		}
	}
	return ellipsis
}
