package wear

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/units"
)

// Study finds how a lane changes under the balls thrown on it. Every delivery is drawn from its bowler's
// repeatability, thrown on the present lane, and takes or lays down oil along its path. Balls are wiped after
// each delivery.
type Study struct {
	// Lane is the fresh lane; it must be oiled.
	Lane lane.Lane

	// Setups are the bowlers with their balls; their lanes are ignored.
	Setups []studies.Setup

	// Order has the index of the setup of each delivery.
	Order []int

	// Practice is the number of first deliveries that wear the lane without being counted: blocks and stays
	// begin after them.
	Practice int

	// Sessions is the number of sessions; 0 means 1. The deviates of delivery k of session i depend only on
	// Seed, i and k.
	Sessions int
	Seed     uint64

	// Block is the number of deliveries of a block; 0 means DefaultBlock.
	Block int

	// Share is the pocket share, from 0 to 1, below which a line no longer stays playable; 0 means half of
	// the share over its setup's first Block deliveries.
	Share float64

	// By may be [aim.ByStrikeShare]: blocks then have the share of strikes, too, by the stored table of
	// racks.
	By aim.Measure

	// Marks are deliveries, counted from 0, before which the oil of the first session is kept.
	Marks []int

	// Settings are passed through [studies.ForManyShots].
	Settings physics.Settings

	// ColumnsPerBoard and RowSpacing, in m, define the grid of oil; zeros mean 4 and half a foot.
	ColumnsPerBoard int
	RowSpacing      float64

	studies.Work // its progress counts sessions
}

// Result has the deliveries and the lane.
type Result struct {
	// Sessions is the number of sessions played, fewer than requested if the context ended.
	Sessions int

	// Deliveries are those of each session.
	Deliveries [][]DeliveryResult

	Blocks []Block
	Stays  []Stay // one for each setup
	Oil    OilAccount

	// Fresh and After are the oil before and after the first session, Marked that before the deliveries of
	// Study.Marks.
	Fresh, After *lane.OilMap
	Marked       []*lane.OilMap
}

// DeliveryResult is the result of one delivery of a session.
type DeliveryResult struct {
	Setup      int
	Release    physics.Release
	Status     physics.Status
	EntryBoard float64 // board at the pins; NaN if the ball does not reach them
	EntryAngle float64 // rad, likewise
	EntrySpeed float64 // m/s, likewise
	Pocket     bool
	GoodAngle  bool
	Oil        physics.OilBudget
}

// Block summarises a setup's deliveries within a block, over all sessions.
type Block struct {
	Setup          int
	From, To       int           // deliveries after the practice, counted from 0; To is the last
	Pocket         studies.Count // of this setup's deliveries in the block, in all sessions
	EntryBoardMean float64       // of those that reach the pins; NaN if there are none
	StrikeShare    studies.Mean  // only with [aim.ByStrikeShare]
}

// Stay is how long a setup's line stays playable: the delivery after the practice, counted from 1, by which
// the pocket share over the setup's last Block deliveries, taken over all sessions, is below Share, and that
// over all later deliveries is, too.
type Stay struct {
	Setup int
	Share float64

	// Median and Interval are taken over resampled sessions (bootstrap, 95 %); +Inf if the share never falls
	// below. With one session the interval is NaN. If a setup never hit at first, both are NaN.
	Median   float64
	Interval studies.Interval
}

// Longer compares how long the lines of two setups stay playable: positive if a's stays longer. A line that
// never hit in its first deliveries does not stay at all.
func (r Result) Longer(a, b int) int {
	shot := func(setup int) float64 {
		for _, s := range r.Stays {
			if s.Setup == setup && !math.IsNaN(s.Median) {
				return s.Median
			}
		}
		return 0
	}
	return cmp.Compare(shot(a), shot(b))
}

// OilAccount is where the oil is at the end, in m³, means over the sessions. Start is the oil on the fresh
// lane, which is the sum of the others.
type OilAccount struct{ Start, Lane, Balls, Soaked float64 }

// DefaultBlock is the default number of deliveries of a block.
const DefaultBlock = 10

// Defaults of the wear study.
const (
	defaultColumns    = 4
	defaultRowSpacing = units.Foot / 2

	// exchangeSpacing is the length in m of the parts of the path over which the oil exchanged is added up.
	exchangeSpacing = units.Foot / 4

	// resamples is the number of resampled sets of sessions for an interval.
	resamples = 1000
)

