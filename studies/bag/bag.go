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

// Study asks which few of several balls cover a set of lanes best, each ball on each
// lane from its own best line.
type Study struct {
	// Balls are the candidates, drilled for the bowler: a ball for each layout
	// and surface that is thought of.
	Balls []ball.Ball

	// Lanes are the states of lanes to be covered, fresh and worn, and Weights
	// how much each counts: one number for each lane, in any unit; nil means evenly.
	Lanes   []lane.Lane
	Weights []float64

	// Release is the bowler's; its laydown and angle do not matter.
	Release       physics.Release
	Repeatability studies.Repeatability

	// Size is how many balls are chosen.
	Size int

	// Limits, By, Shots, Seed, Settings and Workers are those of the [aim.Search]
	// of every cell; By "" means ByPocketShare.
	Limits   aim.Limits
	By       aim.Measure
	Shots    int
	Seed     uint64
	Settings physics.Settings

	studies.Work // its progress is that of cells

	// Strikes, if not nil, says which deliveries of a setup strike, in place of the
	// stored table of racks.
	Strikes func(ctx context.Context, s studies.Setup) ([]bool, error)

	// Known holds the first cells, which are known already; cell i·lanes + j is
	// that of ball i on lane j. The others are computed in this order, and Cell,
	// if not nil, takes each of them. Its error ends the run.
	Known []Cell
	Cell  func(cell Cell) error
}

// Cell is a ball on a lane from its best line.
type Cell struct {
	// Reaches says whether any line ends in the pocket; without one the rest is
	// empty.
	Reaches bool

	Laydown float64 // boards
	Angle   float64 // rad

	// By is the measure by which the line was chosen: the pocket alone where
	// hardly any delivery enters at a good angle.
	By aim.Measure

	// Whether each delivery ended in the pocket, whether it did so at a good angle and,
	// if balls are judged by that, whether it struck, and Gutter whether it ended in the
	// gutter. The same number belongs to the same deviations in all cells.
	aim.ByMeasure[[]bool]
	Gutter []bool
}

// Count counts the deliveries by a measure.
func (c Cell) Count(by aim.Measure) studies.Count { return studies.CountOf(c.Of(by)) }

// Lost counts the deliveries that end in the gutter.
func (c Cell) Lost() studies.Count { return studies.CountOf(c.Gutter) }

// share is that by a measure; 0 without a line.
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

	// Cells are those of ball i on lane j, Cells[i][j].
	Cells [][]Cell

	// Chosen are the indices of the balls of the best choice, the one first
	// that covers most alone, then each that adds most to those before.
	Chosen []int

	// Coverage is the mean over the lanes of the largest share in the choice;
	// Alone and Adds are, for each ball, the coverage of it alone and what it
	// adds: for a chosen ball to the rest of the choice, for another to the
	// whole choice.
	Coverage    studies.Mean
	Alone, Adds []studies.Mean

	shares [][]float64 // of the cells
}

// mostCandidates bounds the candidates, so that all choices can be looked at.
const mostCandidates = 24

// Run fills in the cells and finds the choice.
//
// It is an error if there is nothing to choose from, if a shot breaks down or if
// the context ends; cells that were given to Cell need not be computed again.
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

// best is the ball of a set of bits that has the largest share on a lane, the
// first of equal ones; -1 if the set is empty.
func (q Study) best(c *Result, set uint, j int) int {
	best := -1
	for rest := set; rest != 0; rest &= rest - 1 {
		if i := bits.TrailingZeros(rest); best < 0 || c.shares[i][j] > c.shares[best][j] {
			best = i
		}
	}
	return best
}

// weight is how much a lane counts; all of them together count 1.
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

// gain is what a set of balls covers more than another.
func (q Study) gain(c *Result, set, less uint) studies.Mean {
	each := make([]float64, q.Shots) // the part of the lanes that a delivery stands for
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

// choose looks at all choices. Of equal ones the first in the order of the balls
// is taken.
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
