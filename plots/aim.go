package plots

import (
	"errors"
	"fmt"
	"image/color"
	"math"
)

// aimLine is a line on a map: boards at the laydown and at the arrows.
type aimLine struct{ Laydown, Arrows float64 }

// aimMap is the share of deliveries that hit, from 0 to 1, over lines: Share[i][j]
// belongs to Laydown[i] and Arrows[j], which increase.
type aimMap struct {
	Name            string // whose it is; may be empty if it is the only one
	Label           string // of the share, with its unit, percent
	Of              mapOf  // what it is the share of
	Laydown, Arrows []float64
	Share           [][]float64

	Best  aimLine
	Words string // beside the best line

	// Band, if not nil, is drawn above the map.
	Band *aimBand

	// Others are marked by numbers from 2 on.
	Others []aimLine
}

// aimRoom is by how much a line may miss in one thing: to either side, not a number
// if the miss does not end anywhere.
type aimRoom struct {
	Label     string    // with its unit
	Sides     [2]string // what the misses to the left and to the right of 0 are
	Decimals  int
	Misses    [][2]float64 // for each map
	Unlimited string       // stands at a miss that does not end
}

// aimFigure says what is to be drawn of a search for lines.
type aimFigure struct {
	Title string
	Note  string // a sentence under the title
	Maps  []aimMap
	Rooms []aimRoom
	Size  Size
}

// MaxAims is how many maps of lines a figure takes.
const MaxAims = MaxSweepPanels

// Measures of the figure.
const (
	aimBarHeight  = 0.62 // of a bar of room, over the size of type
	aimRoomGap    = 26   // points between bars of different things
	aimDot        = 1.5  // radius of the best line's mark, over a path's width
	roomLineWidth = 1.2  // of the line at no miss, over that of a rule
)

// bestMark is the colour of the best line: vermillion, which stands out of the
// ramp in colour, while the mark's ring and words do in grey.
var bestMark = color.NRGBA{0xd5, 0x5e, 0x00, 0xff}

// draw draws the share of hits over the lines, with contours and the best line
// marked, and below how much the best lines may miss in one thing alone.
//
// It is an error if there is no map or more than [MaxAims], if a map lacks values,
// or if a room has not a pair of misses for each map.
func (f aimFigure) draw() (*Drawing, error) {
	if n := len(f.Maps); n == 0 || n > MaxAims {
		return nil, fmt.Errorf("plots: %d maps of lines: a figure takes 1 to %d", n, MaxAims)
	}
	all := SweepMapFigure{}
	for _, m := range f.Maps {
		one := m.percent()
		if err := one.check(); err != nil {
			return nil, err
		}
		all.Maps = append(all.Maps, one)
	}
	for _, r := range f.Rooms {
		if len(r.Misses) != len(f.Maps) {
			return nil, errors.New("plots: a room needs two misses for each map")
		}
	}
	levels, decimals := all.levels("")
	p := titledPage(f.Title, f.Note, f.Size)
	var failed error
	p.panels(len(f.Maps), math.Inf(1), 0.8*p.body.leading(), func(i int, left, right float64) {
		failed = errors.Join(failed, p.aimMap(f.Maps[i], levels, decimals, left, right))
	})
	if failed != nil {
		return nil, failed
	}
	p.rooms(f)
	return p.finish(), nil
}

// percent is the map with shares in percent.
func (m aimMap) percent() SweepMap {
	s := SweepMap{X: m.Laydown, Y: m.Arrows, of: m.Of}
	for _, column := range m.Share {
		values := make([]float64, len(column))
		for j, v := range column {
			values[j] = 100 * v
		}
		s.Values = append(s.Values, values)
	}
	return s
}

// aimMap draws a map between left and right and moves the page on.
func (p *page) aimMap(m aimMap, levels []float64, decimals int, left, right float64) error {
	s := m.percent()
	if m.Name != "" {
		p.paragraph(m.Name, p.label, left, right-left, 2, ink)
	}
	if m.Band != nil {
		if err := p.aimBand(*m.Band, left, right); err != nil {
			return err
		}
	}
	p.text(p.small.shorten("upward: board at the arrows", right-left), p.small, left, p.y, softInk)
	p.y += 1.9 * p.small.size
	area := box{left + p.axisLeft, p.y, right - 0.7*p.small.size, 0}
	area.bottom = area.top + mapShape*area.width()
	p.mapIn(s, area, levels, levels[1:], decimals, nil, func(x, y scale, room *placer) { p.aimMarks(m, x, y, room) })
	p.text(p.small.shorten("board at the laydown", area.right-left), p.small, area.left, p.y, softInk)
	p.y += 1.6 * p.small.size
	p.mapScale(levels, decimals, area, ramps[m.Of])
	p.text(p.small.shorten(m.Label, area.right-left), p.small, area.left, p.y, softInk)
	p.y += p.small.leading()
	return nil
}

