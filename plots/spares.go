package plots

import (
	"errors"
	"fmt"
	"math"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/pins"
	"lanesim/report"
	"lanesim/report/studied"
	"lanesim/studies"
	"lanesim/units"
)

// MaxSpareSheets is the largest number of bowlers, balls and lanes in a figure.
const MaxSpareSheets = 6

var errNoSpares = errors.New("plots: no line at a leave to draw")

// DrawSpares draws the lines below each other: the leave, where to stand and aim, what is hit
// at the pins, and how often it is converted. It is an error if there are none or more than
// [MaxSpareSheets] bowlers, balls and lanes.
func DrawSpares(w *studied.Spares, size Size) (*Drawing, error) {
	if n := len(w.Players); n > MaxSpareSheets {
		return nil, fmt.Errorf("plots: %d bowlers, balls and lanes: a figure of spares takes %d", n, MaxSpareSheets)
	}
	p := titledPage(w.Title, w.Note(), size)
	drawn := 0
	for i, lines := range w.Lines {
		if drawn += len(lines); len(lines) > 0 {
			p.spares(w.Players[i], lines, 2.1*p.small.leading(), size == Phone)
		}
	}
	if drawn == 0 {
		return nil, errNoSpares
	}
	p.spareKey()
	return p.finish(), nil
}

// SparePages draws each bowler, ball and lane on a page of paper. It is an error if there
// is nothing to draw or if a page does not hold its rows.
func SparePages(w *studied.Spares, paper Paper) ([]*Drawing, error) {
	var pages []*Drawing
	for i, lines := range w.Lines {
		if len(lines) == 0 {
			continue
		}
		p := newSheetPage(w.Title, paper, sheetSizes[0])
		p.top(w.Title)
		p.paragraph(w.Note(), p.body, p.margin, p.inner(), 0, softInk)
		p.y += 6
		const rest = 62 // for headings and the key
		room := p.paper.Height - p.foot() - p.y - rest
		high := min(30, room/float64(len(lines)))
		if high < 1.3*p.small.leading() {
			return nil, fmt.Errorf("plots: a page takes %d leaves, not %d", int(room/(1.3*p.small.leading())), len(lines))
		}
		p.spares(w.Players[i], lines, high, false)
		p.spareKey()
		pages = append(pages, p.Drawing)
	}
	if len(pages) == 0 {
		return nil, errNoSpares
	}
	return pages, nil
}

// spareColumn is a column of a table of spares: its heading, its share of the width, and
// its text or drawing.
type spareColumn struct {
	heading string
	share   float64
	text    func(l studied.SpareLine) string
	draw    func(l studied.SpareLine, area box)
}

// spareColumns are the columns of a sheet; narrow leaves out what can be drawn alone.
func (p *page) spareColumns(hand ball.Hand, narrow bool) []spareColumn {
	column := func(heading string, share float64, of func(l studied.SpareLine) string) spareColumn {
		return spareColumn{heading: heading, share: share, text: func(l studied.SpareLine) string {
			if !l.Found {
				return "–"
			}
			return of(l)
		}}
	}
	icon := spareColumn{"", 34, nil, func(l studied.SpareLine, area box) { p.standing(l.Leave, area) }}
	leave := spareColumn{"leave", 78, func(l studied.SpareLine) string { return l.Leave.String() }, nil}
	feet := column("feet", 44, func(l studied.SpareLine) string { return report.Board.Show(l.Feet) })
	laydown := column("laydown", 58, func(l studied.SpareLine) string { return report.Board.Show(l.Release.Laydown) })
	arrows := column("arrows", 52, func(l studied.SpareLine) string { return report.Board.Show(l.Arrows) })
	at := column("at 60 ft", 56, func(l studied.SpareLine) string { return report.Board.Show(l.Entry.Board) })
	hit := spareColumn{"ball and window", 160, nil, func(l studied.SpareLine, area box) { p.spareHit(l, hand, area) }}
	converted := spareColumn{"converted", 122, nil, p.converted}
	stays := column("then stays", 74, func(l studied.SpareLine) string {
		if l.MostLeft() == 0 {
			return "–"
		}
		return l.MostLeft().String()
	})
	if narrow {
		leave.share, arrows.share, at.heading, at.share, converted.share, feet.share = 82, 62, "60 ft", 54, 116, 46
		return []spareColumn{icon, leave, feet, arrows, at, hit, converted}
	}
	return []spareColumn{icon, leave, feet, laydown, arrows, at, hit, converted, stays}
}

