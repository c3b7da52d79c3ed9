package bag

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"math/bits"
	"slices"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
)

// Study finds the few of several balls that cover a set of lanes best, each ball on each lane on its own best
// line.
type Study struct {
	// Balls are the candidates, drilled for the bowler: a ball for each layout and surface considered.
	Balls []ball.Ball

	// Lanes are the lanes to be covered, fresh or worn, and Weights their relative weights, one for each
	// lane; nil means equal weights.
	Lanes   []lane.Lane
	Weights []float64

	// Release is the bowler's; its laydown and angle are ignored.
	Release       physics.Release
	Repeatability studies.Repeatability

	// Size is the number of balls chosen.
	Size int

	// Limits, By, Shots, Seed, Settings and Workers are those of the [aim.Search] of every cell; an empty By
	// means ByPocketShare.
	Limits   aim.Limits
	By       aim.Measure
	Shots    int
	Seed     uint64
	Settings physics.Settings

	studies.Work // its progress counts cells

	// Strikes, if not nil, returns which deliveries of a setup strike, instead of the stored table of racks.
	Strikes func(ctx context.Context, s studies.Setup) ([]bool, error)

	// Known has the first cells, computed before; cell i·lanes + j is that of ball i on lane j. The others
	// are computed in this order, and Cell, if not nil, is called with each of them. An error of Cell ends
	// the run.
	Known []Cell
	Cell  func(cell Cell) error
}

// Cell is a ball on a lane on its best line.
type Cell struct {
	// Reaches is set if any line ends in the pocket; otherwise the other fields are empty.
	Reaches bool

	Laydown float64 // boards
	Angle   float64 // rad

	// By is the measure by which the line was chosen: the pocket share if hardly any delivery enters at a
	// good angle.
	By aim.Measure

	// For each delivery: whether it ended in the pocket, did so at a good angle and, if balls are judged by
	// strikes, struck; Gutter is whether it ended in the gutter. Delivery k has the same deviates in all
	// cells.
	aim.ByMeasure[[]bool]
	Gutter []bool
}

// Count counts the deliveries by a measure.
func (c Cell) Count(by aim.Measure) studies.Count { return studies.CountOf(c.Of(by)) }

// Lost counts the deliveries that end in the gutter.
func (c Cell) Lost() studies.Count { return studies.CountOf(c.Gutter) }

// share returns the share by a measure; 0 without a line.
func (c Cell) share(by aim.Measure) float64 {
	if !c.Reaches {
		return 0
	}
	return c.Count(by).Share()
}

// Result is a choice of balls.
type Result struct {
	// By is the measure of the shares.
	By aim.Measure

	// Cells[i][j] is ball i on lane j.
	Cells [][]Cell

	// Chosen has the indices of the chosen balls: first the one that covers most alone, then each that adds
	// most to those before it.
	Chosen []int

	// Coverage is the weighted mean over the lanes of the largest share in the choice. Alone is the coverage
	// of each ball alone. Adds is the coverage that each ball adds: a chosen ball to the rest of the choice,
	// another ball to the whole choice.
	Coverage    studies.Mean
	Alone, Adds []studies.Mean

	shares [][]float64 // share of each cell
}

// mostCandidates bounds the candidates, so that all choices can be compared.
const mostCandidates = 24

// Run computes the cells and finds the best choice.
//
// It is an error if there is nothing to choose from, if a shot fails or if the context ends. Pass the cells
// given to Cell as Known to continue.
func (q Study) Run(ctx context.Context) (Result, error) {
	balls, lanes := len(q.Balls), len(q.Lanes)
	switch {
	case balls == 0 || lanes == 0:
		return Result{}, fmt.Errorf("bag: there is no ball or no lane to choose for")
	case balls > mostCandidates:
		return Result{}, fmt.Errorf("bag: %d candidates: a bag is chosen from at most %d", balls, mostCandidates)
	case q.Size < 1 || q.Size > balls:
		return Result{}, fmt.Errorf("bag: %d balls cannot be chosen from %d", q.Size, balls)
	case q.Weights != nil && (len(q.Weights) != lanes || !(slices.Min(q.Weights) >= 0) || !(slices.Max(q.Weights) > 0)):
		return Result{}, fmt.Errorf("bag: the weights %v are not one of 0 or more for each of %d lanes, and one above 0", q.Weights, lanes)
	case len(q.Known) > balls*lanes:
		return Result{}, fmt.Errorf("bag: %d cells are known of %d", len(q.Known), balls*lanes)
	}
	q.By = cmp.Or(q.By, aim.ByPocketShare)
	if q.Shots <= 0 {
		q.Shots = aim.DefaultShots
	}
	c := Result{By: q.By, Cells: make([][]Cell, balls), shares: make([][]float64, balls)}
	total := balls * lanes
	for i := range c.Cells {
		c.Cells[i], c.shares[i] = make([]Cell, lanes), make([]float64, lanes)
		for j := range lanes {
			index := i*lanes + j
			if index < len(q.Known) {
				c.Cells[i][j] = q.Known[index]
			} else {
				var err error
				if c.Cells[i][j], err = q.cell(ctx, i, j); err != nil {
					return Result{}, err
				}
				if q.Cell != nil {
					if err := q.Cell(c.Cells[i][j]); err != nil {
						return Result{}, err
					}
				}
			}
			c.shares[i][j] = c.Cells[i][j].share(q.By)
			q.Report(index+1, total)
		}
	}
	q.choose(&c)
	return c, nil
}

