// Package seek searches for inputs, such as a layout, a surface or a line, with which a shot has wanted
// properties.
//
// A [Study] throws shots at points spread over the ranges of the inputs, improves the best by ever smaller
// steps, and returns a few of the best that differ as [Result]s, each with its deviation from the wanted
// numbers and the number of sets of assumed values in which it stays near.
package seek

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"
	"sync"

	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/sweep"
	"lanesim/units"
)

// Want has the wanted numbers of a shot, or those that it has: means over phases of the release. A number is
// NaN if it is not wanted or does not exist.
type Want struct {
	FrictionRead, BreakpointDistance float64 // m
	Breakpoint, EntryBoard           float64 // boards
	EntryAngle                       float64 // rad
}

// None returns a Want without wanted numbers.
func None() Want {
	n := math.NaN()
	return Want{n, n, n, n, n}
}

// Values returns the numbers in the order: friction read, distance and board of the breakpoint, entry board,
// entry angle.
func (w Want) Values() [5]float64 {
	return [5]float64{w.FrictionRead, w.BreakpointDistance, w.Breakpoint, w.EntryBoard, w.EntryAngle}
}

func wantOf(v [5]float64) Want { return Want{v[0], v[1], v[2], v[3], v[4]} }

// Near is the allowed deviation of each number: about what can be seen on a lane. It is assumed.
var Near = Want{units.Foot, units.Foot, 0.5, 0.5, 0.5 * units.Degree}

// Study searches the ranges of the inputs.
type Study struct {
	Want Want

	// Dimensions are the ranges and the lists of values of the inputs.
	Dimensions []sweep.Dimension

	// Worker returns a function that makes the setup at a place in the ranges, and reports whether its launch
	// angle to the pocket must still be found. It is called once for each worker.
	Worker func() func(at []sweep.Coordinate) (setup studies.Setup, aims bool, err error)

	// Settings are passed through [studies.ForManyShots].
	Settings physics.Settings

	Points int // number of points thrown first; 0 means 256
	Keep   int // largest number of results; 0 means 3
	Sets   int // number of sets of assumed values; 0 means 24, negative none

	studies.Work // its progress counts places, stage by stage
}

// Result is a place in the ranges with its shot.
type Result struct {
	At    []sweep.Coordinate
	Setup studies.Setup // with the launch angle used

	Outcome Want    // mean over twelve phases
	Off     float64 // root of the sum of squares of the deviations, in units of [Near]
	Near    bool    // no number deviates by more than Near

	// Sets is the number of sets of assumed values, NearIn the number of those in which it stays near, and
	// Low and High are the range of each number over the sets.
	Sets, NearIn int
	Low, High    Want
}

// Numbers of the search.
const (
	usualPoints = 256
	usualKeep   = 3
	refined     = 8    // places to improve
	firstStep   = 0.12 // steps as shares of a range
	lastStep    = 0.004
	apart       = 0.08 // least distance between results, as a share of a range
	lookPhases  = 3
	allPhases   = 12

	// Deviations for a number that does not exist and for a lost ball, in units of Near.
	missing, lost = 30.0, 100.0
)

// errNoPlace says that no place in the ranges can be thrown.
var errNoPlace = errors.New("no place in the ranges can be thrown")

// Run returns the best places, the better first. It is an error if no place can be thrown, if a shot fails or
// if the context ends.
func (q Study) Run(ctx context.Context) ([]Result, error) {
	q.Points, q.Keep, q.Sets = cmp.Or(q.Points, usualPoints), cmp.Or(q.Keep, usualKeep), cmp.Or(q.Sets, studies.DefaultAssumedSets)
	q.Settings = studies.ForManyShots(q.Settings)
	first, err := sweep.Design{Kind: sweep.Halton, Dimensions: q.Dimensions, Points: uint64(q.Points)}.Sampler()
	if err != nil {
		return nil, err
	}
	list := make([]Result, q.Points)
	if err := q.parallel(ctx, len(list), func(w *worker, k int) error {
		at := make([]sweep.Coordinate, len(q.Dimensions))
		first.Point(uint64(k), at)
		list[k] = w.throwPlace(at, lookPhases)
		return ctx.Err()
	}); err != nil {
		return nil, err
	}
	best := q.distinct(list, refined, 2*apart)
	if len(best) == 0 {
		return nil, errNoPlace
	}
	if err := q.parallel(ctx, len(best), func(w *worker, i int) error {
		best[i] = w.climb(best[i])
		return ctx.Err()
	}); err != nil {
		return nil, err
	}
	best = q.distinct(best, q.Keep, apart)
	err = q.parallel(ctx, len(best), func(w *worker, i int) error {
		best[i] = w.throwPlace(best[i].At, allPhases)
		return w.tryAssumed(&best[i])
	})
	slices.SortStableFunc(best, better)
	return best, err
}

func (q Study) parallel(ctx context.Context, n int, job func(w *worker, i int) error) error {
	workers := sync.Pool{New: func() any { return &worker{Study: q, setup: q.Worker(), thrower: physics.NewThrower()} }}
	return studies.InParallel(ctx, q.Workers, n, q.Progress, func(_ *physics.Thrower, i int) error {
		w := workers.Get().(*worker)
		defer workers.Put(w)
		return job(w, i)
	})
}

func better(a, b Result) int { return cmp.Compare(a.Off, b.Off) }

// distinct returns the best of a list with a distance between them.
func (q Study) distinct(list []Result, most int, apart float64) []Result {
	list = slices.Clone(list)
	slices.SortStableFunc(list, better)
	var kept []Result
	for _, f := range list {
		if len(kept) == most {
			break
		}
		if math.IsInf(f.Off, 1) || slices.ContainsFunc(kept, func(o Result) bool { return q.distance(f.At, o.At) < apart }) {
			continue
		}
		kept = append(kept, f)
	}
	return kept
}

