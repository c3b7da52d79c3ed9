package compare

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"lanesim/physics"
	"lanesim/studies"
	"lanesim/units"
)

// Study asks what differs between deliveries, by how much, where, why, and
// how sure that is.
//
// How the core points when the ball lands is not known, so that every number is a
// mean over [Phases] phases of the release; those of the releases do not
// matter.
type Study struct {
	Deliveries []studies.Undrilled // their repeatability does not matter

	// Lines says, for each delivery, whose launch angle it takes: one that is
	// found for the delivery of that index, which may be its own, or the angle of
	// its release if the number is negative. nil leaves all angles as they are.
	// An angle is found for the middle of the pocket.
	Lines []int

	// Pairs are the indices of the deliveries a and b that are compared; what is
	// reported of a pair is b − a.
	Pairs [][2]int

	// Settings hold for all shots, with the tolerance of studies unless they ask
	// for one. A negative PathSpacing keeps neither path nor track and leaves the
	// differences along the path out.
	Settings physics.Settings

	// Visible is what can be seen, [DefaultVisible] as a rule.
	Visible Visible

	// Sets is the number of sets of assumed values with which the conclusions are
	// tried. 0 means [studies.DefaultAssumedSets]; negative tries none.
	Sets int

	// Errors asks for the numerical error, for which every shot is computed once
	// more at a tighter tolerance.
	Errors bool

	studies.Work // its progress is that of shots; where lines are to be found, of those first
}

// Phases is the number of phases of the release, evenly spaced, over
// which comparisons average.
const Phases = 12

// Result is what became of a comparison: the deliveries in their order, and
// the pairs in theirs.
type Result struct {
	Shots []ShotResult
	Pairs []Pair

	Visible Visible
}

// Change holds numbers of shots that pairs differ in: a difference b − a, or a
// cause's share of one. A number is NaN where it does not exist.
type Change struct {
	AtPins       float64 // boards at the pins
	FrictionRead float64 // m, of the distance at which the friction is read
	Breakpoint   float64 // m, of the breakpoint's distance
	HookStart    float64 // m, of the hook start's distance
	EntryAngle   float64 // rad
}

// Pair is what two deliveries differ in.
type Pair struct {
	A, B int // indices of the deliveries

	// Identical says that all that the shots follow from is equal. There are
	// then no causes.
	Identical bool

	// Differ names the inputs in which the deliveries differ, in the order of
	// [Inputs].
	Differ []Input

	// Boards are the differences along the mean paths.
	Boards []BoardDifference

	// Parting is the distance in m from which on the mean paths are farther apart
	// than [PartingBoards]; NaN if they never are or start apart.
	Parting float64

	// Difference is the mean of the differences over the phases, both balls at
	// the same, and Spread their standard deviation. A number is NaN where at
	// some phase one of the shots has no such event or does not get to the pins.
	Difference, Spread Change

	// Error bounds how far the numbers, and the causes' shares, may be off by the
	// numerical error of the shots. It is nothing unless it was asked for.
	Error Change

	// Visible says whether the difference could be seen.
	Visible bool

	// Assumed says in how many sets of assumed values the conclusions hold.
	Assumed AssumedResult

	// Mechanisms are shares of the difference by what happens, in the order of
	// [Mechanisms]; they add up to it. See [Mechanism].
	Mechanisms []Cause

	// Inputs are shares of the difference by what was given, one for each
	// of Differ; they add up to it. See [Input].
	Inputs []Cause

	// Impossible says why a ball could not be made by way of which shares are found;
	// nil as a rule.
	Impossible error
}

// Cause is a share of a difference.
type Cause struct {
	Name string
	Change
}

// Visible is what can be seen: a difference that is smaller by both measures
// cannot. Both are assumed.
type Visible struct {
	Boards       float64 // at the pins
	FrictionRead float64 // m, of the distance at which the friction is read
}

// DefaultVisible returns the assumed default.
func DefaultVisible() Visible { return Visible{Boards: 0.5, FrictionRead: units.Foot} }

// sees reports whether a difference can be seen. Where one ball is lost more often
// than the other it can.
func (v Visible) sees(d Change, lostA, lostB int) bool {
	return lostA != lostB || math.Abs(d.AtPins) >= v.Boards || math.Abs(d.FrictionRead) >= v.FrictionRead
}

