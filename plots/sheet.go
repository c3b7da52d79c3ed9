package plots

import (
	"fmt"
	"strconv"
	"strings"

	"lanesim/report/layouts"
	"lanesim/units"
)

// Paper is a size of paper, in points (1/72 in).
type Paper struct {
	Name          string
	Width, Height float64
}

// Papers lists the sizes of a drilling sheet, the usual one first.
func Papers() []Paper {
	return []Paper{{"letter", 612, 792}, {"a4", 595.28, 841.89}}
}

// Sizes on a sheet, in points. The type is the largest with which everything fits on the
// page.
const sheetMargin = 28

var sheetSizes = []float64{8, 7.6, 7.2, 6.8}

func sheetMeasures(p Paper, small float64) measures {
	t := Sheet.measures()
	t.width, t.margin = p.Width, sheetMargin
	t.title, t.body, t.small = 14, small+0.8, small
	t.hairline, t.rule = 0.4, 0.6
	return t
}

// sheetPage is a page of paper.
type sheetPage struct {
	*page
	paper Paper
}

func newSheetPage(title string, paper Paper, small float64) *sheetPage {
	v := &view{Figure: Figure{Title: title}, measures: sheetMeasures(paper, small)}
	p := &sheetPage{v.page(), paper}
	p.Height = paper.Height
	return p
}

// SheetPages draws a sheet to drill from on paper, with views of the ball: one page to
// drill from, one of details and, if there are any, paper strips at true scale. It is an
// error if the content of the first page does not fit.
func SheetPages(f layouts.DrillSheet, l layouts.Layout, paper Paper) ([]*Drawing, error) {
	var first *sheetPage
	var err error
	for _, small := range sheetSizes {
		first = newSheetPage(f.Title, paper, small)
		if err = first.draw(f, l); err == nil {
			break
		}
	}
	if err != nil {
		return nil, err
	}
	second := newSheetPage(f.Title, paper, sheetSizes[0])
	second.top(f.Title + ": details")
	width := (second.inner() - 18) / 2
	lefts := []float64{second.margin, second.margin + width + 18}
	if end := second.columns(f.Details, lefts, []float64{second.y, second.y}, width); end > paper.Height-second.foot() {
		return nil, fmt.Errorf("plots: the details of the sheet need %.0f points of %.0f", end, paper.Height)
	}
	pages := []*Drawing{first.Drawing, second.Drawing}
	if len(f.Strips) > 0 {
		pages = append(pages, strips(f, paper))
	}
	return pages, nil
}

// foot is the blank rim at the foot of a page.
func (p *sheetPage) foot() float64 { return p.margin - 6 }

func (p *sheetPage) top(title string) {
	p.paragraph(title, p.title, p.margin, p.inner(), 2, ink)
	p.y += 3
}

func (p *sheetPage) ruleLine() {
	p.line([]point{{p.margin, p.y}, {p.margin + p.inner(), p.y}}, p.edge())
	p.y += 4
}

// draw draws the page to drill from.
func (p *sheetPage) draw(f layouts.DrillSheet, l layouts.Layout) error {
	p.top(f.Title)
	p.fields(f.Fields, 3)
	p.y += 2
	p.ruleLine()
	for _, r := range f.Layouts {
		p.text(r.Name, p.label, p.margin, p.y, ink)
		left := p.margin + 92
		p.y -= 0.5
		p.paragraph(r.Value, p.body, left, p.inner()-92, 0, ink)
		p.y += 1.5
	}
	p.y += 2
	p.ruleLine()
	top := p.y
	const viewWidth = 228
	steps := p.steps(f.Steps, p.margin+viewWidth+14, top, p.inner()-viewWidth-14)
	views := p.views(l, p.margin, top, viewWidth, steps-top)
	p.y = max(views, steps) + 2
	p.ruleLine()
	p.table(f.Holes)
	p.paragraph(f.Note, p.small, p.margin, p.inner(), 0, ink)
	p.y += 4
	p.ruleLine()
	n := float64(len(f.Lists))
	width := (p.inner() - 14*(n-1)) / n
	bottom := p.y
	for i, s := range f.Lists {
		bottom = max(bottom, p.section(s, p.margin+float64(i)*(width+14), p.y, width))
	}
	p.y = bottom
	p.ruleLine()
	tiny := lettering{6.6, false}
	for _, c := range layouts.LayoutCautions() {
		p.paragraph(c, tiny, p.margin, p.inner(), 0, ink)
	}
	p.y += 4
	p.text("Notes", p.label, p.margin, p.y, ink)
	p.y += 10
	room := p.paper.Height - p.foot() - p.y
	const least = 20 // for notes
	if room < least {
		return fmt.Errorf("plots: the sheet needs %.0f points more than the page has", least-room)
	}
	for y := p.y + 14; y < p.paper.Height-p.foot(); y += 16 {
		p.line([]point{{p.margin, y}, {p.margin + p.inner(), y}}, stroke{color: faintMark, width: p.hairline})
	}
	return nil
}

