package studies

import (
	"context"
	"errors"
	"fmt"
	"math"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
)

// Delivery is all that a shot follows from.
type Delivery struct {
	Lane    lane.Lane
	Ball    ball.Specification
	Grip    ball.Grip
	PAP     ball.PAP
	Release physics.Release
}

// Comparison asks what differs between deliveries, by how much, where, and why.
type Comparison struct {
	Deliveries []Delivery

	// Pairs are the indices of the deliveries a and b that are compared; what is
	// reported of a pair is b − a.
	Pairs [][2]int

	// Settings hold for all shots. A negative PathSpacing keeps neither path
	// nor track and leaves the differences along the way out.
	Settings physics.Settings

	// Workers is how many shots are computed at a time; 0 means as many as
	// there are processors. The result does not depend on it.
	Workers int

	// Progress, if not nil, is told after each shot how many are done.
	Progress func(done, total int)
}

// Compared is what became of a comparison: the shots in the order of the
// deliveries, and the pairs in theirs.
type Compared struct {
	Shots []Traced
	Pairs []Pair
}

// Change holds five numbers of a shot's way that pairs differ in: a difference
// b − a, or a cause's share of one. A number is NaN where it does not exist.
type Change struct {
	AtPins       float64 // boards at the pins
	FrictionRead float64 // m, of the distance at which the friction is read
	Breakpoint   float64 // m, of the breakpoint's distance
	EntryAngle   float64 // rad
	HookStart    float64 // m, of the hook start's distance
}

// Pair is what two shots differ in.
type Pair struct {
	A, B int // indices of the deliveries

	// Identical says that all that the shots follow from is equal. There are
	// then no causes.
	Identical bool

	// Differ names the inputs in which the deliveries differ, in the order of
	// [Inputs].
	Differ []Input

	// Boards are the differences along the way.
	Boards []BoardDifference

	// Parting is the distance in m from which on the paths are farther apart
	// than [PartingBoards]; NaN if they never are or start apart.
	Parting float64

	// Difference is that of the two shots. A number is NaN where one of the
	// shots has no such event or ends in the gutter.
	Difference Change

	// Error bounds how far the numbers, and the causes' shares, may be off by
	// the numerical error of the shots.
	Error Change

	// Mechanisms are shares of the difference by what happens, in the order of
	// [Mechanisms]; they add up to it. See [Mechanism].
	Mechanisms []Cause

	// Inputs are shares of the difference by what was given, one for each
	// of Differ; they add up to it. See [Input].
	Inputs []Cause

	// Note says why shares do not exist although the difference does; empty
	// as a rule.
	Note string
}

// Cause is a share of a difference.
type Cause struct {
	Name string
	Change
}

// BoardDifference is how far two paths are apart at a distance.
type BoardDifference struct {
	Distance float64 // m
	Boards   float64 // b − a; NaN where one of the shots is not
}

// PartingBoards is by how many boards paths must differ to be told apart by eye:
// a quarter of a board is 7 mm, the width of an oil ring.
const PartingBoards = 0.25

// finer is how many times tighter the tolerance is of the shots by which the
// numerical error is estimated; theirs is a small part of the difference.
const finer = 30.0

// errorMargin is the ratio of the error that is allowed for to the one that two
// shots of different tolerance show: mixed shots, which are not thrown again,
// may have a larger one.
const errorMargin = 2.0

// leastError is allowed for in any case, since two shots may agree by chance. It
// is about twice the largest error of 300 random shots with film on the track at
// the default tolerance, 0.0049 board, 0.006 ft, 0.0032° and 0.016 ft.
var leastError = Change{AtPins: 0.01, FrictionRead: 0.01 * lane.Foot, Breakpoint: 0.01 * lane.Foot, EntryAngle: 0.006 * ball.Degree, HookStart: 0.03 * lane.Foot}

// least is leastError at another tolerance. The error falls nearly in proportion
// to the tolerance; half of that, in powers of ten, is counted on.
func least(tolerance float64) Change {
	if tolerance == 0 {
		return leastError
	}
	return leastError.times(math.Sqrt(tolerance / physics.DefaultTolerance))
}

