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

// Study compares deliveries: how much they differ, where, why, and how sure that is.
//
// The orientation of the core at release is not known, so every number is a mean over [Phases] phases of the
// release; the phases of the releases are ignored.
type Study struct {
	Deliveries []studies.Undrilled // their repeatability is ignored

	// Lines has, for each delivery, the index of the delivery for which its launch angle to the middle of the
	// pocket is found, possibly its own. A negative index keeps the angle of the release; nil keeps all
	// angles.
	Lines []int

	// Pairs are the indices of the deliveries a and b to compare; differences are b − a.
	Pairs [][2]int

	// Settings are those of all shots, with the tolerance of studies if they have none. A negative
	// PathSpacing keeps neither path nor track and leaves out the differences along the path.
	Settings physics.Settings

	// Visible is the least difference that can be seen, usually [DefaultVisible].
	Visible Visible

	// Sets is the number of sets of assumed values with which conclusions are tried. 0 means
	// [studies.DefaultAssumedSets]; a negative number none.
	Sets int

	// Errors estimates the numerical error, by computing every delivery again at a tighter tolerance.
	Errors bool

	studies.Work // its progress counts the lines to find, then the shots
}

// Phases is the number of evenly spaced phases of the release over which comparisons average.
const Phases = 12

// Result has the deliveries and the pairs, in the order of the study.
type Result struct {
	Shots []ShotResult
	Pairs []Pair

	Visible Visible
}

// Change has the numbers in which pairs are compared: a difference b − a, or a cause's share of it. A number
// that does not exist is NaN.
type Change struct {
	AtPins       float64 // boards at the pins
	FrictionRead float64 // m, of the distance at which the friction is read
	Breakpoint   float64 // m, of the breakpoint's distance
	HookStart    float64 // m, of the hook start's distance
	EntryAngle   float64 // rad
}

// Pair is the comparison of two deliveries.
type Pair struct {
	A, B int // indices of the deliveries

	// Identical is set if all inputs of the shots are equal. There are then no causes.
	Identical bool

	// Differ lists the inputs in which the deliveries differ, in the order of [Inputs].
	Differ []Input

	// Boards are the differences along the mean paths.
	Boards []BoardDifference

	// Parting is the distance in m at which the mean paths first are [PartingBoards] apart; NaN if they never
	// are or start apart.
	Parting float64

	// Difference is the mean of the differences over the phases, both balls at the same phase, and Spread
	// their standard deviation. A number is NaN if at some phase one of the shots lacks the event or does not
	// reach the pins.
	Difference, Spread Change

	// Error bounds the numerical error of the numbers and of the causes' shares. It is 0 unless Study.Errors
	// is set.
	Error Change

	// Visible is set if the difference can be seen.
	Visible bool

	// Assumed counts the sets of assumed values in which each conclusion is true.
	Assumed AssumedResult

	// Mechanisms are shares of the difference by mechanism, in the order of [Mechanisms]; they add up to it.
	// See [Mechanism].
	Mechanisms []Cause

	// Inputs are shares of the difference by input, one for each of Differ; they add up to it. See [Input].
	Inputs []Cause

	// Impossible is why a mixed ball, needed for the shares, is impossible; usually nil.
	Impossible error
}

// Cause is a share of a difference.
type Cause struct {
	Name string
	Change
}

// Visible is the least difference that can be seen: a difference below both measures cannot. Both are
// assumed.
type Visible struct {
	Boards       float64 // at the pins
	FrictionRead float64 // m, of the distance at which the friction is read
}

// DefaultVisible returns the assumed default.
func DefaultVisible() Visible { return Visible{Boards: 0.5, FrictionRead: units.Foot} }

// sees reports whether a difference can be seen. It can if one ball is lost more often than the other.
func (v Visible) sees(d Change, lostA, lostB int) bool {
	return lostA != lostB || math.Abs(d.AtPins) >= v.Boards || math.Abs(d.FrictionRead) >= v.FrictionRead
}

// Run finds the lines, throws the shots and reports their differences.
//
// It is an error if a delivery's ball cannot be drilled, if there is no line, if a shot fails or if the
// context ends.
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
		pair.Assumed = countConclusions(trials, p, c.Visible)
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

	missed [2]*phasedShot // with the line missed to the outside and to the inside
}

// variants adds the shots of a delivery to the list.
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

// pair computes the comparison of two deliveries from their shots.
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
