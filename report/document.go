package report

import "strings"

// Document is a result for people: headings, tables and sentences in order. Terminal output and web pages are
// made from the same document.
type Document struct {
	Title  string
	Blocks []Block
}

// Block is a heading, a table or a text of a document.
type Block struct {
	Heading string
	Before  string // text before the heading on its line
	After   string // text after it

	Grid *Grid

	Text    string
	Wrapped bool // break lines at the width of a terminal instead of at line ends

	// Hint follows the text for users of the program; web pages leave it out.
	Hint string

	// Joined puts no empty line before the block.
	Joined bool
}

// Head adds a heading.
func (d *Document) Head(heading string) { d.Blocks = append(d.Blocks, Block{Heading: heading}) }

// HeadOf adds a heading with words around it on its line.
func (d *Document) HeadOf(before, heading, after string) {
	d.Blocks = append(d.Blocks, Block{Before: before, Heading: heading, After: after})
}

// Table adds a table.
func (d *Document) Table(g Grid) { d.Blocks = append(d.Blocks, Block{Grid: &g}) }

// Say adds a text with its own line ends.
func (d *Document) Say(text string) { d.Blocks = append(d.Blocks, Block{Text: text}) }

// SayWrapped adds a text that is wrapped at the width of a terminal; an empty text adds nothing.
func (d *Document) SayWrapped(text string) {
	if text != "" {
		d.Blocks = append(d.Blocks, Block{Text: text, Wrapped: true})
	}
}

// Join removes the empty line before the last block.
func (d *Document) Join() { d.Blocks[len(d.Blocks)-1].Joined = true }

// Note adds a text without an empty line before it.
func (d *Document) Note(text string) {
	d.Say(text)
	d.Join()
}

// Hint adds a hint for users of the program to the last text.
func (d *Document) Hint(words string) { d.Blocks[len(d.Blocks)-1].Hint = words }

// Add adds the blocks of another document.
func (d *Document) Add(other Document) { d.Blocks = append(d.Blocks, other.Blocks...) }

// String formats the document without color.
func (d Document) String() string { return d.Print(false) }

// Print formats the document for a terminal.
func (d Document) Print(c Paint) string {
	var b strings.Builder
	if d.Title != "" {
		b.WriteString(c.Heading(d.Title) + "\n")
	}
	for i, k := range d.Blocks {
		if !k.Joined && (i > 0 || d.Title != "") {
			b.WriteString("\n")
		}
		switch {
		case k.Grid != nil:
			b.WriteString(k.Grid.Print(c))
		case k.Heading != "":
			b.WriteString(k.Before + c.Heading(k.Heading) + k.After + "\n")
		case k.Wrapped:
			b.WriteString(strings.Join(Wrap(k.Text+k.Hint, "", "", Width), "\n") + "\n")
		default:
			b.WriteString(k.Text + k.Hint + "\n")
		}
	}
	return b.String()
}
