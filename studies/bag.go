package studies

import (
	"context"
	"fmt"
	"math"
	"math/bits"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
)

// Bag asks which few of several balls cover a set of lanes best, each ball on each
// lane from its own best line.
type Bag struct {
	// Balls are the candidates, drilled for the bowler: a ball for each layout
	// and surface that is thought of.
	Balls []ball.Ball

	// Lanes are the states of lanes to be covered, fresh and worn, and Weights
	// how much each counts; nil means evenly.
	Lanes   []lane.Lane
	Weights []float64

	// Release is the bowler's, with the laydown about which lines are looked
	// for; its angle does not matter.
	Release       physics.Release
	Repeatability Repeatability

	// Size is how many balls are chosen.
	Size int

	// Farthest and Shots are those of [Move].
	Farthest, Shots int
	Seed            uint64

	Settings physics.Settings
	Workers  int

	// Known holds cells that are known already, by their index ball·lanes +
	// lane; the others are computed. Cell, if not nil, is told of each cell
	// that has been computed.
	Known map[int]BagCell
	Cell  func(index int, cell BagCell)

	// Progress, if not nil, is told after each cell how many are done.
	Progress func(done, total int)
}

// BagCell is a ball on a lane from its best line.
type BagCell struct {
	PocketShare float64
	Laydown     float64 // boards
	Angle       float64 // rad
	Reaches     bool    // whether any line reaches the pocket
}

// BagChoice is a choice of balls.
type BagChoice struct {
	// Cells are those of ball i on lane j, Cells[i][j].
	Cells [][]BagCell

	// Chosen are the indices of the balls of the best choice, the one first
	// that covers most alone, then each that adds most to those before.
	Chosen []int

	// Coverage is the mean over the lanes of the largest share in the choice;
	// Alone and Adds are, for each ball, the coverage of it alone and what it
	// adds: for a chosen ball to the rest of the choice, for another to the
	// whole choice.
	Coverage    float64
	Alone, Adds []float64
}

// mostCandidates bounds the candidates, so that all choices can be looked at.
const mostCandidates = 24

// Run fills in the cells and finds the choice.
//
// It is an error if there is nothing to choose from, if a shot breaks down or if
// the context ends; cells that were told to Cell need not be computed again.
func (q Bag) Run(ctx context.Context) (BagChoice, error) {
	balls, lanes := len(q.Balls), len(q.Lanes)
	switch {
	case balls == 0 || lanes == 0:
		return BagChoice{}, fmt.Errorf("studies: there is no ball or no lane to choose for")
	case balls > mostCandidates:
		return BagChoice{}, fmt.Errorf("studies: %d candidates: a bag is chosen from at most %d", balls, mostCandidates)
	case q.Size < 1 || q.Size > balls:
		return BagChoice{}, fmt.Errorf("studies: %d balls cannot be chosen from %d", q.Size, balls)
	}
	c := BagChoice{Cells: make([][]BagCell, balls)}
	total := balls * lanes
	for i := range c.Cells {
		c.Cells[i] = make([]BagCell, lanes)
		for j := range lanes {
			index := i*lanes + j
			cell, known := q.Known[index]
			if !known {
				move := Move{
					Setup:    Setup{Lane: q.Lanes[j], Ball: q.Balls[i], Release: q.Release, Repeatability: q.Repeatability},
					Farthest: q.Farthest, Shots: q.Shots, Seed: q.Seed, Settings: q.Settings, Workers: q.Workers,
					Anew: true,
				}
				moved, err := move.Run(ctx)
				if err != nil {
					return BagChoice{}, err
				}
				cell = BagCell{PocketShare: moved.After, Laydown: moved.Release.Laydown, Angle: moved.Release.Angle, Reaches: moved.Found}
				if q.Cell != nil {
					q.Cell(index, cell)
				}
			}
			c.Cells[i][j] = cell
			if q.Progress != nil {
				q.Progress(index+1, total)
			}
		}
	}
	q.choose(&c)
	return c, nil
}

// coverage of the balls in a set of bits.
func (q Bag) coverage(c *BagChoice, set uint) float64 {
	sum, weights := 0.0, 0.0
	for j := range q.Lanes {
		most := 0.0
		for rest := set; rest != 0; rest &= rest - 1 {
			most = math.Max(most, c.Cells[bits.TrailingZeros(rest)][j].PocketShare)
		}
		w := 1.0
		if q.Weights != nil {
			w = q.Weights[j]
		}
		sum += w * most
		weights += w
	}
	return sum / weights
}

// choose looks at all choices. Of equal ones the first in the order of the balls
// is taken.
func (q Bag) choose(c *BagChoice) {
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
	c.Coverage = best
	c.Alone, c.Adds = make([]float64, len(q.Balls)), make([]float64, len(q.Balls))
	for i := range q.Balls {
		bit := uint(1) << i
		c.Alone[i] = q.coverage(c, bit)
		c.Adds[i] = q.coverage(c, chosen|bit) - q.coverage(c, chosen&^bit)
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
