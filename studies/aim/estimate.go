package aim

import (
	"math"

	"lanesim/lane"
	racks "lanesim/pins"
	"lanesim/studies"
	"lanesim/units"
)

// searchDraws is the number of the first delivery of the search: lines are picked by other deliveries than
// those from which their shares are counted.
const searchDraws = 1 << 40

// estimates is the number of deliveries of an interpolated share.
const estimates = 2000

// lineEstimate is the interpolated share of a line.
type lineEstimate struct {
	laydown, arrows    float64
	ByMeasure[float64]         // strikes only where lines are judged by them
	off                float64 // boards from the middle of the pocket without deviations; +Inf in the gutter
}

// above reports whether a line is better: by its share or, if shares are equal, by the other share, then by
// the distance from the pocket.
func (e lineEstimate) above(o lineEstimate, m Measure) bool {
	switch a, b := e.Of(m), o.Of(m); {
	case a != b:
		return a > b
	case e.Pocket != o.Pocket:
		return e.Pocket > o.Pocket
	case e.Good != o.Good:
		return e.Good > o.Good
	}
	return e.off < o.off
}

type lineEstimator struct {
	*lineTable
	x        [][studies.VariedCount]float64 // deviations
	tangents []float64                      // of those of the angle
}

func (t *lineTable) estimator() lineEstimator {
	e := lineEstimator{lineTable: t, x: make([][studies.VariedCount]float64, estimates), tangents: make([]float64, estimates)}
	for k := range e.x {
		e.x[k] = t.scatter.Deviations(studies.DrawDeviates(t.search.Seed, searchDraws+uint64(k)))
		e.tangents[k] = math.Tan(e.x[k][studies.VariedAngle])
	}
	return e
}

func (e lineEstimator) estimate(laydown, arrows float64) lineEstimate {
	result := lineEstimate{laydown: laydown, arrows: arrows, off: math.Inf(1)}
	p, pins := e.place(laydown, arrows)
	entry := math.NaN()
	if pins {
		entry, _ = e.without(p)
		result.off = math.Abs(entry - e.middle)
	}
	window, goodAngle := e.search.Settings.PocketOf(e.about)
	pocket, good := 0, 0
	strikes := e.search.By == ByStrikeShare
	for k := range e.x {
		board, angle, ok := e.delivery(laydown, arrows, &e.x[k], e.tangents[k])
		if ok && strikes {
			result.Strikes += racks.Stored().Strikes(racks.Entry{Board: board, Angle: angle, Mass: e.search.Setup.Ball.Mass, Speed: e.speed}) / estimates
		}
		if ok && window.Contains(board) {
			pocket++
			if goodAngle.Contains(angle) {
				good++
			}
		}
	}
	result.Pocket, result.Good = float64(pocket)/estimates, float64(good)/estimates
	if pins {
		morePocket, moreGood := e.correction(laydown, arrows, entry)
		result.Pocket = min(max(result.Pocket+morePocket, 0), 1)
		result.Good = min(max(result.Good+moreGood, 0), result.Pocket)
	}
	return result
}

// delivery interpolates board and angle at the pins of a delivery about a line with deviations x; byAngle is
// the tangent of its deviation in angle, and ok reports whether it reaches the pins.
func (e lineEstimator) delivery(laydown, arrows float64, x *[studies.VariedCount]float64, byAngle float64) (board, angle float64, ok bool) {
	reach := studies.ReachOfArrows(e.about)
	tangent := (laydown - arrows) / reach
	// tan(θ + x) by the addition theorem.
	leaning := (tangent + byAngle) / (1 - tangent*byAngle)
	from := min(max(laydown+x[studies.VariedLaydown], 1), lane.Boards)
	p, ok := e.place(from, from-reach*leaning)
	if !ok {
		return 0, 0, false
	}
	board, angle = e.without(p)
	for o, v := range besidesLine {
		if e.sigmas[v] == 0 {
			continue
		}
		b, a := e.bendAt(p, o)
		board += (b[0] + b[1]*x[v]) * x[v]
		angle += (a[0] + a[1]*x[v]) * x[v]
	}
	return board, angle, true
}

