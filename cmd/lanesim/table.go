package main

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// table is text in columns for people.
type table struct {
	rows  [][]string
	left  []bool // columns set flush left; others are flush right
	style func(row, column int, text string) string
}

// columnGap is between columns.
const columnGap = "  "

// String lays the table out. The style is put on after the widths are known.
func (t table) String() string {
	var widths []int
	for _, row := range t.rows {
		for j, cell := range row {
			if j == len(widths) {
				widths = append(widths, 0)
			}
			widths[j] = max(widths[j], utf8.RuneCountInString(cell))
		}
	}
	var b strings.Builder
	for i, row := range t.rows {
		var line strings.Builder
		for j, cell := range row {
			pad := strings.Repeat(" ", widths[j]-utf8.RuneCountInString(cell))
			if t.style != nil {
				cell = t.style(i, j, cell)
			}
			if j > 0 {
				line.WriteString(columnGap)
			}
			if j < len(t.left) && t.left[j] {
				line.WriteString(cell + pad)
			} else {
				line.WriteString(pad + cell)
			}
		}
		b.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
	return b.String()
}

// absent stands in tables for what does not exist.
const absent = "–"

// digits is how many significant digits tables show.
const digits = 4

// negligible is shown as nothing: far below what any quantity is computed to.
const negligible = 1e-9

// figure prints a number for people.
func figure(v float64) string {
	switch {
	case math.IsNaN(v):
		return absent
	case math.Abs(v) < negligible:
		return "0"
	case math.IsInf(v, 0):
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	// The exponent after rounding: 9.9996 is 10.00.
	text := strconv.FormatFloat(v, 'e', digits-1, 64)
	exponent, err := strconv.Atoi(text[strings.IndexByte(text, 'e')+1:])
	const tooSmall, tooLarge = -4, 7 // for plain decimals
	if err != nil || exponent < tooSmall || exponent > tooLarge {
		return strconv.FormatFloat(v, 'g', digits, 64)
	}
	return strconv.FormatFloat(v, 'f', max(0, digits-1-exponent), 64)
}

// yesNo prints a verdict.
func yesNo(v bool) string {
	if v {
		return "yes"
	}
	return "no"
}