// Run finds the lines, throws the shots and reports their differences.
//
// It is an error if a delivery's ball cannot be drilled, if there is no line or
// if a shot breaks down, and that of the context if it ends.
func (c Study) Run(ctx context.Context) (Result, error) {
	n := len(c.Deliveries)
	for _, p := range c.Pairs {
		for _, i := range p {
			if i < 0 || i >= n {
				return Result{}, fmt.Errorf("compare: there is no delivery %d to compare", i)
			}
		}
	}
	for _, i := range c.Lines {
		if i >= n || len(c.Lines) != n {
			return Result{}, fmt.Errorf("compare: %d deliveries, the lines of %d of them, and that of delivery %d", n, len(c.Lines), i)
		}
	}
	c.Settings.ExchangeSpacing = -1
	c.Settings.Tolerance, c.Settings.EvenNodes = cmp.Or(c.Settings.Tolerance, studies.ManyShotsTolerance), true
	c.Deliveries = slices.Clone(c.Deliveries)
	for i := range c.Deliveries {
		d := &c.Deliveries[i]
		var err error
		if d.Ball, err = d.Drill(); err != nil {
			return Result{}, err
		}
	}
	found, err := c.aimed(ctx)
	if err != nil {
		return Result{}, err
	}
	var b shotList
	shots := make([]variants, n)
	for i, d := range c.Deliveries {
		shots[i] = b.variants(d, c)
	}
	plans := make([]plan, len(c.Pairs))
	for i, p := range c.Pairs {
		plans[i] = b.plan(c.Deliveries[p[0]], c.Deliveries[p[1]], shots[p[0]], shots[p[1]])
	}
	trials := c.trials(found)
	if err := b.run(ctx, c, trials); err != nil {
		return Result{}, err
	}
	result := Result{Shots: make([]ShotResult, n), Pairs: make([]Pair, len(plans)), Visible: c.Visible}
	for i, v := range shots {
		result.Shots[i] = traced(c.Deliveries[i], v.full.shots, c.Settings)
		result.Shots[i].Misses = misses(v.missed)
		if c.Lines != nil && c.Lines[i] >= 0 {
			aimed := found[c.Lines[i]].PocketResult
			result.Shots[i].Aimed = &aimed
		}
	}
	for i, p := range c.Pairs {
		pair := plans[i].pair(shots[p[0]], shots[p[1]], c)
		pair.A, pair.B = p[0], p[1]
		x, y := result.Shots[p[0]], result.Shots[p[1]]
		pair.Visible = !pair.Identical && c.Visible.sees(pair.Difference, x.Lost, y.Lost)
		pair.Assumed = holds(trials, p, c.Visible)
		if c.Settings.PathSpacing >= 0 {
			pair.along(c.Deliveries[p[0]], c.Deliveries[p[1]], x.Shot, y.Shot)
		}
		result.Pairs[i] = pair
	}
	return result, nil
}

type variants struct {
	full    *phasedShot // as given
	finer   *phasedShot // the same at a tighter tolerance, if asked for
	clean   *phasedShot // without oil on the ball
	centred *phasedShot // and with equal moments

	missed [2]*phasedShot // where the line is missed to the outside and to the inside
}

// variants puts the shots of a delivery on the list.
func (b *shotList) variants(d studies.Undrilled, c Study) variants {
	v := variants{
		full:    b.add(&phasedShot{Undrilled: d, given: true, kept: true, traced: c.Settings.PathSpacing >= 0}),
		centred: b.add(&phasedShot{Undrilled: d, given: true, equal: true}),
	}
	if c.Errors {
		v.finer = b.add(&phasedShot{Undrilled: d, given: true, finer: true})
	}
	v.missed = b.missed(d)
	v.clean = v.full
	if !d.Specification.Memory.Off {
		clean := d
		clean.Specification.Memory.Off = true
		v.clean = b.add(&phasedShot{Undrilled: clean, given: true})
	}
	return v
}

// pair reads the differences off the shots.
func (p plan) pair(a, b variants, c Study) Pair {
	r := Pair{Identical: len(p.differ) == 0, Differ: p.differ, Parting: math.NaN()}
	r.Difference, r.Spread = difference(a.full, b.full)
	if c.Errors {
		r.Error = numericalError(a, b, c.Settings.Tolerance)
	}
	if r.Identical {
		return r
	}
	r.Mechanisms, r.Inputs, r.Impossible = p.causes(a, b)
	for _, list := range [][]Cause{r.Mechanisms, r.Inputs} {
		for i := range list {
			list[i].Change = list[i].where(r.Difference)
		}
	}
	return r
}
