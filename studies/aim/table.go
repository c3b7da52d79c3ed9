package aim

import (
	"cmp"
	"math"
	"slices"

	"lanesim/internal/portable"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/units"
)

// Steps of the table in boards. A ball that goes straight moves by two boards at the pins from one board at
// the arrows to the next, and by three from one laydown to the next; between them the table is interpolated
// by cubics.
const (
	laydownStep = 1.0
	arrowsStep  = 0.5
)

// coarse is the number of steps at the arrows between the nodes thrown first.
const coarse = 2

// tails is the number of standard deviations up to which deliveries are taken into account: a share of 5·10⁻⁴
// lies beyond on either side.
const tails = 3.3

// deviation is the deviation, in standard deviations, of the shots from which the effects of deviations
// follow.
const deviation = 1.5

// leastBand and mostBand bound the boards beside the pocket within which the table is fine.
const leastBand, mostBand = 3.0, 15.0

// besidesLine lists the quantities that deviate, except those of the line.
var besidesLine = [...]studies.Varied{studies.VariedSpeed, studies.VariedRevRate, studies.VariedAxisRotation, studies.VariedAxisTilt}

// lineNode is a shot without deviations on a line of the table.
type lineNode struct {
	known, pins bool
	side        int     // of the pocket on which it arrived or left the lane
	board       float64 // at the pins
	angle       float64 // rad
	speed       float64 // m/s

	// bends is set if the following are known: with a deviation x of quantity i of besidesLine the board
	// moves by boardBy[i][0]·x + boardBy[i][1]·x², and the angle likewise.
	bends            bool
	boardBy, angleBy [len(besidesLine)][2]float64
}

// lineTable has shots on a grid of lines: nodes[i*columns+j] is laid down at laydown + i·laydownStep and
// launched at arrows + j·arrowsStep.
type lineTable struct {
	search          *lineSearch
	about           physics.Release
	scatter         studies.Deliverer
	sigmas          [studies.VariedCount]float64
	laydown, arrows float64
	rows, columns   int
	nodes           []lineNode
	band            float64 // boards beside the middle of the pocket
	middle          float64
	speed           float64 // m/s at the pins, of a ball without deviations
	corrections     []correction
}

// table throws the shots of the table about a release.
func (s *lineSearch) table(about physics.Release) (*lineTable, error) {
	pocket, _ := s.Settings.PocketOf(about)
	t := &lineTable{search: s, about: about, sigmas: s.Setup.Repeatability.Sigmas(), middle: (pocket.Min + pocket.Max) / 2}
	var err error
	if t.scatter, err = s.Setup.Repeatability.Deliverer(about); err != nil {
		return nil, err
	}
	// With a margin for the deviations of the outer lines and for cubics.
	l := s.Limits
	reach := studies.ReachOfArrows(about)
	feet := tails*t.sigmas[studies.VariedLaydown] + 2*laydownStep
	target := tails*portable.Hypot(t.sigmas[studies.VariedLaydown], reach*t.sigmas[studies.VariedAngle]) + 2*coarse*arrowsStep
	t.laydown = max(1, math.Floor(l.Laydown.Min-feet))
	t.rows = int(math.Ceil((min(lane.Boards, l.Laydown.Max+feet)-t.laydown)/laydownStep)) + 1
	low, high := max(l.Arrows.Min-target, t.laydown-reach), min(l.Arrows.Max+target, lane.Boards+reach)
	t.arrows = math.Floor(low)
	t.columns = int(math.Ceil((high-t.arrows)/arrowsStep)) + 1
	t.nodes = make([]lineNode, t.rows*t.columns)
	if err := t.throwNodes(); err != nil {
		return nil, err
	}
	for _, n := range t.nodes {
		if n.pins {
			t.speed = n.speed
			break
		}
	}
	return t, t.correct()
}

func (t *lineTable) line(k int) (laydown, arrows float64) {
	return min(t.laydown+float64(k/t.columns)*laydownStep, lane.Boards), t.arrows + float64(k%t.columns)*arrowsStep
}

