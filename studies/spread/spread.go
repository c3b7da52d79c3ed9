package spread

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"lanesim/physics"
	"lanesim/studies"
)

// Study finds where a bowler's deliveries end: each is drawn from the repeatability and thrown on a lane that
// does not change.
type Study struct {
	// Setups are thrown with the same deviates: those of delivery k depend only on Seed and k.
	Setups []studies.Setup

	// Pairs are the indices of the setups a and b whose pocket shares are compared.
	Pairs [][2]int

	// Shots is the number of deliveries of each setup, at most if Until is given; 0 means 1000.
	Shots int
	Seed  uint64

	// Until, if not 0, is the half width of the interval of the pocket share at which the deliveries end,
	// once all setups have reached it. It is checked after every 250 deliveries. Stopping by the width
	// changes the confidence only slightly.
	Until float64

	// Misses is the number of deliveries that are thrown again without each deviation; 0 means 500, a
	// negative number none.
	Misses int

	// Sobol is the number of rows for the Sobol indices, up to nine shots in each; 0 leaves them out.
	Sobol int

	// Settings are passed through [studies.ForManyShots].
	Settings physics.Settings

	studies.Work // its progress counts shots, of at most the total
}

// Result has the deliveries of all setups.
type Result struct {
	// Shots is the number of deliveries of each setup, fewer than requested if the interval was narrow enough
	// or the context ended.
	Shots int

	Setups      []SetupResult
	Differences []ShareDifference // in the order of the pairs
}

// SetupResult has the deliveries of one setup.
type SetupResult struct {
	Each []ShotResult

	Pocket, GoodAngle studies.Count // a ball that does not reach the pins is a hit in neither

	// EntryBoard and EntryAngle, in rad, are those of the balls that reach the pins.
	EntryBoard, EntryAngle studies.Distribution

	// Ends counts the deliveries by status.
	Ends map[physics.Status]int

	// Line is the shot without deviations.
	Line ShotResult

	// Misses has the effect of each deviation, in the order of [studies.AllVaried].
	Misses []Miss

	// SobolRows is the number of rows used for the Sobol indices of the entry board: those whose shots all
	// reach the pins.
	SobolRows int
}

// ShotResult is one delivery, kept small since there are millions.
type ShotResult struct {
	EntryBoard float64 // board at the pins; NaN if the ball does not reach them
	EntryAngle float64 // rad, likewise
	Pocket     bool
	GoodAngle  bool

	end uint8 // index into shotEnds
}

// shotEnds lists the statuses of shots.
var shotEnds = physics.AllStatuses()

// Status returns how the shot ended.
func (s ShotResult) Status() physics.Status { return shotEnds[s.end] }

func (s ShotResult) reached() bool { return !math.IsNaN(s.EntryBoard) }

// ShareDifference compares the pocket shares of two setups over the same deliveries.
type ShareDifference struct {
	A, B int // indices of the setups
	studies.Paired
}

// Defaults and sizes of batches.
const (
	defaultSpreadShots = 1000
	defaultMisses      = 500

	// batch is the number of deliveries that a worker takes at a time: a few milliseconds.
	batch = 25

	// untilEvery is the number of deliveries after which the interval is checked.
	untilEvery = 10 * batch
)

// errNothingSpread means that a study has no setups.
var errNothingSpread = errors.New("spread: there are no setups")

// spreadRun is a running study.
type spreadRun struct {
	Study
	ctx        context.Context
	deliverers []studies.Deliverer
	each       [][]ShotResult // of each setup
	done       []bool         // batches
	counted    int            // shots
	total      int
}

// Run throws the deliveries.
//
// It is an error if there are no setups, if correlations contradict each other or if a shot fails. If the
// context ends, Run returns the context's error with the deliveries of the batches before the first
// unfinished one, and without the later parts.
func (s Study) Run(ctx context.Context) (Result, error) {
	r, err := s.begin(ctx)
	if err != nil {
		return Result{}, err
	}
	shots, err := r.throwAll()
	if err != nil && ctx.Err() == nil {
		return Result{}, err
	}
	result := Result{Shots: shots}
	for i := range r.Setups {
		result.Setups = append(result.Setups, scattered(r.each[i][:shots]))
	}
	for _, pair := range r.Pairs {
		d := ShareDifference{A: pair[0], B: pair[1]}
		for k := range shots {
			d.Add(r.each[d.A][k].Pocket, r.each[d.B][k].Pocket)
		}
		result.Differences = append(result.Differences, d)
	}
	if shots > 0 {
		r.explain(&result)
	}
	for _, step := range []func(*Result) error{r.throwAlone, r.without, r.sobol} {
		if err == nil {
			err = step(&result)
		}
	}
	if err != nil && ctx.Err() == nil {
		return Result{}, err
	}
	if err == nil {
		r.Report(r.total, r.total)
	}
	return result, err
}

