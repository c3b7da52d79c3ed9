package plots

import (
	"fmt"
	"math"

	"lanesim/physics"
)

// strikeMap is the share of strikes, from 0 to 1, over boards and angles at which the
// ball enters: Share[i][j] belongs to Boards[i] and Degrees[j], which increase.
type strikeMap struct {
	Name            string // whose it is; may be empty if it is the only one
	Boards, Degrees []float64
	Share           [][]float64

	Board, Angle float64 // where the line enters; angle in degrees
	Words        string  // beside it

	Pocket physics.Window
}

// strikeMapFigure says what is to be drawn of strikes.
type strikeMapFigure struct {
	Title string
	Note  string // a sentence under the title
	Maps  []strikeMap
	Size  Size
}

// draw draws the share of strikes over board and angle with contours, with the
// words for hits above and a mark where the line enters. The errors are those of
// [SweepMaps].
func (f strikeMapFigure) draw() (*Drawing, error) {
	if n := len(f.Maps); n == 0 || n > MaxSweepPanels {
		return nil, fmt.Errorf("plots: %d maps of strikes: a figure takes 1 to %d", n, MaxSweepPanels)
	}
	all := SweepMapFigure{}
	for _, m := range f.Maps {
		one := m.percent()
		if err := one.check(); err != nil {
			return nil, err
		}
		all.Maps = append(all.Maps, one)
	}
	levels, decimals := all.levels("")
	p := titledPage(f.Title, f.Note, f.Size)
	p.panels(len(f.Maps), math.Inf(1), 0.8*p.body.leading(), func(i int, left, right float64) { p.strikeMap(f.Maps[i], levels, decimals, left, right) })
	return p.finish(), nil
}

func (m strikeMap) percent() SweepMap {
	return aimMap{Laydown: m.Boards, Arrows: m.Degrees, Share: m.Share, Of: mapOfStrikes}.percent()
}

// hitWords are the hits from board to board, as far as an axis shows them.
func (m strikeMap) hitWords() (words []string, from []float64) {
	const step = 0.25 / 8
	for b := m.Boards[0]; b < m.Boards[len(m.Boards)-1]; b += step {
		if word := string(physics.HitAt(b, m.Pocket)); len(words) == 0 || words[len(words)-1] != word {
			words, from = append(words, word), append(from, b)
		}
	}
	return words, append(from, m.Boards[len(m.Boards)-1])
}

// strikeMap draws a map between left and right and moves the page on.
func (p *page) strikeMap(m strikeMap, levels []float64, decimals int, left, right float64) {
	if m.Name != "" {
		p.paragraph(m.Name, p.label, left, right-left, 2, ink)
	}
	p.text(p.small.shorten("upward: entry angle, deg", right-left), p.small, left, p.y, softInk)
	p.y += 1.9 * p.small.size
	s := m.percent()
	area := box{left + p.axisLeft, p.y + 2.4*p.small.size, right - 0.7*p.small.size, 0}
	area.bottom = area.top + mapShape*area.width()
	p.mapIn(s, area, levels, levels[1:], decimals, nil, func(x, y scale, room *placer) {
		p.hits(m, x, area)
		p.enters(m, x, y, room)
	})
	p.paragraph("board of the ball's middle at the head pin's distance (60 ft), from the bowler's side", p.small, area.left, area.right-area.left, 2, softInk)
	p.y += 0.6 * p.small.size
	p.mapScale(levels, decimals, area, ramps[mapOfStrikes])
	p.paragraph("strikes, %, assumed", p.small, area.left, area.right-area.left, 2, softInk)
}

// hits writes the words for hits above the map, in two rows where they are narrow.
func (p *page) hits(m strikeMap, x scale, area box) {
	words, from := m.hitWords()
	free := [2]float64{area.left - 2, area.left - 2}
	for i, word := range words {
		a, b := x.at(from[i]), x.at(from[i+1])
		if i > 0 {
			p.line([]point{{a, area.top - 5}, {a, area.bottom}}, stroke{color: faintMark, width: p.hairline, dash: []float64{2, 2}})
		}
		w := p.small.width(word)
		left := min(max((a+b)/2-w/2, area.left), area.right-w)
		for row, top := range []float64{area.top - 1.2*p.small.size, area.top - 2.4*p.small.size} {
			if left >= free[row] {
				p.text(word, p.small, left, top, softInk)
				free[row] = left + w + 0.5*p.small.size
				break
			}
		}
	}
}

// enters marks where the line enters.
func (p *page) enters(m strikeMap, x, y scale, room *placer) {
	if m.Board < x.min || m.Board > x.max || m.Angle < y.min || m.Angle > y.max {
		return
	}
	at := point{x.at(m.Board), y.at(m.Angle)}
	p.bestPlace(at, room)
	p.bestWords(at, m.Words, room)
}
