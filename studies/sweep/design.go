package sweep

import (
	"errors"
	"fmt"
	"math/bits"

	"lanesim/studies"
)

// Kind is the kind of a [Design].
type Kind string

// The kinds of designs.
const (
	// Grid combines every level of each dimension with every level of the others; the last dimension changes
	// fastest.
	Grid Kind = "grid"

	// Latin is a Latin hypercube (McKay, Beckman and Conover, Technometrics 21, 239, 1979): each dimension is
	// divided into as many equal strata as there are points, and each stratum contains one point.
	Latin Kind = "latin"

	// Halton is the sequence of Halton (Numerische Mathematik 2, 84, 1960), which fills the space evenly for
	// any number of points. With a seed its digits are permuted (Owen, "A randomized Halton algorithm in R",
	// arXiv:1706.02808, 2017).
	Halton Kind = "halton"
)

// Kinds lists the kinds of designs.
func Kinds() []Kind { return []Kind{Grid, Latin, Halton} }

// Dimension is one quantity that a design varies.
type Dimension struct {
	// Levels is the number of values to choose from; 0 means a continuous range, which a grid cannot have.
	Levels int
}

// Coordinate is the place of a point in one dimension.
type Coordinate struct {
	Level int     // from 0, if the dimension has levels
	Share float64 // of the range, from 0 to below 1, if it has none
}

// Design is a set of points in a space of several dimensions. Each point depends only on the design and the
// point's number.
type Design struct {
	Kind       Kind
	Dimensions []Dimension

	// Points is the number of points, Seed the seed of their random numbers. A grid uses neither. A Halton
	// sequence with seed 0 is not permuted.
	Points uint64
	Seed   uint64
}

// Bounds of designs.
const (
	// MostPoints is the largest number of points: 2⁴⁰. Up to it a point of a Latin hypercube can be
	// distinguished from the edges of its stratum.
	MostPoints = 1 << 40

	// MostDimensions is the largest number of dimensions; the bases of a Halton
	// sequence grow with it.
	MostDimensions = 64
)

// ErrTooManyPoints means that a design has more than [MostPoints].
var ErrTooManyPoints = errors.New("sweep: the design has more than 2^40 points")

// Size returns the number of points. The error is [ErrTooManyPoints].
func (d Design) Size() (uint64, error) {
	n := d.Points
	if d.Kind == Grid {
		n = 1
		for _, dimension := range d.Dimensions {
			high, low := bits.Mul64(n, uint64(dimension.Levels))
			if n = low; high != 0 || n > MostPoints {
				return 0, ErrTooManyPoints
			}
		}
	}
	if n > MostPoints {
		return 0, ErrTooManyPoints
	}
	return n, nil
}

// Sampler computes the points of a design, in any order. It is safe for concurrent use.
type Sampler struct {
	design Design
	size   uint64
	latin  []permutation
	halton []studies.Halton
}

// Sampler returns a sampler of the design. It is an error if there are no dimensions or more than
// [MostDimensions], if a dimension of a grid has no levels, or if there are no points or too many.
func (d Design) Sampler() (*Sampler, error) {
	if n := len(d.Dimensions); n == 0 || n > MostDimensions {
		return nil, fmt.Errorf("sweep: a design of %d dimensions: it needs 1 to %d", n, MostDimensions)
	}
	size, err := d.Size()
	if err != nil {
		return nil, err
	}
	if size == 0 {
		return nil, errors.New("sweep: the design has no points")
	}
	s := &Sampler{design: d, size: size}
	for j := range d.Dimensions {
		switch d.Kind {
		case Grid:
		case Latin:
			s.latin = append(s.latin, newPermutation(size, d.Seed, j))
		case Halton:
			s.halton = append(s.halton, studies.NewHalton(j, d.Seed))
		default:
			return nil, fmt.Errorf("sweep: there is no design %q", d.Kind)
		}
	}
	return s, nil
}

// Size returns the number of points.
func (s *Sampler) Size() uint64 { return s.size }

// Point stores point k, counted from 0, in x, which has an element for each dimension.
func (s *Sampler) Point(k uint64, x []Coordinate) {
	switch s.design.Kind {
	case Grid:
		for j := len(x) - 1; j >= 0; j-- {
			levels := uint64(s.design.Dimensions[j].Levels)
			x[j] = Coordinate{Level: int(k % levels)}
			k /= levels
		}
	case Latin:
		r := studies.Draws(s.design.Seed, studies.ForDesigns, k)
		for j := range x {
			// Within its stratum a point lies at the middle of one of 2^b equal parts, with b so small that
			// rounding cannot move it to another stratum.
			b := jitterBits(s.size)
			within := (float64(r.Uint64()>>(64-b)) + 0.5) / float64(uint64(1)<<b)
			s.place(&x[j], j, (float64(s.latin[j].at(k))+within)/float64(s.size))
		}
	case Halton:
		for j := range x {
			s.place(&x[j], j, s.halton[j].At(k+1)) // the sequence starts with 1
		}
	}
}

// place converts a share of a dimension to a coordinate.
func (s *Sampler) place(c *Coordinate, j int, share float64) {
	*c = Coordinate{Share: share}
	if n := s.design.Dimensions[j].Levels; n > 0 {
		*c = Coordinate{Level: min(int(share*float64(n)), n-1)}
	}
}

// jitterBits returns the number of bits of the place within a stratum: it leaves three of the 53 bits of a
// float64 for rounding.
func jitterBits(points uint64) int {
	const most = 30
	return min(most, 50-bits.Len64(points))
}
