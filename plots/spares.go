package plots

import (
	"errors"
	"fmt"
	"image/color"
	"math"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/pins"
	"lanesim/units"
)

// spareRow is a bowler's line at a leave, in the bowler's own boards.
type spareRow struct {
	Leave pins.Leave
	Found bool // whether a line reaches it

	Feet, Laydown, Arrows float64
	Board                 float64        // at the head pin's distance
	Window                physics.Window // there, from which most racks are converted; may be empty

	Share, Low, High float64    // converted, with its interval
	Stays            pins.Leave // most often after a miss; 0 if nothing does
}

// spareSheet is what there is to say of one bowler with a ball on a lane.
type spareSheet struct {
	Name string
	Hand ball.Hand
	Rows []spareRow
}

// spareFigure says what is to be drawn of lines at leaves.
type spareFigure struct {
	Title  string
	Note   string // a sentence under the title
	Sheets []spareSheet
	Size   Size
}

// MaxSpareSheets is how many bowlers, balls and lanes a figure takes.
const MaxSpareSheets = 6

var errNoSpares = errors.New("plots: no line at a leave to draw")

// draw draws the lines below each other: the leave, where to stand and aim, what is hit
// at the pins, and how often it is converted.
//
// It is an error if there is nothing to draw or more than [MaxSpareSheets].
func (f spareFigure) draw() (*Drawing, error) {
	if n := len(f.Sheets); n > MaxSpareSheets {
		return nil, fmt.Errorf("plots: %d bowlers, balls and lanes: a figure of spares takes %d", n, MaxSpareSheets)
	}
	p := titledPage(f.Title, f.Note, f.Size)
	drawn := 0
	for _, s := range f.Sheets {
		if drawn += len(s.Rows); len(s.Rows) > 0 {
			p.spares(s, 2.1*p.small.leading(), f.Size == Phone)
		}
	}
	if drawn == 0 {
		return nil, errNoSpares
	}
	p.spareKey()
	return p.finish(), nil
}

// pages draws each bowler, ball and lane on a page of paper. It is an error if there
// is nothing to draw or if a page does not hold its rows.
func (f spareFigure) pages(paper Paper) ([]*Drawing, error) {
	var pages []*Drawing
	for _, s := range f.Sheets {
		if len(s.Rows) == 0 {
			continue
		}
		p := newSheetPage(f.Title, paper, sheetSizes[0])
		p.top(f.Title)
		p.paragraph(f.Note, p.body, p.margin, p.inner(), 0, softInk)
		p.y += 6
		const rest = 62 // for headings and the key
		room := p.paper.Height - p.foot() - p.y - rest
		high := min(30, room/float64(len(s.Rows)))
		if high < 1.3*p.small.leading() {
			return nil, fmt.Errorf("plots: a page takes %d leaves, not %d", int(room/(1.3*p.small.leading())), len(s.Rows))
		}
		p.spares(s, high, false)
		p.spareKey()
		pages = append(pages, p.Drawing)
	}
	if len(pages) == 0 {
		return nil, errNoSpares
	}
	return pages, nil
}

// spareColumn is a column of a table of spares: its heading, its share of the width, and
// what it says.
type spareColumn struct {
	heading string
	share   float64
	text    func(r spareRow) string
	draw    func(r spareRow, area box)
}

func board(v float64) string { return decimal(v, 1) }

func percent(v float64) string { return decimal(100*v, 0) + noBreak + "%" }

// spareColumns are the columns of a sheet; narrow leaves out what can be drawn alone.
func (p *page) spareColumns(s spareSheet, narrow bool) []spareColumn {
	found := func(of func(r spareRow) string) func(spareRow) string {
		return func(r spareRow) string {
			if !r.Found {
				return "–"
			}
			return of(r)
		}
	}
	icon := spareColumn{"", 34, nil, func(r spareRow, area box) { p.standing(r.Leave, area) }}
	leave := spareColumn{"leave", 78, func(r spareRow) string { return r.Leave.String() }, nil}
	feet := spareColumn{"feet", 44, found(func(r spareRow) string { return board(r.Feet) }), nil}
	laydown := spareColumn{"laydown", 58, found(func(r spareRow) string { return board(r.Laydown) }), nil}
	arrows := spareColumn{"arrows", 52, found(func(r spareRow) string { return board(r.Arrows) }), nil}
	at := spareColumn{"at 60 ft", 56, found(func(r spareRow) string { return board(r.Board) }), nil}
	hit := spareColumn{"ball and window", 160, nil, func(r spareRow, area box) { p.spareHit(r, s.Hand, area) }}
	converted := spareColumn{"converted", 122, nil, func(r spareRow, area box) { p.converted(r, area) }}
	stays := spareColumn{"then stays", 74, found(func(r spareRow) string {
		if r.Stays == 0 {
			return "–"
		}
		return r.Stays.String()
	}), nil}
	if narrow {
		leave.share, arrows.share, at.heading, at.share, converted.share = 82, 62, "60 ft", 54, 116
		laydown.heading, laydown.share, feet.share = "lay", 46, 46
		return []spareColumn{icon, leave, feet, arrows, at, hit, converted}
	}
	return []spareColumn{icon, leave, feet, laydown, arrows, at, hit, converted, stays}
}