// Run plays the sessions.
//
// It is an error if the lane is dry, if a setup's correlations contradict each other or if a shot fails. If
// the context ends, Run returns the finished sessions and the context's error.
func (w Study) Run(ctx context.Context) (Result, error) {
	if len(w.Setups) == 0 || len(w.Order) == 0 {
		return Result{}, errors.New("wear: a session needs setups and the order of their deliveries")
	}
	if w.Block < 0 || w.ColumnsPerBoard < 0 || !(w.RowSpacing >= 0) || !(w.Share >= 0 && w.Share <= 1) {
		return Result{}, fmt.Errorf("wear: blocks of %d deliveries, a share of %g and a grid of oil of %d columns a board and %g m a row cannot be", w.Block, w.Share, w.ColumnsPerBoard, w.RowSpacing)
	}
	w.Sessions = max(1, w.Sessions)
	w.Block = cmp.Or(w.Block, DefaultBlock)
	w.ColumnsPerBoard = cmp.Or(w.ColumnsPerBoard, defaultColumns)
	w.RowSpacing = cmp.Or(w.RowSpacing, defaultRowSpacing)
	fresh, err := lane.NewWearing(w.Lane, w.ColumnsPerBoard, w.RowSpacing)
	if err != nil {
		return Result{}, err
	}
	deliverers := make([]studies.Deliverer, len(w.Setups))
	for i, s := range w.Setups {
		if deliverers[i], err = s.Repeatability.Deliverer(s.Release); err != nil {
			return Result{}, err
		}
	}
	if w.Practice < 0 || w.Practice >= len(w.Order) {
		return Result{}, fmt.Errorf("wear: %d of %d deliveries are practice", w.Practice, len(w.Order))
	}
	for _, i := range w.Order {
		if i < 0 || i >= len(w.Setups) {
			return Result{}, fmt.Errorf("wear: there is no setup %d", i)
		}
	}
	result := Result{Deliveries: make([][]DeliveryResult, w.Sessions), Fresh: fresh.Clone().Map, Marked: make([]*lane.OilMap, len(w.Marks))}
	ends := make([]float64, w.Sessions)
	err = studies.InParallel(ctx, w.Workers, w.Sessions, w.Progress, func(thrower *physics.Thrower, session int) error {
		oil := fresh.Clone()
		list, err := w.session(ctx, thrower, session, oil, deliverers, result.Marked)
		if err != nil {
			return err
		}
		result.Deliveries[session] = list
		ends[session] = oil.Volume() - oil.Short()
		if session == 0 {
			result.After = oil.Map
		}
		return nil
	})
	if err != nil && ctx.Err() == nil {
		return Result{}, err
	}
	// Sessions that were interrupted are left out.
	played := result.Deliveries[:0]
	for session, list := range result.Deliveries {
		if list == nil {
			continue
		}
		played = append(played, list)
		result.Oil.Lane += ends[session]
		for _, d := range list {
			result.Oil.Balls += d.Oil.Ball
			result.Oil.Soaked += d.Oil.Soaked
		}
	}
	result.Deliveries, result.Sessions = played, len(played)
	if len(played) == 0 {
		return result, err
	}
	n := float64(len(played))
	result.Oil = OilAccount{fresh.Volume(), result.Oil.Lane / n, result.Oil.Balls / n, result.Oil.Soaked / n}
	result.Blocks = w.blocks(played)
	result.Stays = w.stays(played)
	return result, err
}

func (w Study) session(ctx context.Context, thrower *physics.Thrower, session int, oil *lane.Wearing, deliverers []studies.Deliverer, marked []*lane.OilMap) ([]DeliveryResult, error) {
	settings := studies.ForManyShots(w.Settings)
	settings.ExchangeSpacing = exchangeSpacing
	list := make([]DeliveryResult, 0, len(w.Order))
	for k, i := range w.Order {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if session == 0 {
			if at := slices.Index(w.Marks, k); at >= 0 {
				marked[at] = oil.Clone().Map
			}
		}
		d, err := throwWorn(thrower, oil, w.Lane, w.Setups[i].Ball, deliverers[i].Delivery(studies.DrawDeviates(w.Seed, uint64(session)<<32|uint64(k))), settings)
		if err != nil {
			return nil, fmt.Errorf("delivery %d of session %d: %w", k+1, session+1, err)
		}
		d.Setup = i
		list = append(list, d)
	}
	return list, nil
}

