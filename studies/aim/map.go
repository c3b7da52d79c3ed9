package aim

import (
	"math"
	"slices"

	"lanesim/internal/portable"
	"lanesim/physics"
	"lanesim/studies"
)

// A map has steps of fineStep boards within fineWithin boards of the best line.
const (
	fineWithin = 2.0
	fineStep   = 0.25
)

// reachOfCount is the distance in boards over which the difference between a counted share and the
// interpolated one fades.
const reachOfCount = 1.0

// finer adds boards about a middle to those of an axis, within a window.
func finer(axis []float64, middle float64, within physics.Window) []float64 {
	all := slices.Clone(axis)
	for d := -fineWithin; d <= fineWithin; d += fineStep {
		if at := middle + d; within.Contains(at) && at > axis[0] && at < axis[len(axis)-1] {
			all = append(all, at)
		}
	}
	slices.Sort(all)
	// Nearly equal boards make no cell of their own; the middle itself stays.
	const apart = 0.05
	var kept []float64
	for _, at := range all {
		if n := len(kept); n > 0 && at-kept[n-1] < apart {
			if at == middle {
				kept[n-1] = at
			}
			continue
		}
		kept = append(kept, at)
	}
	return kept
}

// lineMap returns the shares of the lines of a table within the limits, finer about the best line. At the
// lines of the result it uses their counted shares.
func (s *lineSearch) lineMap(t lineTrace, result Result) (Map, error) {
	var m Map
	for i := range t.table.rows {
		if laydown, _ := t.table.line(i * t.table.columns); s.Limits.Laydown.Contains(laydown) {
			m.Laydown = append(m.Laydown, laydown)
		}
	}
	for j := range t.table.columns {
		if _, arrows := t.table.line(j); s.Limits.Arrows.Contains(arrows) {
			m.Arrows = append(m.Arrows, arrows)
		}
	}
	if len(m.Laydown) > 1 && len(m.Arrows) > 1 {
		m.Laydown = finer(m.Laydown, result.Best.Release.Laydown, s.Limits.Laydown)
		m.Arrows = finer(m.Arrows, result.Best.Arrows, s.Limits.Arrows)
	}
	e := t.table.estimator()
	counted := s.counted(t, e, result)
	shown := measures[:2]
	if s.By == ByStrikeShare {
		shown = measures[:]
	}
	for _, by := range shown {
		*m.at(by) = make([][]float64, len(m.Laydown))
	}
	err := studies.InParallel(s.ctx, s.Workers, len(m.Laydown), nil, func(_ *physics.Thrower, i int) error {
		for _, by := range shown {
			m.Of(by)[i] = make([]float64, len(m.Arrows))
		}
		for j := range m.Arrows {
			if !t.table.nearLine(m.Laydown[i], m.Arrows[j]) {
				continue
			}
			one := counted.correct(e.estimate(m.Laydown[i], m.Arrows[j]))
			for _, by := range shown {
				m.Of(by)[i][j] = one.Of(by)
			}
		}
		return nil
	})
	return m, err
}

// Within returns the part of a map within windows of boards.
func (m Map) Within(laydown, arrows physics.Window) Map {
	inside := func(axis []float64, w physics.Window) []float64 {
		return slices.DeleteFunc(slices.Clone(axis), func(board float64) bool { return !w.Contains(board) })
	}
	part := Map{Laydown: inside(m.Laydown, laydown), Arrows: inside(m.Arrows, arrows)}
	for _, by := range measures {
		for i, row := range m.Of(by) {
			if !laydown.Contains(m.Laydown[i]) {
				continue
			}
			var kept []float64
			for j, share := range row {
				if arrows.Contains(m.Arrows[j]) {
					kept = append(kept, share)
				}
			}
			*part.at(by) = append(part.Of(by), kept)
		}
	}
	return part
}

// countedLine is a line with its counted shares minus the interpolated ones.
type countedLine struct {
	laydown, arrows float64
	ByMeasure[float64]
}

type countedLines []countedLine

// counted returns the lines of a result at the speed and axis rotation of the map.
func (s *lineSearch) counted(t lineTrace, e lineEstimator, result Result) countedLines {
	var all countedLines
	for _, l := range append([]Line{result.Best}, result.RunnersUp...) {
		if l.Release.Speed != t.release.Speed || l.Release.AxisRotation != t.release.AxisRotation {
			continue
		}
		one := e.estimate(l.Release.Laydown, l.Arrows)
		c := countedLine{laydown: l.Release.Laydown, arrows: l.Arrows}
		for _, by := range measures {
			*c.at(by) = l.Of(by).Share() - one.Of(by)
		}
		all = append(all, c)
	}
	return all
}

// correct adds the differences of the counted lines near an estimate, with a Gaussian weight of the distance
// that is 1 at the line itself and nearly 0 at three boards, the least distance between lines.
func (c countedLines) correct(one lineEstimate) lineEstimate {
	for _, l := range c {
		d := portable.Hypot(one.laydown-l.laydown, one.arrows-l.arrows) / reachOfCount
		w := portable.Exp(-d * d)
		for _, by := range measures {
			*one.at(by) = max(0, min(1, one.Of(by)+w*l.Of(by)))
		}
	}
	return one
}

// nearLine reports whether the node next to a line comes near the pocket.
func (t *lineTable) nearLine(laydown, arrows float64) bool {
	i, j := int(math.Round((laydown-t.laydown)/laydownStep)), int(math.Round((arrows-t.arrows)/arrowsStep))
	return i >= 0 && i < t.rows && j >= 0 && j < t.columns && t.nearPocket(i*t.columns+j)
}