// spares writes a table with a row of the height for each leave.
func (p *page) spares(s spareSheet, high float64, narrow bool) {
	left, right := p.margin, p.Width-p.margin
	p.paragraph(s.Name, p.label, left, right-left, 2, ink)
	p.y += 0.3 * p.small.size
	columns := p.spareColumns(s, narrow)
	total, gap := 0.0, 0.6*p.small.size
	for _, c := range columns {
		total += c.share
	}
	scale := (right - left - gap*float64(len(columns)-1)) / total
	row := func(do func(c spareColumn, area box)) {
		x := left
		for _, c := range columns {
			do(c, box{x, p.y, x + scale*c.share, p.y + high})
			x += scale*c.share + gap
		}
	}
	row(func(c spareColumn, area box) {
		p.text(p.small.shorten(c.heading, area.width()), p.small, area.left, p.y, softInk)
	})
	p.y += p.small.leading() + 2
	for _, r := range s.Rows {
		p.line([]point{{left, p.y}, {right, p.y}}, stroke{color: faint, width: p.hairline})
		row(func(c spareColumn, area box) {
			if c.draw != nil {
				c.draw(r, area)
				return
			}
			l := p.small
			if c.heading == "leave" {
				l = p.label
			}
			words := c.text(r)
			for size := l.size; l.width(words) > area.width() && l.size > 0.7*size; {
				l.size *= 0.95
			}
			p.text(l.shorten(words, area.width()), l, area.left, middle(area)-l.height()/2, ink)
		})
		p.y += high
	}
	p.y += 0.5 * p.small.leading()
}

func middle(b box) float64 { return (b.top + b.bottom) / 2 }

// standing draws the ten spots from above, the head pin below, filled where a pin stands.
func (p *page) standing(l pins.Leave, area box) {
	// Spots lie 36 in across and 31 in deep.
	scale := min(area.width()/36, 0.68*(area.bottom-area.top)/31.2) / units.Inch
	radius := 2.7 * units.Inch * scale
	x, y := (area.left+area.right)/2, middle(area)+15.6*units.Inch*scale
	for i, spot := range pins.Spots {
		at := point{x - scale*spot[1], y - scale*spot[0]}
		if l.Has(i + 1) {
			p.disc(at, 1.25*radius, ink)
		} else {
			p.disc(at, 0.55*radius, faintMark)
		}
	}
}

// spareHit draws the boards at the pins: pins of the leave where they stand, the window
// and the ball at its size.
func (p *page) spareHit(r spareRow, hand ball.Hand, area box) {
	x := func(lateral float64) float64 { // + to the left
		return (area.left+area.right)/2 - lateral/lane.Width*area.width()
	}
	of := func(board float64) float64 {
		if hand == ball.Left {
			return x(-lane.Lateral(board))
		}
		return x(lane.Lateral(board))
	}
	y, h := middle(area), area.bottom-area.top
	p.line([]point{{area.left, y}, {area.right, y}}, stroke{color: faintMark, width: p.hairline})
	for i, spot := range pins.Spots {
		if r.Leave.Has(i + 1) {
			p.disc(point{x(spot[1]), y - 0.26*h}, 0.09*h, ink)
		}
	}
	if !r.Found {
		return
	}
	clamp := func(v float64) float64 { return min(max(v, area.left), area.right) }
	if r.Window != (physics.Window{}) {
		a, b := clamp(of(r.Window.Min)), clamp(of(r.Window.Max))
		p.rectangle(box{min(a, b), y - 0.09*h, max(a, b), y + 0.09*h}, spareWindow)
	}
	at := clamp(of(r.Board))
	p.area([]point{{at, y}, {at - 0.2*h, y + 0.34*h}, {at + 0.2*h, y + 0.34*h}}, p.shotStroke(0).color)
}

var spareWindow = color.NRGBA{0x86, 0xa3, 0xba, 0xff}

// converted draws the share as a bar with its interval, and writes it.
func (p *page) converted(r spareRow, area box) {
	words := percent(r.Share)
	room := p.small.width(percent(1)) + 0.4*p.small.size
	p.text(words, p.small, area.left+room-p.small.width(words)-0.4*p.small.size, middle(area)-p.small.height()/2, ink)
	bar := box{area.left + room, middle(area) - 0.16*(area.bottom-area.top), area.right, middle(area) + 0.16*(area.bottom-area.top)}
	p.rectangle(bar, gutterFill)
	if !r.Found {
		return
	}
	at := func(share float64) float64 { return bar.left + share*bar.width() }
	p.rectangle(box{bar.left, bar.top, at(r.Share), bar.bottom}, spareWindow)
	p.line([]point{{at(r.Low), middle(area)}, {at(r.High), middle(area)}}, stroke{color: ink, width: math.Max(p.rule, 1)})
}

// spareKey says how to read the table.
func (p *page) spareKey() {
	p.paragraph(glued("Boards are counted from the bowler's side; feet are the sliding foot's, by its distance from the ball. Dots: pins that stand; triangle: the middle of the ball at 60 ft; bar: the boards there from which more than half of the racks are converted. Converted: share of the bowler's own deliveries, with its 95 % interval as a line."), p.small, p.margin, p.Width-2*p.margin, 0, softInk)
}
