package aim

import (
	"context"
	"math"
	"slices"
	"sort"

	"lanesim/physics"
	"lanesim/studies"
)

// linesApart is the least difference between returned lines, in boards at the laydown or at the arrows.
const linesApart = 3.0

// screened is the number of lines that are thrown to choose the best of them, and screening the number of
// deliveries of each.
const (
	screened  = 6
	screening = 500
)

// roundLine is the number of parts of a board to which lines are rounded: nobody aims more accurately.
const roundLine = 100

// leastStep is the least move in boards that improves a line: smaller moves do not change shares by as much
// as 2000 deliveries can show.
const leastStep = 0.05

// freeLevels is the number of values of a free speed or axis rotation tried first, and halvings how often the
// step between them is halved about the best.
const (
	freeLevels = 4
	halvings   = 2
)

// leastGood is the share at a good angle below which the search uses the pocket share: otherwise the few
// deliveries that scatter into the window would decide.
const leastGood = 0.02

type lineSearch struct {
	Search
	ctx    context.Context
	thrown int
}

// pickedLine is a line picked by its interpolated share.
type pickedLine struct {
	lineEstimate
	release physics.Release
}

// throw throws a shot and keeps only its end.
func (s *lineSearch) throw(thrower *physics.Thrower, r physics.Release) (physics.Shot, error) {
	settings := s.Settings
	settings.EndOnly = true
	return thrower.Throw(s.Setup.Lane, s.Setup.Ball, r, settings)
}

// parallel does n jobs of some shots each.
func (s *lineSearch) parallel(n, shots int, job func(*physics.Thrower, int) error) error {
	if n == 0 {
		return s.ctx.Err()
	}
	s.thrown += n * shots
	return studies.InParallel(s.ctx, s.Workers, n, s.Progress, job)
}

// lineTrace is the table and the picked lines at one speed and axis rotation.
type lineTrace struct {
	release physics.Release
	table   *lineTable
	picked  []pickedLine // the better first
}

func (s *lineSearch) run() (Result, error) {
	traces, err := s.traces()
	if err != nil {
		return Result{}, err
	}
	if !s.hasGood(traces) {
		if err := s.goByPocket(traces); err != nil {
			return Result{}, err
		}
	}
	result, err := s.bestLine(traces)
	if err == nil && s.By == ByGoodShare && result.Best.Good.Share() < leastGood {
		// The interpolated shares were too large.
		if err = s.goByPocket(traces); err == nil {
			result, err = s.bestLine(traces)
		}
	}
	if err != nil {
		return Result{}, err
	}
	for _, t := range traces {
		if t.release.Speed == result.Best.Release.Speed && t.release.AxisRotation == result.Best.Release.AxisRotation {
			if result.Map, err = s.lineMap(t, result); err != nil {
				return Result{}, err
			}
		}
	}
	if result.Room, err = s.room(result.Best.Release); err != nil {
		return Result{}, err
	}
	result.Edges = s.edges(result.Best)
	if s.Search.Band {
		if result.Band, err = s.band(result.Best, result.Room); err != nil {
			return Result{}, err
		}
	}
	result.Shots = s.thrown
	return result, nil
}

// hasGood reports whether the search can use the requested measure.
func (s *lineSearch) hasGood(traces []lineTrace) bool {
	return s.By != ByGoodShare || slices.ContainsFunc(allPicked(traces), func(p pickedLine) bool { return p.Good >= leastGood })
}

func allPicked(traces []lineTrace) (all []pickedLine) {
	for _, t := range traces {
		all = append(all, t.picked...)
	}
	return all
}

func (s *lineSearch) goByPocket(traces []lineTrace) error {
	s.By = ByPocketShare
	for i := range traces {
		if err := s.pick(&traces[i]); err != nil {
			return err
		}
	}
	return nil
}

// bestLine throws the best of the picked lines, and counts the shares of the best of these.
func (s *lineSearch) bestLine(traces []lineTrace) (Result, error) {
	all, few := allPicked(traces), []pickedLine(nil)
	sort.SliceStable(all, func(i, j int) bool { return all[i].above(all[j].lineEstimate, s.By) })
	for _, p := range all {
		if len(few) < screened && !slices.ContainsFunc(few, p.alike) {
			few = append(few, p)
		}
	}
	if len(few) == 0 || few[0].Pocket == 0 {
		return Result{}, s.noLine(traces)
	}
	few, err := s.screen(few)
	if err != nil {
		return Result{}, err
	}
	result := Result{By: s.By}
	err = s.count(&result, few)
	return result, err
}