func (t *lineTable) release(laydown, arrows float64) physics.Release {
	r := t.about
	r.Laydown, r.Angle = laydown, studies.AngleOverArrows(r, laydown, arrows)
	return r
}

// possible reports whether a node's angle, or one that a delivery may have, is within the launch angles
// searched.
func (t *lineTable) possible(k int) bool {
	laydown, arrows := t.line(k)
	return math.Abs(studies.AngleOverArrows(t.about, laydown, arrows)) <= widestAngle*units.Degree+tails*t.sigmas[studies.VariedAngle]
}

func (t *lineTable) throw(list []int) error {
	list = slices.DeleteFunc(list, func(k int) bool { return t.nodes[k].known || !t.possible(k) })
	slices.Sort(list)
	list = slices.Compact(list)
	return t.search.parallel(len(list), 1, func(thrower *physics.Thrower, i int) error {
		n := &t.nodes[list[i]]
		n.known = true
		shot, err := t.search.throw(thrower, t.release(t.line(list[i])))
		if err != nil {
			return err
		}
		switch e := shot.Events; {
		case e.Pins != nil:
			n.pins, n.board, n.angle, n.speed = true, e.Pins.Board, e.Pins.Heading, e.Pins.Speed
			n.side = cmp.Compare(n.board, t.middle)
		case e.Gutter != nil:
			n.side = cmp.Compare(e.Gutter.Board, t.middle)
		}
		return nil
	})
}

// throwNodes throws a coarse table, and a finer one near the pocket.
func (t *lineTable) throwNodes() error {
	var first []int
	for i := range t.rows {
		for j := 0; j < t.columns; j += coarse {
			first = append(first, i*t.columns+j)
		}
	}
	if err := t.throw(first); err != nil {
		return err
	}
	if err := t.widen(first); err != nil {
		return err
	}
	// From the crossings of the pocket and the nodes near it outward.
	var between []int
	for i := range t.rows {
		for j := 0; j+coarse < t.columns; j += coarse {
			k := i*t.columns + j
			if a, b := t.nodes[k], t.nodes[k+coarse]; a.known && b.known && a.side != b.side {
				for step := 1; step < coarse; step++ {
					between = append(between, k+step)
				}
			}
		}
	}
	if err := t.throw(between); err != nil {
		return err
	}
	grown := make([]bool, len(t.nodes))
	for {
		var more []int
		for k := range t.nodes {
			if grown[k] || !t.nearPocket(k) {
				continue
			}
			grown[k] = true
			i, j := k/t.columns, k%t.columns
			for a := max(i-1, 0); a <= min(i+1, t.rows-1); a++ {
				for b := max(j-1, 0); b <= min(j+1, t.columns-1); b++ {
					if n := a*t.columns + b; !t.nodes[n].known && t.possible(n) {
						more = append(more, n)
					}
				}
			}
		}
		if len(more) == 0 {
			break
		}
		if err := t.throw(more); err != nil {
			return err
		}
	}
	var all []int
	for k := range t.nodes {
		if t.nearPocket(k) && k/t.columns%bendStep == 0 && k%t.columns%bendStep == 0 {
			all = append(all, k)
		}
	}
	if err := t.throwDeviations(all); err != nil {
		return err
	}
	t.spreadDeviations()
	return nil
}

// bendStep is the step of rows and columns on which shots with deviations are thrown: their effect varies
// less than the board.
const bendStep = 2

func (t *lineTable) nearPocket(k int) bool {
	return t.nodes[k].pins && math.Abs(t.nodes[k].board-t.middle) <= t.band
}

// scatterSamples is the number of lines on which the scatter at the pins is measured.
const scatterSamples = 6

