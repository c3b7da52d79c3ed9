package report

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Paint is whether text gets color.
type Paint bool

// Tone is the role of a text, for its color.
type Tone int

// The tones of texts.
const (
	PlainTone Tone = iota
	HeadingTone
	GoodTone
	BadTone
	NotableTone
)

// codes are the codes of ECMA-48, Select Graphic Rendition: bold, green, red, yellow.
var codes = map[Tone]int{HeadingTone: 1, GoodTone: 32, BadTone: 31, NotableTone: 33}

// As formats a text in a tone.
func (c Paint) As(t Tone, text string) string {
	code, toned := codes[t]
	if !bool(c) || !toned || text == "" {
		return text
	}
	return fmt.Sprintf("\x1b[%dm%s\x1b[0m", code, text)
}

// Heading formats a heading.
func (c Paint) Heading(text string) string { return c.As(HeadingTone, text) }

// Grid is a table of texts for people.
type Grid struct {
	Rows [][]string
	Left []bool // columns set flush left; the others are flush right
	Tone func(row, column int, text string) Tone

	// Heads is the number of rows at the top with headings of columns: 0 means one, a negative number none.
	Heads int

	// Sections are the rows that are headings of the rows below them.
	Sections map[int]bool
}

// AddRow adds a row with a name and a text for each element of a list.
func AddRow[T any](g *Grid, name string, list []T, show func(T) string) {
	row := []string{name}
	for _, t := range list {
		row = append(row, show(t))
	}
	g.Rows = append(g.Rows, row)
}

// HeadRows returns the number of rows at the top with headings of columns.
func (g Grid) HeadRows() int {
	if g.Heads == 0 {
		return min(1, len(g.Rows))
	}
	return max(0, min(g.Heads, len(g.Rows)))
}

// ToneOf returns the tone of a cell.
func (g Grid) ToneOf(row, column int) Tone {
	if g.Tone == nil {
		return PlainTone
	}
	return g.Tone(row, column, g.Rows[row][column])
}

// HeadingFirst is a Tone function for a grid whose first row is a heading.
func HeadingFirst(row, _ int, _ string) Tone {
	if row == 0 {
		return HeadingTone
	}
	return PlainTone
}

// columnGap separates columns.
const columnGap = "  "

// String formats the grid without color.
func (g Grid) String() string { return g.Print(false) }

// Print formats the grid. Color is added after the widths are known.
func (g Grid) Print(c Paint) string {
	var widths []int
	for _, row := range g.Rows {
		for j, cell := range row {
			if j == len(widths) {
				widths = append(widths, 0)
			}
			if len(row) > 1 { // a row of one cell spans all columns
				widths[j] = max(widths[j], utf8.RuneCountInString(cell))
			}
		}
	}
	var b strings.Builder
	for i, row := range g.Rows {
		var line strings.Builder
		for j, cell := range row {
			pad := strings.Repeat(" ", max(0, widths[j]-utf8.RuneCountInString(cell)))
			cell = c.As(g.ToneOf(i, j), cell)
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

// Width is the assumed width of a terminal in characters.
const Width = 80

// Wrap breaks a text at spaces into lines of at most width characters with an indent; all but the first line
// have the hanging indent, too.
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

// Counting formats a number of things, as "2 shots".
func Counting(n int, thing string) string {
	switch {
	case n == 1:
		return "1 " + thing
	case strings.HasSuffix(thing, "y"):
		return fmt.Sprintf("%d %sies", n, strings.TrimSuffix(thing, "y"))
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