// begin sets the defaults and prepares the run.
func (s Study) begin(ctx context.Context) (*spreadRun, error) {
	if len(s.Setups) == 0 {
		return nil, errNothingSpread
	}
	for _, pair := range s.Pairs {
		for _, i := range pair {
			if i < 0 || i >= len(s.Setups) {
				return nil, fmt.Errorf("spread: there is no setup %d", i)
			}
		}
	}
	if s.Shots <= 0 {
		s.Shots = defaultSpreadShots
	}
	s.Misses, s.Sobol = max(0, cmp.Or(s.Misses, defaultMisses)), max(0, s.Sobol)
	s.Settings = studies.ForManyShots(s.Settings)
	s.Settings.EndOnly = true
	r := &spreadRun{Study: s, ctx: ctx, done: make([]bool, (s.Shots+batch-1)/batch)}
	r.total = len(s.Setups) * (s.Shots + 1)
	for _, setup := range s.Setups {
		d, err := setup.Repeatability.Deliverer(setup.Release)
		if err != nil {
			return nil, err
		}
		r.deliverers = append(r.deliverers, d)
		r.each = append(r.each, make([]ShotResult, s.Shots))
		varied := len(setup.Repeatability.Deviating())
		r.total += varied * (2 + min(s.Misses, s.Shots))
		if varied > 0 {
			r.total += s.Sobol * (2 + varied)
		}
	}
	return r, nil
}

// parallel does jobs of several shots each and reports the progress.
func (r *spreadRun) parallel(jobs, shots int, job func(*physics.Thrower, int) error) error {
	before := r.counted
	defer func() { r.counted = before + jobs*shots }()
	return studies.InParallel(r.ctx, r.Workers, jobs, func(done, _ int) {
		// The last step is reported at the end of the run.
		if now := before + done*shots; now < r.total {
			r.Report(now, r.total)
		}
	}, job)
}

// throwAll throws the deliveries and returns the number of each setup that is used.
func (r *spreadRun) throwAll() (int, error) {
	round := r.Shots
	if r.Until > 0 {
		round = untilEvery
	}
	for from := 0; from < r.Shots; from += round {
		to := min(from+round, r.Shots)
		batches := (to - from + batch - 1) / batch
		err := r.parallel(batches, batch*len(r.Setups), func(thrower *physics.Thrower, job int) error {
			first := from + job*batch
			err := r.throwBatch(thrower, first, min(first+batch, to))
			r.done[first/batch] = err == nil
			return err
		})
		if err != nil {
			finished := slices.Index(r.done, false)
			if finished < 0 { // the context ended after the last
				return r.Shots, err
			}
			return min(finished*batch, r.Shots), err
		}
		if r.Until > 0 && r.narrowEnough(to) {
			return to, nil
		}
	}
	return r.Shots, nil
}

// throwBatch throws deliveries from to to − 1 of every setup.
func (r *spreadRun) throwBatch(thrower *physics.Thrower, from, to int) error {
	draws := studies.NewSampler()
	for k := from; k < to; k++ {
		z := draws.Deviates(r.Seed, uint64(k))
		for i, d := range r.deliverers {
			var err error
			if r.each[i][k], err = r.throw(thrower, i, d.Delivery(z)); err != nil {
				return fmt.Errorf("delivery %d: %w", k+1, err)
			}
		}
	}
	return nil
}

// throw throws a setup's ball.
func (r *spreadRun) throw(thrower *physics.Thrower, setup int, release physics.Release) (ShotResult, error) {
	s := &r.Setups[setup]
	shot, err := thrower.Throw(s.Lane, s.Ball, release, r.Settings)
	if err != nil {
		return ShotResult{}, err
	}
	end := slices.Index(shotEnds, shot.Status)
	if end < 0 {
		return ShotResult{}, fmt.Errorf("spread: a shot has the unknown end %q", shot.Status)
	}
	return ShotResult{EntryBoard: shot.EntryBoard(), EntryAngle: shot.EntryAngle(), Pocket: shot.Summary.Pocket, GoodAngle: shot.Summary.GoodAngle, end: uint8(end)}, nil
}

// narrowEnough reports whether the interval of every setup's share over its first shots is narrow enough.
func (r *spreadRun) narrowEnough(shots int) bool {
	for _, each := range r.each {
		if studies.WilsonInterval(pocketsOf(each[:shots])).HalfWidth() > r.Until {
			return false
		}
	}
	return true
}

func pocketsOf(each []ShotResult) studies.Count {
	return studies.CountWhere(each, func(s ShotResult) bool { return s.Pocket })
}

// scattered counts a setup's deliveries.
func scattered(each []ShotResult) SetupResult {
	r := SetupResult{Each: each, Pocket: pocketsOf(each), GoodAngle: studies.CountWhere(each, func(s ShotResult) bool { return s.GoodAngle }), Ends: map[physics.Status]int{}}
	r.Line = ShotResult{EntryBoard: math.NaN(), EntryAngle: math.NaN()} // not yet thrown
	var ends [256]int
	for _, s := range each {
		ends[s.end]++
		if s.reached() {
			r.EntryBoard.Of++
		}
	}
	for i, n := range ends {
		if n > 0 {
			r.Ends[shotEnds[i]] = n
		}
	}
	values := make([]float64, r.EntryBoard.Of)
	of := func(value func(ShotResult) float64) studies.Distribution {
		values = values[:0]
		for _, s := range each {
			if s.reached() {
				values = append(values, value(s))
			}
		}
		return studies.NewDistribution(values)
	}
	r.EntryBoard = of(func(s ShotResult) float64 { return s.EntryBoard })
	r.EntryAngle = of(func(s ShotResult) float64 { return s.EntryAngle })
	return r
}
