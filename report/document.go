package report

import "strings"

// Document is what people read of a result: headings, tables and sentences in their
// order. A terminal's table and a web page are made of the same document.
type Document struct {
	Title  string
	Blocks []Block
}

// Block is a heading, a table or a text of a document.
type Block struct {
	Heading string
	Before  string // on the line of the heading, as what it is of
	After   string

	Grid *Grid

	Text    string
	Wrapped bool // breaks lines where a terminal ends, in place of where it has line ends

	// Hint ends the text for those who run the program; others are not given it.
	Hint string

	// Joined follows the block before without an empty line.
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

// Say adds a text as it stands.
func (d *Document) Say(text string) { d.Blocks = append(d.Blocks, Block{Text: text}) }

// SayWrapped adds a text, if there is any, whose lines a terminal breaks.
func (d *Document) SayWrapped(text string) {
	if text != "" {
		d.Blocks = append(d.Blocks, Block{Text: text, Wrapped: true})
	}
}

// Join has the last block follow the one before without an empty line.
func (d *Document) Join() { d.Blocks[len(d.Blocks)-1].Joined = true }

// Note adds a text right below the block before.
func (d *Document) Note(text string) {
	d.Say(text)
	d.Join()
}

// Hint ends the last text with words for those who run the program.
func (d *Document) Hint(words string) { d.Blocks[len(d.Blocks)-1].Hint = words }

// Add adds the blocks of another document.
func (d *Document) Add(other Document) { d.Blocks = append(d.Blocks, other.Blocks...) }

// String prints the document without color.
func (d Document) String() string { return d.Print(false) }

// Print prints the document for a terminal.
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