// throwWorn throws a ball on a lane with worn oil, wears the oil, and returns the result.
func throwWorn(thrower *physics.Thrower, oil *lane.Wearing, l lane.Lane, b ball.Ball, r physics.Release, s physics.Settings) (DeliveryResult, error) {
	l.Oil = oil.Map
	shot, err := thrower.Throw(l, b, r, s)
	if err != nil {
		return DeliveryResult{}, err
	}
	for _, e := range shot.Exchange {
		oil.Exchange(e.Distance, e.Lateral, e.Length, b.Memory.ContactWidth, e.Volume)
	}
	u := &shot.Summary
	d := DeliveryResult{Release: r, Status: shot.Status, EntryBoard: shot.EntryBoard(), EntryAngle: shot.EntryAngle(), EntrySpeed: math.NaN(), Pocket: u.Pocket, GoodAngle: u.GoodAngle, Oil: u.Oil}
	if at := shot.Events.Pins; at != nil {
		d.EntrySpeed = at.Speed
	}
	return d, nil
}

// stays finds how long each setup's line stays playable.
func (w Study) stays(sessions [][]DeliveryResult) []Stay {
	list := make([]Stay, len(w.Setups))
	for setup := range w.Setups {
		var at []int // deliveries of the setup
		for k, i := range w.Order {
			if i == setup && k >= w.Practice {
				at = append(at, k-w.Practice)
			}
		}
		hits := make([][]bool, len(sessions))
		for i, session := range sessions {
			for _, k := range at {
				hits[i] = append(hits[i], session[w.Practice+k].Pocket)
			}
		}
		s := Stay{Setup: setup, Share: w.Share, Median: math.Inf(1), Interval: studies.UnknownInterval()}
		all := make([]int, len(sessions))
		for i := range all {
			all[i] = i
		}
		if s.Share == 0 && len(at) > 0 {
			s.Share = windowShare(hits, all, min(w.Block, len(at))-1, w.Block) / 2
		}
		until := func(sessions []int) float64 { return staysUntil(hits, sessions, at, w.Block, s.Share) }
		switch {
		case s.Share == 0:
			s.Median = math.NaN() // a line that never hit has no share to lose
		case len(sessions) == 1:
			s.Median = until(all)
		default:
			s.Median, s.Interval = resampled(w.Seed, len(sessions), until)
		}
		list[setup] = s
	}
	return list
}

// resampled returns the median over resampled sessions of a quantity computed from them, and its 95 %
// interval.
func resampled(seed uint64, sessions int, of func(sessions []int) float64) (median float64, interval studies.Interval) {
	found, all := make([]float64, resamples), make([]int, sessions)
	for b := range found {
		r := studies.Draws(seed, studies.ForResampling, uint64(b))
		for i := range all {
			all[i] = r.IntN(sessions)
		}
		found[b] = of(all)
	}
	slices.Sort(found)
	const tail = 0.025
	return found[resamples/2], studies.Interval{Low: found[int(tail*resamples)], High: found[int((1-tail)*resamples)]}
}

// windowShare is the share of hits in the block of deliveries that ends with j,
// over the given sessions.
func windowShare(hits [][]bool, sessions []int, j, block int) float64 {
	from := max(0, j-block+1)
	var c studies.Count
	for _, i := range sessions {
		c = c.Plus(studies.CountOf(hits[i][from : j+1]))
	}
	return c.Share()
}

// staysUntil returns the first delivery, counted from 1 in the session, by which the share over a block is
// below the given one and that over all later deliveries is, too, so that a dip by chance does not count. It
// returns +Inf if there is none.
func staysUntil(hits [][]bool, sessions, at []int, block int, share float64) float64 {
	last := len(at) - 1
	for j := block - 1; j <= last; j++ {
		if windowShare(hits, sessions, j, block) < share && (j == last || windowShare(hits, sessions, last, last-j) < share) {
			return float64(at[j] + 1)
		}
	}
	return math.Inf(1)
}