// Run throws the shots and tells their differences.
//
// It is an error if a delivery's ball cannot be drilled or if a shot breaks
// down, and that of the context if it ends.
func (c Comparison) Run(ctx context.Context) (Compared, error) {
	for _, p := range c.Pairs {
		for _, i := range p {
			if i < 0 || i >= len(c.Deliveries) {
				return Compared{}, fmt.Errorf("studies: there is no delivery %d to compare", i)
			}
		}
	}
	var b bench
	shots := make([]variants, len(c.Deliveries))
	for i, d := range c.Deliveries {
		shots[i] = b.variants(d, c.Settings.PathSpacing >= 0)
	}
	plans := make([]plan, len(c.Pairs))
	for i, p := range c.Pairs {
		plans[i] = b.plan(c.Deliveries[p[0]], c.Deliveries[p[1]], shots[p[0]], shots[p[1]])
	}
	if err := b.run(ctx, c); err != nil {
		return Compared{}, err
	}
	result := Compared{Shots: make([]Traced, len(shots)), Pairs: make([]Pair, len(plans))}
	for i, v := range shots {
		result.Shots[i] = traced(c.Deliveries[i], v.full.shot)
	}
	for i, p := range c.Pairs {
		pair := plans[i].pair(shots[p[0]], shots[p[1]], least(c.Settings.Tolerance))
		pair.A, pair.B = p[0], p[1]
		if c.Settings.PathSpacing >= 0 {
			pair.along(c.Deliveries[p[0]], c.Deliveries[p[1]], result.Shots[p[0]].Shot, result.Shots[p[1]].Shot)
		}
		result.Pairs[i] = pair
	}
	return result, nil
}

// variants are the shots that belong to one delivery.
type variants struct {
	full    *toss // as given
	finer   *toss // the same at a tighter tolerance
	clean   *toss // without oil on the track
	centred *toss // and with equal moments
}

// variants puts the shots of a delivery on the bench.
func (b *bench) variants(d Delivery, traced bool) variants {
	v := variants{
		full:    b.add(&toss{Delivery: d, given: true, traced: traced}),
		finer:   b.add(&toss{Delivery: d, given: true, finer: true}),
		centred: b.add(&toss{Delivery: d, given: true, equal: true}),
	}
	v.clean = v.full
	if !d.Ball.Memory.Off {
		clean := d
		clean.Ball.Memory.Off = true
		v.clean = b.add(&toss{Delivery: clean, given: true})
	}
	return v
}

// pair reads the differences off the shots.
func (p plan) pair(a, b variants, least Change) Pair {
	r := Pair{Identical: len(p.differ) == 0, Differ: p.differ, Parting: math.NaN()}
	r.Difference = b.full.readings.minus(a.full.readings)
	r.Error = least.atLeast(a.full.readings.minus(a.finer.readings).plusSize(b.full.readings.minus(b.finer.readings)).times(errorMargin))
	if r.Identical {
		return r
	}
	r.Mechanisms = p.mechanisms(a, b)
	var err error
	r.Inputs, err = p.inputs()
	for _, t := range []*toss{p.swappedA, p.swappedB} {
		err = errors.Join(err, t.impossible)
	}
	switch shared := r.Mechanisms[0].plus(r.Inputs[0].Change); {
	case err != nil:
		r.Note = firstLine(err)
	case math.IsNaN(shared.AtPins) && !math.IsNaN(r.Difference.AtPins):
		r.Note = "a shot by which the difference would be shared out does not get to the pins"
	case math.IsNaN(shared.Breakpoint) && !math.IsNaN(r.Difference.Breakpoint):
		r.Note = "a shot by which the difference would be shared out has no breakpoint"
	case math.IsNaN(shared.FrictionRead) && !math.IsNaN(r.Difference.FrictionRead):
		r.Note = "a shot by which the difference would be shared out does not read the friction"
	case math.IsNaN(shared.HookStart) && !math.IsNaN(r.Difference.HookStart):
		r.Note = "a shot by which the difference would be shared out has no hook start"
	}
	return r
}
