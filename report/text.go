package report

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Paint puts color into text, or not.
type Paint bool

// style wraps a text in the codes of ECMA-48, Select Graphic Rendition.
func (c Paint) style(code int, text string) string {
	if !c || text == "" {
		return text
	}
	return fmt.Sprintf("\x1b[%dm%s\x1b[0m", code, text)
}

// Heading, Bad, Good and Notable print a text as what it is.
func (c Paint) Heading(text string) string { return c.style(1, text) }

// Bad prints in red.
func (c Paint) Bad(text string) string { return c.style(31, text) }

// Good prints in green.
func (c Paint) Good(text string) string { return c.style(32, text) }

// Notable prints in yellow.
func (c Paint) Notable(text string) string { return c.style(33, text) }

// Grid is text in columns for people.
type Grid struct {
	Rows  [][]string
	Left  []bool // columns set flush left; others are flush right
	Style func(row, column int, text string) string
}

// columnGap is between columns.
const columnGap = "  "

// String lays the grid out. The style is put on after the widths are known.
func (g Grid) String() string {
	var widths []int
	for _, row := range g.Rows {
		for j, cell := range row {
			if j == len(widths) {
				widths = append(widths, 0)
			}
			widths[j] = max(widths[j], utf8.RuneCountInString(cell))
		}
	}
	var b strings.Builder
	for i, row := range g.Rows {
		var line strings.Builder
		for j, cell := range row {
			pad := strings.Repeat(" ", widths[j]-utf8.RuneCountInString(cell))
			if g.Style != nil {
				cell = g.Style(i, j, cell)
			}
			if j > 0 {
				line.WriteString(columnGap)
			}
			if j < len(g.Left) && g.Left[j] {
				line.WriteString(cell + pad)
			} else {
				line.WriteString(pad + cell)
			}
		}
		b.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
	return b.String()
}

// Wrap breaks a text at spaces into lines of at most a width, each after the first
// indented further than the first by as much as hanging says.
func Wrap(text, indent, hanging string, width int) []string {
	var lines []string
	line, empty := indent, true
	for _, word := range strings.Fields(text) {
		if !empty && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > width {
			lines = append(lines, line)
			line, empty = indent+hanging, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	return append(lines, line)
}

// Counting prints a number of things.
func Counting(n int, thing string) string {
	switch {
	case n == 1:
		return "1 " + thing
	case strings.HasSuffix(thing, "y"):
		return fmt.Sprintf("%d %sies", n, strings.TrimSuffix(thing, "y"))
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