// alike reports whether two lines are too close to return both.
func (p pickedLine) alike(o pickedLine) bool {
	return p.release.Speed == o.release.Speed && p.release.AxisRotation == o.release.AxisRotation && !isApart(p.laydown, p.arrows, []lineEstimate{o.lineEstimate})
}

// traces searches at each speed and axis rotation within the limits.
func (s *lineSearch) traces() ([]lineTrace, error) {
	var all []lineTrace
	at := func(speed, rotation float64) error {
		if slices.ContainsFunc(all, func(t lineTrace) bool { return t.release.Speed == speed && t.release.AxisRotation == rotation }) {
			return nil
		}
		t := lineTrace{release: s.Setup.Release}
		t.release.Speed, t.release.AxisRotation = speed, rotation
		var err error
		if t.table, err = s.table(t.release); err != nil {
			return err
		}
		if err := s.pick(&t); err != nil {
			return err
		}
		all = append(all, t)
		return nil
	}
	speeds, speedStep := levelsOf(s.Limits.Speed)
	rotations, rotationStep := levelsOf(s.Limits.AxisRotation)
	for _, speed := range speeds {
		for _, rotation := range rotations {
			if err := at(speed, rotation); err != nil {
				return nil, err
			}
		}
	}
	for range halvings {
		if len(speeds)*len(rotations) == 1 {
			break
		}
		speedStep, rotationStep = speedStep/2, rotationStep/2
		best := s.bestOf(all).release
		for _, side := range [4][2]float64{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
			speed, rotation := best.Speed+side[0]*speedStep, best.AxisRotation+side[1]*rotationStep
			if !s.Limits.Speed.Contains(speed) || !s.Limits.AxisRotation.Contains(rotation) {
				continue
			}
			if err := at(speed, rotation); err != nil {
				return nil, err
			}
		}
	}
	return all, nil
}

// bestOf returns the lineTrace with the best line.
func (s *lineSearch) bestOf(all []lineTrace) lineTrace {
	best := all[0]
	for _, t := range all[1:] {
		if len(t.picked) > 0 && (len(best.picked) == 0 || t.picked[0].above(best.picked[0].lineEstimate, s.By)) {
			best = t
		}
	}
	return best
}

// levelsOf returns the values tried within a window, and the step between them.
func levelsOf(w physics.Window) (list []float64, step float64) {
	if w.Min == w.Max {
		return []float64{w.Min}, 0
	}
	step = (w.Max - w.Min) / (freeLevels - 1)
	for i := range freeLevels {
		list = append(list, w.Min+float64(i)*step)
	}
	list[freeLevels-1] = w.Max
	return list, step
}

// pick finds the best lines of a table by their interpolated shares, with a distance between them, among the
// lines to the middle of the pocket and those of the grid. It then moves each for as long as its share rises.
func (s *lineSearch) pick(t *lineTrace) error {
	e := t.table.estimator()
	lines := t.table.crossings()
	for k := range t.table.nodes {
		if laydown, arrows := t.table.line(k); t.table.nearPocket(k) && t.table.permitted(laydown, arrows) {
			lines = append(lines, [2]float64{laydown, arrows})
		}
	}
	all, err := studies.Gather(s.ctx, s.Workers, len(lines), nil, func(_ *physics.Thrower, i int) (lineEstimate, error) {
		return e.estimate(lines[i][0], lines[i][1]), nil
	})
	if err != nil {
		return err
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].above(all[j], s.By) })
	t.picked = nil
	var taken []lineEstimate
	for _, one := range all {
		if len(taken) == screened || one.Pocket == 0 || s.ctx.Err() != nil {
			break
		}
		if isApart(one.laydown, one.arrows, taken) {
			taken = append(taken, s.climb(e, one, taken))
		}
	}
	for _, one := range taken {
		t.picked = append(t.picked, pickedLine{one, t.table.release(one.laydown, one.arrows)})
	}
	sort.SliceStable(t.picked, func(i, j int) bool { return t.picked[i].above(t.picked[j].lineEstimate, s.By) })
	return s.ctx.Err()
}

