// Package carry finds what deliveries do at the pins: strikes and leaves, spares and their lines, and games.
// Its shares depend on assumed constants of the pins.
package carry

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/pins"
	"lanesim/studies"
)

// DefaultRacks is the default number of racks of a setup.
const DefaultRacks = 1000

const pathSpacing = 2e-3 // s

// Study rolls each setup's ball at many racks. Pins have their usual numbers for either hand: 7 is the left
// corner, 10 the right one.
type Study struct {
	Setups   []studies.Setup
	Standing pins.Leave // pins before the delivery; 0 means a full rack
	Racks    int        // of each setup; 0 means DefaultRacks
	Seed     uint64

	// Scatter draws a delivery for each rack from the setup's repeatability. Without it the shot without
	// deviations is rolled at every rack.
	Scatter bool

	Deck     pins.Settings
	Settings physics.Settings

	studies.Work // its progress counts the racks of all setups
}

// Result has the results of one setup's racks.
type Result struct {
	Line   physics.Shot  // the shot without deviations
	Entry  physics.State // its state at the head pin's distance
	Tally  pins.Tally
	Hit    physics.Hit // of the shot without deviations
	Missed int         // deliveries that did not reach the pins

	// EnteredBoard and EnteredAngle, in rad, are means over the deliveries that reached the pins.
	EnteredBoard, EnteredAngle float64

	// Typical is the index of the first rack with the most frequent outcome.
	Typical int

	hand ball.Hand

	deliveries []pins.Delivery // one for each rack, or one for all
}

// NotAtPinsError means that a shot does not reach the pins.
type NotAtPinsError struct{ Status physics.Status }

func (e *NotAtPinsError) Error() string {
	return fmt.Sprintf("the ball does not reach the pins: the shot ends with %q", string(e.Status))
}

var errShortLane = errors.New("carry: the lane ends before the pins")

// arrive returns the delivery of a shot at the pins.
func arrive(s studies.Setup, shot physics.Shot) (pins.Delivery, error) {
	if shot.Events.Pins == nil {
		return pins.Delivery{}, &NotAtPinsError{shot.Status}
	}
	if math.Abs(shot.Events.Pins.Distance-lane.HeadPin) > 1e-3 {
		return pins.Delivery{}, errShortLane
	}
	d := pins.FromShot(s.Ball, *shot.Events.Pins, s.Release.Hand)
	return d, d.Validate()
}

// Run rolls the racks, setup by setup. If the context ends, it returns the context's error with the finished
// results, the last one possibly with fewer racks.
func (q Study) Run(ctx context.Context) ([]Result, error) {
	if q.Racks <= 0 {
		q.Racks = DefaultRacks
	}
	q.Standing = cmp.Or(q.Standing, pins.All)
	q.Settings.EndOnly = true
	var all []Result
	for i, s := range q.Setups {
		r, err := q.rollSetup(ctx, s, i*q.Racks)
		if r.Tally.Racks > 0 {
			all = append(all, r)
		}
		if err != nil {
			return all, err
		}
	}
	q.Report(len(q.Setups)*q.Racks, len(q.Setups)*q.Racks)
	return all, nil
}

func (q Study) rollSetup(ctx context.Context, s studies.Setup, before int) (r Result, err error) {
	if r.Line, err = physics.NewThrower().Throw(s.Lane, s.Ball, s.Release, q.Settings); err != nil {
		return r, err
	}
	straight, err := arrive(s, r.Line)
	if err != nil {
		return r, err
	}
	r.Entry, r.hand = *r.Line.Events.Pins, s.Release.Hand
	pocket, _ := q.Settings.PocketOf(s.Release)
	r.Hit = physics.HitAt(r.Entry.Board, pocket)
	r.EnteredBoard, r.EnteredAngle = r.Entry.Board, r.Entry.Heading
	r.deliveries = []pins.Delivery{straight}
	racks := q.Racks
	if q.Scatter {
		thrown, err := Deliveries{s, q.Seed, q.Settings, studies.Work{Workers: q.Workers}}.throw(ctx, 0, q.Racks)
		if err != nil {
			return r, err
		}
		r.EnteredBoard, r.EnteredAngle, r.deliveries = 0, 0, nil
		for _, t := range thrown {
			if !t.Reached {
				r.Missed++
				continue
			}
			r.deliveries = append(r.deliveries, t.Delivery)
			r.EnteredBoard += t.Board
			r.EnteredAngle += t.Angle
		}
		racks = len(r.deliveries)
		r.EnteredBoard /= float64(racks)
		r.EnteredAngle /= float64(racks)
	}
	first := map[pins.Leave]int{}
	if racks > 0 {
		r.Tally, err = pins.Rolls{
			Settings: q.Deck, Delivery: r.delivery, Standing: turned(q.Standing, r.hand), Seed: q.Seed, Racks: racks, Workers: q.Workers,
			Progress: func(done, _ int) {
				if now := before + done; now < len(q.Setups)*q.Racks {
					q.Report(now, len(q.Setups)*q.Racks)
				}
			},
			Each: func(k int, one pins.Result) {
				if _, seen := first[one.Standing]; !seen {
					first[one.Standing] = k
				}
			},
		}.Run(ctx)
	}
	if err == nil {
		for range r.Missed {
			r.Tally.AddMissed(turned(q.Standing, r.hand))
		}
	}
	most := 0
	for l, k := range first {
		if n := r.Tally.Leaves[l]; n > most || n == most && k < r.Typical {
			most, r.Typical = n, k
		}
	}
	if r.hand == ball.Left {
		r.Tally = r.Tally.Mirror()
	}
	return r, err
}