// aimMarks marks the lines: the best with its words, the others with numbers.
func (p *page) aimMarks(m aimMap, x, y scale, room *placer) {
	best := point{x.at(m.Best.Laydown), y.at(m.Best.Arrows)}
	p.bestPlace(best, room)
	for i, o := range m.Others {
		at := point{x.at(o.Laydown), y.at(o.Arrows)}
		text := fmt.Sprint(i + 2)
		half := 0.62 * p.small.size
		b := around(at, half)
		if !room.free(b) {
			continue
		}
		p.hollow(at, half, p.rule, softInk)
		p.centred(text, p.small, at, ink)
		room.take(b)
	}
	p.bestWords(best, m.Words, room)
}

// bestPlace marks a place of a map.
func (p *page) bestPlace(at point, room *placer) {
	radius := aimDot * p.pathWidth
	p.disc(at, radius+2, paper)
	p.disc(at, radius, bestMark)
	room.take(around(at, radius+2))
}

// bestWords writes words beside a place that is marked, where there is room.
func (p *page) bestWords(at point, words string, room *placer) {
	radius := aimDot * p.pathWidth
	b, anchor, ok := room.place(p.label.width(words), p.label.height(), []point{at})
	if !ok {
		return
	}
	if end := b.leaderEnd(anchor); distance(end, anchor) > radius+4 {
		p.line([]point{anchor, end}, stroke{color: ink, width: p.rule})
		p.disc(at, radius, bestMark)
	}
	p.rectangle(b.grown(1), plate)
	p.text(words, p.label, b.left, b.top, ink)
}

// rooms draws bars to both sides of no miss, a block for each thing.
func (p *page) rooms(f aimFigure) {
	if len(f.Rooms) == 0 {
		return
	}
	p.paragraph("How far the best line may miss in one thing alone and still hit the pocket", p.label, p.margin, p.inner(), 0, ink)
	p.y += 0.3 * p.label.size
	columns := len(f.Rooms)
	if p.narrow {
		columns = 1
	}
	width := (p.width - 2*p.margin - aimRoomGap*float64(columns-1)) / float64(columns)
	for i := 0; i < len(f.Rooms); i += columns {
		top, bottom := p.y, p.y
		for j, r := range f.Rooms[i:min(i+columns, len(f.Rooms))] {
			p.y = top
			p.room(f, r, p.margin+float64(j)*(width+aimRoomGap), width)
			bottom = max(bottom, p.y)
		}
		p.y = bottom + 0.4*p.body.leading()
	}
}

// room draws the bars of one thing.
func (p *page) room(f aimFigure, r aimRoom, left, width float64) {
	p.text(p.small.shorten(r.Label, width), p.small, left, p.y, ink)
	p.y += p.small.leading()
	numbers := p.small.width(r.Unlimited)
	most := 0.0
	for _, misses := range r.Misses {
		for _, v := range misses {
			if finite(v) {
				most = max(most, v)
				numbers = max(numbers, p.small.width(decimal(v, r.Decimals)))
			}
		}
	}
	if most == 0 {
		most = 1 // no bar has a length
	}
	middle, half := left+width/2, width/2-numbers-8
	for side, words := range r.Sides {
		at := middle + 6
		if side == 0 {
			at = middle - 6 - p.small.width(words)
		}
		p.text(words, p.small, at, p.y, softInk)
	}
	p.y += p.small.leading() + 2
	top := p.y
	for i, m := range f.Maps {
		if m.Name != "" {
			p.text(p.small.shorten(m.Name, width), p.small, left, p.y, softInk)
			p.y += p.small.leading() + 0.3*p.small.size
		}
		height := aimBarHeight * p.small.size
		for side, v := range r.Misses[i] {
			direction := float64(2*side - 1)
			text, long := decimal(v, r.Decimals), half*min(v/most, 1)
			if math.IsNaN(v) {
				text, long = r.Unlimited, half
			}
			end := middle + direction*long
			p.rectangle(box{min(middle, end), p.y, max(middle, end), p.y + height}, oilFull)
			at := end + 4
			if side == 0 {
				at = end - 4 - p.small.width(text)
			}
			p.text(text, p.small, at, p.y+height/2-p.small.height()/2, ink)
		}
		p.y += height + 0.5*p.small.size
		p.line([]point{{middle, p.y - height - 0.55*p.small.size}, {middle, p.y - 0.3*p.small.size}}, stroke{color: ink, width: roomLineWidth * p.rule})
	}
	p.y = max(p.y, top) + 0.3*p.small.size
}