// fields writes names with values, or lines to fill in, in columns. Long values go on
// below.
func (p *sheetPage) fields(rows []layouts.Row, columns int) {
	width := p.inner() / float64(columns)
	lines := 1
	for i, r := range rows {
		left := p.margin + float64(i%columns)*width
		name := r.Name + ": "
		p.text(name, p.small, left, p.y, softInk)
		at := left + p.small.width(name)
		room := left + width - 10 - at
		if r.Value == "" {
			p.line([]point{{at, p.y + p.small.ascent()}, {at + room, p.y + p.small.ascent()}}, stroke{color: softInk, width: p.hairline})
		} else {
			value := p.label.wrap(r.Value, room, 0)
			for k, s := range value {
				p.text(s, p.label, at, p.y+float64(k)*p.label.leading(), ink)
			}
			lines = max(lines, len(value))
		}
		if i%columns == columns-1 || i == len(rows)-1 {
			p.y += 1.3*p.small.leading() + float64(lines-1)*p.label.leading()
			lines = 1
		}
	}
}

// views draws the views one below the other, as large as a height allows, and returns where
// they end.
func (p *sheetPage) views(l layouts.Layout, left, top, width, height float64) float64 {
	const rim, below, smallest, largest = 10, 11, 46, 59
	count := 1.0
	if laidOut(l) {
		count = 2
	}
	radius := (height-below)/(2*count) - (p.label.leading()+0.5*p.small.size)/2 - rim
	b := &ballPage{page: p.page, f: BallFigure{Layout: l}, m: ballMeasures{columns: 1, radius: min(max(radius, smallest), largest), rim: rim}, width: width, brief: true}
	list := gripAndPAP(l.Drilling.Before.Frame)
	y := top
	for i := range list {
		if i == 1 && !laidOut(l) {
			break
		}
		list[i].ballPage = b
		y = list[i].draw(left, y)
		if i == 0 {
			p.convention(left, y)
			y += below
		}
	}
	return y
}

// convention draws the signs of the static weights.
func (p *sheetPage) convention(left, top float64) {
	s := stroke{color: ink, width: 0.8}
	arrow := func(x, y, dx, dy float64) {
		p.line([]point{{x, y}, {x + dx, y + dy}}, s)
		p.line([]point{{x + dx - 0.3*dx - 0.25*dy, y + dy - 0.3*dy - 0.25*dx}, {x + dx, y + dy}, {x + dx - 0.3*dx + 0.25*dy, y + dy - 0.3*dy + 0.25*dx}}, s)
	}
	x := left + 4
	words := lettering{7, false}
	p.text("Weights count", words, x, top, softInk)
	x += words.width("Weights count") + 6
	arrow(x, top+4, 9, 0)
	x = p.text("+ side", words, x+12, top, ink).right + 8
	arrow(x, top+8, 0, -8)
	x = p.text("+ fingers", words, x+6, top, ink).right + 8
	p.disc(point{x, top + 4}, 3, ink)
	p.text("+ top, toward you", words, x+6, top, ink)
}