func (q Study) cell(ctx context.Context, i, j int) (Cell, error) {
	setup := studies.Setup{Lane: q.Lanes[j], Ball: q.Balls[i], Release: q.Release, Repeatability: q.Repeatability}
	found, err := aim.Search{
		Setup: setup, Limits: q.Limits, By: q.By, Shots: q.Shots, RunnersUp: -1, Seed: q.Seed, Settings: q.Settings, Work: studies.Work{Workers: q.Workers},
	}.Run(ctx)
	if none := (*aim.NoLineError)(nil); errors.As(err, &none) {
		return Cell{}, nil
	}
	if err != nil {
		return Cell{}, err
	}
	cell := Cell{Reaches: true, Laydown: found.Best.Release.Laydown, Angle: found.Best.Release.Angle, By: found.By}
	for _, o := range found.Best.Outcomes {
		cell.Pocket, cell.Good = append(cell.Pocket, o.Pocket), append(cell.Good, o.Good)
		cell.Strikes, cell.Gutter = append(cell.Strikes, o.Strikes), append(cell.Gutter, o.Gutter)
	}
	if q.Strikes != nil {
		setup.Release = found.Best.Release
		cell.Strikes, err = q.Strikes(ctx, setup)
	}
	return cell, err
}

// best returns the ball of a set, one bit for each ball, with the largest share on a lane, the first of equal
// ones; −1 if the set is empty.
func (q Study) best(c *Result, set uint, j int) int {
	best := -1
	for rest := set; rest != 0; rest &= rest - 1 {
		if i := bits.TrailingZeros(rest); best < 0 || c.shares[i][j] > c.shares[best][j] {
			best = i
		}
	}
	return best
}

// weight returns the weight of a lane; the sum of all weights is 1.
func (q Study) weight(j int) float64 {
	if q.Weights == nil {
		return 1 / float64(len(q.Lanes))
	}
	sum := 0.0
	for _, w := range q.Weights {
		sum += w
	}
	return q.Weights[j] / sum
}

func (q Study) coverage(c *Result, set uint) float64 {
	sum := 0.0
	for j := range q.Lanes {
		if i := q.best(c, set, j); i >= 0 {
			sum += q.weight(j) * c.shares[i][j]
		}
	}
	return sum
}

// gain returns the coverage of a set of balls minus that of another, with its interval.
func (q Study) gain(c *Result, set, less uint) studies.Mean {
	each := make([]float64, q.Shots) // gain of each delivery: its weighted hits over the lanes
	for j := range q.Lanes {
		for _, s := range []struct {
			ball   int
			factor float64
		}{{q.best(c, set, j), 1}, {q.best(c, less, j), -1}} {
			if s.ball < 0 {
				continue
			}
			for k, hit := range c.Cells[s.ball][j].Of(q.By) {
				if hit {
					each[k] += s.factor * q.weight(j)
				}
			}
		}
	}
	value := q.coverage(c, set) - q.coverage(c, less)
	half := 0.0
	if q.Shots > 1 {
		half = studies.Confident * studies.NewDistribution(each).SD / math.Sqrt(float64(q.Shots))
	}
	return studies.Mean{Value: value, Interval: studies.Interval{Low: value - half, High: value + half}}
}

// choose compares all choices. Of equal ones it takes the first in the order of the balls.
func (q Study) choose(c *Result) {
	best := -1.0
	var chosen uint
	for set := uint(1); set < 1<<len(q.Balls); set++ {
		if bits.OnesCount(set) != q.Size {
			continue
		}
		if v := q.coverage(c, set); v > best {
			best, chosen = v, set
		}
	}
	c.Coverage = q.gain(c, chosen, 0)
	for i := range q.Balls {
		bit := uint(1) << i
		c.Alone, c.Adds = append(c.Alone, q.gain(c, bit, 0)), append(c.Adds, q.gain(c, chosen|bit, chosen&^bit))
	}
	var taken uint
	for taken != chosen {
		next, most := -1, -1.0
		for i := range q.Balls {
			if bit := uint(1) << i; chosen&bit != 0 && taken&bit == 0 {
				if v := q.coverage(c, taken|bit); v > most {
					next, most = i, v
				}
			}
		}
		taken |= 1 << next
		c.Chosen = append(c.Chosen, next)
	}
}