// distance returns the largest difference in one of the ranges; different values of a list are far apart.
func (q Study) distance(a, b []sweep.Coordinate) float64 {
	most := 0.0
	for i, d := range q.Dimensions {
		if d.Levels > 0 && a[i].Level != b[i].Level {
			return 1
		}
		most = max(most, math.Abs(a[i].Share-b[i].Share))
	}
	return most
}

type worker struct {
	Study
	setup   func([]sweep.Coordinate) (studies.Setup, bool, error)
	thrower *physics.Thrower
}

// throwPlace throws the shot of a place. Off is +Inf for an impossible place or one without a line to the pocket.
func (w *worker) throwPlace(at []sweep.Coordinate, phases int) Result {
	f := Result{At: slices.Clone(at), Off: math.Inf(1)}
	setup, aims, err := w.setup(at)
	if err != nil {
		return f
	}
	if aims {
		if setup.Release, err = aim.AtPocket(setup, w.Settings); err != nil {
			return f
		}
	}
	f.Setup = setup
	if f.Outcome, f.Off, err = w.throw(setup, phases); err != nil {
		f.Off = math.Inf(1)
		return f
	}
	f.Near = w.isNear(f.Outcome)
	return f
}

// throw throws a setup at some phases.
func (w *worker) throw(setup studies.Setup, phases int) (outcome Want, off float64, err error) {
	settings := w.Settings
	settings.PathSpacing, settings.ExchangeSpacing, settings.TrackSpacing = -1, -1, 0
	var sum [5]float64
	for k := range phases {
		r := setup.Release
		r.Phase += 2 * math.Pi * float64(k) / float64(phases)
		shot, err := w.thrower.Throw(setup.Lane, setup.Ball, r, settings)
		if err != nil {
			return None(), 0, err
		}
		v := read(shot).Values()
		for i := range sum {
			sum[i] += v[i] / float64(phases)
		}
	}
	outcome = wantOf(sum)
	return outcome, w.deviation(outcome), nil
}

func read(s physics.Shot) Want {
	w := None()
	if e := s.Events.FrictionRead; e != nil {
		w.FrictionRead = e.Distance
	}
	if e := s.Events.Breakpoint; e != nil {
		w.BreakpointDistance, w.Breakpoint = e.Distance, e.Board
	}
	if e := s.Events.Pins; e != nil {
		w.EntryBoard, w.EntryAngle = e.Board, e.Heading
	}
	return w
}

// deviation returns the deviation of a shot from the wanted numbers, as Result.Off.
func (w *worker) deviation(outcome Want) float64 {
	sum := 0.0
	got, near := outcome.Values(), Near.Values()
	if math.IsNaN(outcome.EntryBoard) {
		sum += lost * lost
	}
	for i, want := range w.Want.Values() {
		switch d := (got[i] - want) / near[i]; {
		case math.IsNaN(want):
		case math.IsNaN(d):
			sum += missing * missing
		default:
			sum += d * d
		}
	}
	return math.Sqrt(sum)
}

// isNear reports whether no wanted number deviates by more than Near.
func (w *worker) isNear(outcome Want) bool {
	got, near := outcome.Values(), Near.Values()
	for i, want := range w.Want.Values() {
		if !math.IsNaN(want) && !(math.Abs(got[i]-want) <= near[i]) {
			return false
		}
	}
	return true
}

// climb improves a place by ever smaller steps in each range.
func (w *worker) climb(f Result) Result {
	for step := firstStep; step >= lastStep; step /= 2 {
		for moved := true; moved; {
			moved = false
			for i, d := range w.Dimensions {
				for _, by := range []float64{-1, 1} {
					at := slices.Clone(f.At)
					if d.Levels > 0 {
						at[i].Level += int(by)
						if at[i].Level < 0 || at[i].Level >= d.Levels {
							continue
						}
					} else if at[i].Share = min(max(at[i].Share+by*step, 0), 1); at[i].Share == f.At[i].Share {
						continue
					}
					if next := w.throwPlace(at, lookPhases); next.Off < f.Off-1e-6 {
						f, moved = next, true
					}
				}
			}
		}
	}
	return f
}

// tryAssumed throws a place with sets of assumed values.
func (w *worker) tryAssumed(f *Result) error {
	f.Low, f.High = None(), None()
	for _, set := range studies.AssumedSets(max(w.Sets, 0)) {
		setup := f.Setup
		set.Lanes(&setup.Lane)
		set.Balls(&setup.Ball)
		if _, aims, err := w.setup(f.At); err == nil && aims {
			r, err := aim.AtPocket(setup, w.Settings)
			if err != nil {
				f.Sets++
				continue
			}
			setup.Release = r
		}
		does, _, err := w.throw(setup, lookPhases)
		if err != nil {
			return err
		}
		if f.Sets++; w.isNear(does) {
			f.NearIn++
		}
		f.Low, f.High = each(f.Low, does, math.Min), each(f.High, does, math.Max)
	}
	return nil
}

// each applies a function to two Wants, number by number; a NaN gives the other number.
func each(a, b Want, join func(x, y float64) float64) Want {
	x, y := a.Values(), b.Values()
	for i := range x {
		switch {
		case math.IsNaN(x[i]):
			x[i] = y[i]
		case !math.IsNaN(y[i]):
			x[i] = join(x[i], y[i])
		}
	}
	return wantOf(x)
}