// widen finds how many boards deliveries scatter at the pins, on the nearest lines of several parts of the
// laydowns, and widens the fine table by it.
func (t *lineTable) widen(first []int) error {
	var nearest []int
	for part := range scatterSamples {
		best := -1
		for _, k := range first {
			if i := k / t.columns; i*scatterSamples/t.rows != part || !t.nodes[k].pins {
				continue
			}
			if best < 0 || math.Abs(t.nodes[k].board-t.middle) < math.Abs(t.nodes[best].board-t.middle) {
				best = k
			}
		}
		if best >= 0 {
			nearest = append(nearest, best)
		}
	}
	if err := t.throwDeviations(nearest); err != nil {
		return err
	}
	boards := (t.search.Settings.Pocket.Max - t.search.Settings.Pocket.Min) / 2
	// A ball that goes straight moves at the pins by the angle times the lane's length, and one that hooks
	// back at a pattern's edge by less.
	length := max(min(t.search.Setup.Lane.Length, lane.HeadPin)-t.about.LaydownDistance, 0)
	line := portable.Hypot(t.sigmas[studies.VariedLaydown], length/lane.BoardWidth*t.sigmas[studies.VariedAngle])
	rest := 0.0
	for _, k := range nearest {
		sum := 0.0
		for i, v := range besidesLine {
			sum += portable.Pow(t.nodes[k].boardBy[i][0]*t.sigmas[v], 2)
		}
		rest = max(rest, math.Sqrt(sum))
	}
	t.band = boards + min(max(tails*portable.Hypot(line, rest), leastBand), mostBand)
	return nil
}

func (t *lineTable) throwDeviations(list []int) error {
	list = slices.DeleteFunc(list, func(k int) bool { return t.nodes[k].bends })
	return t.search.parallel(len(list), 2*len(besidesLine), func(thrower *physics.Thrower, i int) error {
		n := &t.nodes[list[i]]
		r := t.release(t.line(list[i]))
		for o, v := range besidesLine {
			h := deviation * t.sigmas[v]
			if h == 0 {
				continue
			}
			var boards, angles [2]float64
			for side, x := range [2]float64{-h, h} {
				var deviates [studies.VariedCount]float64
				deviates[v] = x
				shot, err := t.search.throw(thrower, studies.Deviated(r, deviates))
				if err != nil {
					return err
				}
				boards[side], angles[side] = math.NaN(), math.NaN()
				if e := shot.Events.Pins; e != nil {
					boards[side], angles[side] = e.Board-n.board, e.Heading-n.angle
				}
			}
			n.boardBy[o], n.angleBy[o] = parabola(boards, h), parabola(angles, h)
		}
		n.bends = true
		return nil
	})
}

// parabola returns a and b of a x + b x² with given values at −h and h; if one of them is NaN it returns a
// line.
func parabola(at [2]float64, h float64) [2]float64 {
	low, high := at[0], at[1]
	switch {
	case math.IsNaN(low) && math.IsNaN(high):
		return [2]float64{}
	case math.IsNaN(low):
		return [2]float64{high / h, 0}
	case math.IsNaN(high):
		return [2]float64{-low / h, 0}
	}
	return [2]float64{(high - low) / (2 * h), (high + low) / (2 * h * h)}
}

// spreadDeviations sets the effects of deviations of the nodes between those thrown to the mean of their
// neighbours.
func (t *lineTable) spreadDeviations() {
	for k := range t.nodes {
		n := &t.nodes[k]
		if !n.pins || n.bends {
			continue
		}
		count := 0.0
		var boards, angles [len(besidesLine)][2]float64
		for _, a := range bendsAbout(k / t.columns) {
			for _, b := range bendsAbout(k % t.columns) {
				if a >= t.rows || b >= t.columns || !t.nodes[a*t.columns+b].bends {
					continue
				}
				m := &t.nodes[a*t.columns+b]
				count++
				for o := range besidesLine {
					for p := range 2 {
						boards[o][p] += m.boardBy[o][p]
						angles[o][p] += m.angleBy[o][p]
					}
				}
			}
		}
		for o := range besidesLine {
			for p := range 2 {
				if count > 0 {
					n.boardBy[o][p], n.angleBy[o][p] = boards[o][p]/count, angles[o][p]/count
				}
			}
		}
	}
}

// bendsAbout lists the rows or columns with known effects of deviations on both sides of one.
func bendsAbout(at int) []int {
	if beyond := at % bendStep; beyond != 0 {
		return []int{at - beyond, at - beyond + bendStep}
	}
	return []int{at}
}
