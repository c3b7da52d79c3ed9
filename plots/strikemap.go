package plots

import (
	"math"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/studied"
	"lanesim/report/thrown"
)

// drawStrikes draws the share of strikes over board and angle with contours, with the
// words for hits above and a mark where the line enters. It is an error if there is no map or
// more than [MaxSweepPanels], or if one lacks values.
func drawStrikes(w *studied.Carry, size Size) (*Drawing, error) {
	var f SweepMapFigure
	for _, m := range w.Maps {
		var degrees []float64
		for _, a := range m.Angles {
			degrees = append(degrees, report.Degree.In(a))
		}
		f.Maps = append(f.Maps, shareMap(m.Boards, degrees, m.Strikes, mapOfStrikes))
	}
	if err := f.check(); err != nil {
		return nil, err
	}
	levels, decimals := f.levels("")
	p := titledPage(w.Title, w.Note(), size)
	p.panels(len(f.Maps), math.Inf(1), 0.8*p.body.leading(), func(i int, left, right float64) {
		m := f.Maps[i]
		p.paragraph(playerName(w.Players, i), p.label, left, right-left, 2, ink)
		p.text(p.small.shorten("upward: entry angle, deg", right-left), p.small, left, p.y, softInk)
		p.y += 1.9 * p.small.size
		area := p.mapArea(left+p.axisLeft, right, p.y+2.4*p.small.size)
		p.mapIn(m, area, levels, levels[1:], decimals, nil, func(x, y scale, room *placer) {
			p.hits(m, thrown.Pocket(w.Studies[i].Settings, w.Players[i].Setup.Release), x, area)
			entry := w.Results[i].Entry
			if at := (point{x.at(entry.Board), y.at(report.Degree.In(entry.Heading))}); area.holds(at) {
				p.bestPlace(at, room)
				p.bestWords(at, "the line", room)
			}
		})
		p.paragraph("board of the ball's middle at the head pin's distance (60 ft), from the bowler's side", p.small, area.left, area.width(), 2, softInk)
		p.y += 0.6 * p.small.size
		p.mapScale(levels, decimals, area, ramps[mapOfStrikes])
		p.paragraph("strikes, %, assumed", p.small, area.left, area.width(), 2, softInk)
	})
	return p.finish(), nil
}

// hitWords returns the words for hits and the boards at which they begin, within an axis.
func hitWords(boards []float64, pocket physics.Window) (words []string, from []float64) {
	const step = 0.25 / 8
	for b := boards[0]; b < boards[len(boards)-1]; b += step {
		if word := string(physics.HitAt(b, pocket)); len(words) == 0 || words[len(words)-1] != word {
			words, from = append(words, word), append(from, b)
		}
	}
	return words, append(from, boards[len(boards)-1])
}

// hits writes the words for hits above the map, in two rows where they are narrow.
func (p *page) hits(m SweepMap, pocket physics.Window, x scale, area box) {
	words, from := hitWords(m.X, pocket)
	free := [2]float64{area.left - 2, area.left - 2}
	for i, word := range words {
		a, b := x.at(from[i]), x.at(from[i+1])
		if i > 0 {
			p.line([]point{{a, area.top}, {a, area.bottom}}, stroke{color: faintMark, width: p.hairline, dash: []float64{2, 2}})
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