// turned mirrors a left-hander's leave to a right-hander's, and back.
func turned(l pins.Leave, hand ball.Hand) pins.Leave {
	if hand == ball.Left {
		return l.Mirror()
	}
	return l
}

// delivery returns the delivery at a rack.
func (r *Result) delivery(number int) pins.Delivery {
	return r.deliveries[min(number, len(r.deliveries)-1)]
}

// Again rolls a rack of a result again and keeps the paths of ball and pins.
func (q Study) Again(r Result, number int) (pins.Result, error) {
	q.Standing = cmp.Or(q.Standing, pins.All)
	deck := q.Deck
	deck.PathSpacing = pathSpacing
	d, err := pins.NewDeck(deck)
	if err != nil {
		return pins.Result{}, err
	}
	one := d.Roll(r.delivery(number), turned(q.Standing, r.hand), q.Seed, uint64(number))
	if r.hand == ball.Left {
		one = one.Mirror()
	}
	return one, nil
}

// Deflection returns the change of the ball's heading at the pins in rad, as the mean over the racks.
func (r Result) Deflection() float64 { return r.Tally.ExitHeading() - r.EnteredAngle }

// arrival is a delivery at the pins.
type arrival struct {
	Reached      bool // false if it ends before them
	Delivery     pins.Delivery
	Board, Angle float64 // at the head pin's distance; rad
	Speed        float64 // m/s
}

// Deliveries throws a bowler's deliveries, drawn from the setup's repeatability, to the pins.
type Deliveries struct {
	Setup    studies.Setup
	Seed     uint64
	Settings physics.Settings

	studies.Work // its progress counts batches of deliveries
}

// throw throws n deliveries, numbered from from on.
func (d Deliveries) throw(ctx context.Context, from, n int) ([]arrival, error) {
	deliverer, err := d.Setup.Repeatability.Deliverer(d.Setup.Release)
	if err != nil {
		return nil, err
	}
	return d.throwBy(ctx, deliverer, from, n)
}

func (d Deliveries) throwBy(ctx context.Context, deliverer studies.Deliverer, from, n int) ([]arrival, error) {
	settings := studies.ForManyShots(d.Settings)
	settings.EndOnly = true
	all := make([]arrival, n)
	const batch = 25
	err := studies.InParallel(ctx, d.Workers, (n+batch-1)/batch, d.Progress, func(t *physics.Thrower, job int) error {
		for k := job * batch; k < min(n, (job+1)*batch); k++ {
			shot, err := t.Throw(d.Setup.Lane, d.Setup.Ball, deliverer.Delivery(studies.DrawDeviates(d.Seed, uint64(from+k))), settings)
			if err != nil {
				return fmt.Errorf("delivery %d: %w", from+k+1, err)
			}
			all[k] = arrivalOf(d.Setup, shot)
		}
		return nil
	})
	return all, err
}

// arrivalOf returns the arrival of a shot. A shot that is too slow for the pins does not reach them.
func arrivalOf(s studies.Setup, shot physics.Shot) arrival {
	d, err := arrive(s, shot)
	if err != nil {
		return arrival{}
	}
	e := shot.Events.Pins
	return arrival{true, d, e.Board, e.Heading, e.Speed}
}

// entry returns the entry for the table of racks.
func (t arrival) entry() pins.Entry {
	return pins.Entry{Board: t.Board, Angle: t.Angle, Mass: t.Delivery.Mass, Speed: t.Speed}
}

// roll rolls a rack for each delivery and returns the pins left standing: all for a delivery that does not
// reach them.
func roll(ctx context.Context, list []arrival, racks pins.Rolls) ([]pins.Leave, error) {
	left := make([]pins.Leave, len(list))
	var reached []int
	for k, t := range list {
		left[k] = cmp.Or(racks.Standing, pins.All)
		if t.Reached {
			reached = append(reached, k)
		}
	}
	if len(reached) == 0 {
		return left, nil
	}
	racks.Racks = len(reached)
	racks.Delivery = func(k int) pins.Delivery { return list[reached[k]].Delivery }
	racks.Each = func(k int, r pins.Result) { left[reached[k]] = r.Standing }
	_, err := racks.Run(ctx)
	return left, err
}

// Struck returns which of the first n deliveries strike, each at its own rack.
func (d Deliveries) Struck(ctx context.Context, deck pins.Settings, n int) ([]bool, error) {
	list, err := d.throw(ctx, 0, n)
	if err != nil {
		return nil, err
	}
	left, err := roll(ctx, list, pins.Rolls{Settings: deck, Seed: d.Seed, Workers: d.Workers})
	struck := make([]bool, n)
	for k, rest := range left {
		struck[k] = rest == 0
	}
	return struck, err
}

// Typical rolls, for each result, a rack with the most frequent outcome again, and keeps the paths of ball
// and pins.
func Typical(studies []Study, results []Result) ([]pins.Result, error) {
	var racks []pins.Result
	for i, r := range results {
		rack, err := studies[i].Again(r, r.Typical)
		if err != nil {
			return nil, err
		}
		racks = append(racks, rack)
	}
	return racks, nil
}