// steps writes the numbered steps, each with a box to tick.
func (p *sheetPage) steps(list []layouts.Step, left, top, width float64) float64 {
	p.text("Marking, in this order", p.label, left, top, ink)
	y := top + p.label.leading() + 2
	for i, s := range list {
		p.frame(box{left, y + 0.5, left + 6.5, y + 7}, stroke{color: ink, width: p.rule})
		head := strconv.Itoa(i+1) + ". " + s.Name
		end := p.text(head, p.label, left+11, y, ink).right
		if s.Value != "" {
			at := left + width - p.label.width(printable(s.Value))
			if at < end+6 { // too long to fit next to the name
				y += p.small.leading()
			}
			p.text(s.Value, p.label, at, y, ink)
		}
		y += p.small.leading()
		for _, line := range p.small.wrap(strings.ReplaceAll(s.How, "≈ ", "≈"+noBreak), width-11, 0) {
			p.text(line, p.small, left+11, y, ink)
			y += p.small.leading()
		}
		y += 1.5
	}
	return y
}

// table writes rows under their headings. Columns are as wide as their words; the last, the
// notes, takes the rest.
func (p *sheetPage) table(rows [][]string) {
	if len(rows) == 0 {
		return
	}
	lettersOf := func(row int) lettering {
		if row == 0 {
			return p.label
		}
		return p.small
	}
	widths := make([]float64, len(rows[0]))
	total := 0.0
	for c := range widths {
		for i, r := range rows {
			for line := range strings.SplitSeq(r[c], "\n") {
				widths[c] = max(widths[c], lettersOf(i).width(printable(line)))
			}
		}
		total += widths[c]
	}
	const least = 6 // between columns
	last := len(widths) - 1
	gap := (p.inner() - total) / float64(max(last, 1))
	if gap < least {
		widths[last] -= (least - gap) * float64(last)
		gap = least
	}
	for i, r := range rows {
		left, high := p.margin, 0.0
		l := lettersOf(i)
		for c, text := range r {
			y := p.y
			for part := range strings.SplitSeq(text, "\n") {
				for _, s := range l.wrap(part, widths[c]+0.01, 0) {
					p.text(s, l, left, y, ink)
					y += l.leading()
				}
			}
			high = max(high, y-p.y)
			left += widths[c] + gap
		}
		p.y += high + 1.5
		if i == 0 {
			p.line([]point{{p.margin, p.y - 1}, {p.margin + p.inner(), p.y - 1}}, stroke{color: faintMark, width: p.hairline})
		}
	}
}

// strips draws lengths at true scale, to cut out.
func strips(f layouts.DrillSheet, paper Paper) *Drawing {
	p := newSheetPage(f.Title, paper, sheetSizes[0])
	p.top(f.Title + ": paper strips")
	p.paragraph("Print at 100 %, without fitting to the page. The check mark must measure 2 in (50.8 mm) on a rule. Cut out the strips and lay them along the lines on the ball.", p.body, p.margin, p.inner(), 0, ink)
	p.y += 14
	p.strip(layouts.Strip{Name: "check mark", Length: 2 * units.Inch}, false)
	for _, s := range f.Strips {
		p.strip(s, true)
	}
	return p.Drawing
}

// strip draws one length with marks at its ends and at each quarter inch.
func (p *sheetPage) strip(s layouts.Strip, cut bool) {
	long := s.Length / units.Inch * 72
	line := stroke{color: ink, width: 0.7}
	label := s.Label()
	if long > p.inner() {
		label += " (longer than the paper is wide: use the tape)"
	}
	p.text(label, p.label, p.margin, p.y, ink)
	p.y += p.label.leading() + 8
	if long > p.inner() {
		return
	}
	p.line([]point{{p.margin, p.y}, {p.margin + long, p.y}}, line)
	for _, x := range []float64{0, long} {
		p.line([]point{{p.margin + x, p.y - 7}, {p.margin + x, p.y + 7}}, line)
	}
	for x := 18.0; x < long-0.5; x += 18 {
		p.line([]point{{p.margin + x, p.y}, {p.margin + x, p.y + 3}}, stroke{color: ink, width: 0.4})
	}
	if cut {
		p.frame(box{p.margin, p.y - 9, p.margin + long, p.y + 9}, stroke{color: faintMark, width: 0.4, dash: []float64{3, 3}})
	}
	p.y += 24
}