// isApart reports whether a line has the least distance from all of a list.
func isApart(laydown, arrows float64, from []lineEstimate) bool {
	return !slices.ContainsFunc(from, func(o lineEstimate) bool {
		return math.Abs(o.laydown-laydown) < linesApart && math.Abs(o.arrows-arrows) < linesApart
	})
}

// crossings returns lines that end in the middle of the pocket: one between each two neighbouring nodes on
// both sides of it.
func (t *lineTable) crossings() [][2]float64 {
	var all [][2]float64
	for k := range t.nodes {
		if k%t.columns == t.columns-1 {
			continue
		}
		a, b := t.nodes[k], t.nodes[k+1]
		if !a.pins || !b.pins || a.side == b.side {
			continue
		}
		laydown, arrows := t.line(k)
		arrows += arrowsStep * (t.middle - a.board) / (b.board - a.board)
		if t.permitted(laydown, arrows) {
			all = append(all, [2]float64{laydown, arrows})
		}
	}
	return all
}

// leastOff is the distance in boards by which a line must end nearer to the middle of the pocket to be better
// by that alone.
const leastOff = 1e-3

// climb improves a line by ever smaller steps: at the arrows alone, and at laydown and arrows together so
// that the entry board stays. It stays within half of linesApart, and apart from the lines taken already.
func (s *lineSearch) climb(e lineEstimator, from lineEstimate, taken []lineEstimate) lineEstimate {
	best := from
	for step := arrowsStep; step >= leastStep; step /= 2 {
		for moved := true; moved; {
			moved = false
			slope := e.parallelSlope(best.laydown, best.arrows)
			for _, d := range [4][2]float64{{0, step}, {0, -step}, {2 * step, 2 * step * slope}, {-2 * step, -2 * step * slope}} {
				laydown, arrows := best.laydown+d[0], best.arrows+d[1]
				if math.Abs(laydown-from.laydown) > linesApart/2 || math.Abs(arrows-from.arrows) > linesApart/2 ||
					!e.permitted(laydown, arrows) || !isApart(laydown, arrows, taken) {
					continue
				}
				// Where a ball goes straight, lines of equal shares differ in their distance from the middle
				// only by rounding.
				next := e.estimate(laydown, arrows)
				equal := next.ByMeasure == best.ByMeasure
				if next.above(best, s.By) && !(equal && best.off-next.off < leastOff) {
					best, moved = next, true
				}
			}
		}
	}
	if laydown, arrows := rounded(best.laydown), rounded(best.arrows); e.permitted(laydown, arrows) && isApart(laydown, arrows, taken) {
		best.laydown, best.arrows = laydown, arrows
	}
	return best
}

func rounded(board float64) float64 { return math.Round(board*roundLine) / roundLine }

// parallelSlope returns the boards at the arrows per board at the laydown that keep the entry board E:
// −(∂E/∂L)/(∂E/∂A).
func (t *lineTable) parallelSlope(laydown, arrows float64) float64 {
	const h = 0.5 // boards
	at := func(l, a float64) float64 {
		p, ok := t.place(l, a)
		if !ok {
			return math.NaN()
		}
		board, _ := t.without(p)
		return board
	}
	byLaydown := at(laydown+h, arrows) - at(laydown-h, arrows)
	byArrows := at(laydown, arrows+h) - at(laydown, arrows-h)
	if slope := -byLaydown / byArrows; math.Abs(slope) <= 2 {
		return slope
	}
	return 1
}

// noLine returns the error for no line to the pocket.
func (s *lineSearch) noLine(traces []lineTrace) error {
	e := &NoLineError{Nearest: math.NaN(), Laydown: math.NaN(), Arrows: math.NaN()}
	for _, t := range traces {
		e.Board = t.table.middle
		for k, n := range t.table.nodes {
			laydown, arrows := t.table.line(k)
			if n.pins && t.table.permitted(laydown, arrows) && !(math.Abs(n.board-e.Board) >= math.Abs(e.Nearest-e.Board)) {
				e.Nearest, e.Laydown, e.Arrows = n.board, laydown, arrows
			}
		}
	}
	return e
}