// spares writes a table with a row of the height for each leave.
func (p *page) spares(t studied.Player, lines []studied.SpareLine, high float64, narrow bool) {
	left, right := p.margin, p.Width-p.margin
	p.paragraph(t.Bowler+" with "+t.Ball+" on "+t.Lane, p.label, left, right-left, 2, ink)
	p.y += 0.3 * p.small.size
	columns := p.spareColumns(t.Setup.Release.Hand, narrow)
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
	for _, r := range lines {
		p.line([]point{{left, p.y}, {right, p.y}}, p.grid())
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
			p.text(l.shorten(words, area.width()), l, area.left, area.centre().y-l.height()/2, ink)
		})
		p.y += high
	}
	p.y += 0.5 * p.small.leading()
}

// standing draws the ten spots from above, the head pin below, filled where a pin stands.
func (p *page) standing(l pins.Leave, area box) {
	// Spots lie 36 in across and 31 in deep.
	scale := min(area.width()/36, 0.68*area.height()/31.2) / units.Inch
	radius := 2.7 * units.Inch * scale
	head := area.centre()
	head.y += 15.6 * units.Inch * scale
	for i, spot := range pins.Spots {
		at := point{head.x - scale*spot[1], head.y - scale*spot[0]}
		if l.Has(i + 1) {
			p.disc(at, 1.25*radius, ink)
		} else {
			p.disc(at, 0.55*radius, faintMark)
		}
	}
}

// spareHit draws the boards at the pins: pins of the leave where they stand, the window
// and the ball at its size.
func (p *page) spareHit(l studied.SpareLine, hand ball.Hand, area box) {
	middle, h := area.centre(), area.height()
	x := func(lateral float64) float64 { return middle.x - lateral/lane.Width*area.width() } // + to the left
	at := func(board float64) float64 {
		lateral := lane.Lateral(board)
		if hand == ball.Left {
			lateral = -lateral
		}
		return min(max(x(lateral), area.left), area.right)
	}
	y := middle.y
	p.line([]point{{area.left, y}, {area.right, y}}, stroke{color: faintMark, width: p.hairline})
	for i, spot := range pins.Spots {
		if l.Leave.Has(i + 1) {
			p.disc(point{x(spot[1]), y - 0.26*h}, 0.09*h, ink)
		}
	}
	if !l.Found {
		return
	}
	if l.Window != (physics.Window{}) {
		a, b := at(l.Window.Min), at(l.Window.Max)
		p.rectangle(box{min(a, b), y - 0.09*h, max(a, b), y + 0.09*h}, oilFull)
	}
	middle.x = at(l.Entry.Board)
	p.area([]point{middle, {middle.x - 0.2*h, y + 0.34*h}, {middle.x + 0.2*h, y + 0.34*h}}, p.shotStroke(0).color)
}

// converted draws the share as a bar with its interval, and writes it.
func (p *page) converted(l studied.SpareLine, area box) {
	percent := func(share float64) string { return report.Fixed(100*share, 0) + noBreak + "%" }
	share, within := l.Converted.Share(), studies.WilsonInterval(l.Converted)
	gap, middle := 0.4*p.small.size, area.centre().y
	room := p.small.width(percent(1)) + gap
	p.endingAt(percent(share), p.small, point{area.left + room - gap, middle}, ink)
	bar := box{area.left + room, middle - 0.16*area.height(), area.right, middle + 0.16*area.height()}
	p.rectangle(bar, gutterFill)
	if !l.Found {
		return
	}
	at := func(share float64) float64 { return bar.left + share*bar.width() }
	p.rectangle(box{bar.left, bar.top, at(share), bar.bottom}, oilFull)
	p.line([]point{{at(within.Low), middle}, {at(within.High), middle}}, stroke{color: ink, width: math.Max(p.rule, 1)})
}

// spareKey explains the table.
func (p *page) spareKey() {
	p.paragraph(glued("Boards are counted from the bowler's side; feet are the sliding foot's, by its distance from the ball. Dots: pins that stand; triangle: the middle of the ball at 60 ft; bar: the boards there from which more than half of the racks are converted. Converted: share of the bowler's own deliveries, with its 95 % interval as a line."), p.small, p.margin, p.Width-2*p.margin, 0, softInk)
}