// tablePlace is the place of a line in the table: the node before it, and the distances from it in steps.
type tablePlace struct {
	node int
	u, w float64
}

// place returns the place of a line, and whether the balls of all nodes about it stay on the lane.
func (t *lineTable) place(laydown, arrows float64) (tablePlace, bool) {
	u, w := (laydown-t.laydown)/laydownStep, (arrows-t.arrows)/arrowsStep
	if !(u >= 0 && w >= 0 && u <= float64(t.rows-1) && w <= float64(t.columns-1)) {
		return tablePlace{}, false
	}
	i, j := min(int(u), max(t.rows-2, 0)), min(int(w), t.columns-2)
	p := tablePlace{i*t.columns + j, u - float64(i), w - float64(j)}
	c := t.corners(p)
	return p, c[0].pins && c[1].pins && c[2].pins && c[3].pins
}

// corners returns the four nodes about a place; at the edge of the table nodes are repeated.
func (t *lineTable) corners(p tablePlace) [4]*lineNode {
	n, below := t.nodes[p.node:], t.columns
	if t.rows == 1 {
		below = 0
	}
	return [4]*lineNode{&n[0], &n[1], &n[below], &n[below+1]}
}

// without interpolates board and angle of a shot without deviations, by cubic convolution (Keys, IEEE Trans.
// ASSP 29, 1981) or, where not all nodes are known, bilinearly.
func (t *lineTable) without(p tablePlace) (board, angle float64) {
	i, j := p.node/t.columns, p.node%t.columns
	cubic := i > 0 && i+2 < t.rows && j > 0 && j+2 < t.columns
	for a := -1; a <= 2 && cubic; a++ {
		for b := -1; b <= 2; b++ {
			if !t.nodes[p.node+a*t.columns+b].pins {
				cubic = false
				break
			}
		}
	}
	if !cubic {
		blend := func(a, b, c, d float64) float64 {
			return (1-p.u)*((1-p.w)*a+p.w*b) + p.u*((1-p.w)*c+p.w*d)
		}
		n := t.corners(p)
		return blend(n[0].board, n[1].board, n[2].board, n[3].board), blend(n[0].angle, n[1].angle, n[2].angle, n[3].angle)
	}
	us, ws := keysWeights(p.u), keysWeights(p.w)
	for a := range 4 {
		row := p.node + (a-1)*t.columns - 1
		for b := range 4 {
			f := us[a] * ws[b]
			board += f * t.nodes[row+b].board
			angle += f * t.nodes[row+b].angle
		}
	}
	return board, angle
}

// keysWeights returns the weights of four nodes for cubic convolution.
func keysWeights(u float64) [4]float64 {
	return [4]float64{
		u * (-0.5 + u*(1-0.5*u)),
		1 + u*u*(-2.5+1.5*u),
		u * (0.5 + u*(2-1.5*u)),
		u * u * (-0.5 + 0.5*u),
	}
}

// bendAt interpolates the effect of a deviation bilinearly.
func (t *lineTable) bendAt(p tablePlace, o int) (board, angle [2]float64) {
	weights := [4]float64{(1 - p.u) * (1 - p.w), (1 - p.u) * p.w, p.u * (1 - p.w), p.u * p.w}
	for c, m := range t.corners(p) {
		for q := range 2 {
			board[q] += weights[c] * m.boardBy[o][q]
			angle[q] += weights[c] * m.angleBy[o][q]
		}
	}
	return board, angle
}

// permitted reports whether a line is within the limits and within the launch angles searched.
func (t *lineTable) permitted(laydown, arrows float64) bool {
	l := t.search.Limits
	return l.Laydown.Contains(laydown) && l.Arrows.Contains(arrows) &&
		math.Abs(studies.AngleOverArrows(t.about, laydown, arrows)) <= widestAngle*units.Degree
}
