package physics

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/units"
)

// lawOiled draws an oiled lane and a ball with film memory.
func lawOiled(t *rapid.T) (lane.Lane, ball.Ball, Release) {
	l, s, r := lane.Default(), lawSpecification(t), lawRelease(t)
	l.Oil = lawOil(t)
	l.Edgeless = true
	s.Memory.Off = false
	s.Memory.SoakIn = math.Exp(lawDraw(t, "log of soak-in time", -1, 6))
	if rapid.Bool().Draw(t, "never soaks in") {
		s.Memory.SoakIn = math.Inf(1)
	}
	s.Memory.PickUp = lawDraw(t, "pick-up", 0.01, 0.3)
	s.Memory.GiveBack = lawDraw(t, "give-back", 0, 0.9)
	s.Memory.ContactWidth = lawDraw(t, "contact width", 2e-3, 20e-3)
	return l, lawPrepare(t, s, ball.Right), r
}

// The oil that the lane loses is on the ball or soaked in, and the parts of the exchange along the path add
// up to it.
func TestLawOilBudgetCloses(t *testing.T) {
	budget := lawBound{what: "oil unaccounted for, of the oil exchanged", bound: 1e-9}
	pieces := lawBound{what: "exchanges along the path off the lane's loss, of the oil exchanged", bound: 1e-9}
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		l, b, r := lawOiled(t)
		b.Memory.Off = rapid.Bool().Draw(t, "off")
		shot := lawThrow(t, thrower, l, b, r, Settings{MaxTime: 5})
		o := shot.Summary.Oil
		size := math.Abs(o.Lane) + math.Abs(o.Ball) + math.Abs(o.Soaked)
		if size == 0 {
			return
		}
		budget.hold(t, math.Abs(o.Lane+o.Ball+o.Soaked)/size)
		taken := 0.0
		for _, e := range shot.Exchange {
			taken += e.Volume
		}
		pieces.hold(t, math.Abs(taken+o.Lane)/size)
	})
	budget.report(t)
	pieces.report(t)
}

// A ball with zero pick-up exchanges no oil.
func TestLawNoPickUpNoExchange(t *testing.T) {
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		l, b, r := lawOiled(t)
		b.Memory.PickUp = 0
		shot := lawThrow(t, thrower, l, b, r, Settings{MaxTime: 5})
		if shot.Summary.Oil != (OilBudget{}) {
			t.Errorf("exchanged %+v", shot.Summary.Oil)
		}
		for _, e := range shot.Exchange {
			if e.Volume != 0 {
				t.Fatalf("exchanged %+v", e)
			}
		}
		for _, s := range shot.Path {
			if s.BallOil != 0 {
				t.Fatalf("%v m on the ball", s.BallOil)
			}
		}
	})
}

// The ball's surface is clean in the first half turn, and always with the memory off; a touch adds no more
// than the lane's film.
func TestLawFilmComesFromTheGap(t *testing.T) {
	met, touches := 0, 0
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		l, b, r := lawOiled(t)
		b.Memory.Off = rapid.Bool().Draw(t, "off")
		lawThrow(t, thrower, l, b, r, Settings{MaxTime: 5})
		lawScan(thrower, 4, func(_ int, p *piece, time float64, y, _ []float64) {
			own := thrower.m.contact.own
			if own < 0 || own > 0 && (b.Memory.Off || y[iTurned] < math.Pi) {
				t.Fatalf("meets %v m of its own after %v rad", own, y[iTurned])
			}
			if own > 0 {
				met++
			}
		})
		if b.Memory.Off {
			return
		}
		width := b.Memory.ContactWidth
		for _, s := range thrower.metTouches() {
			if touches++; s.Left < 0 || s.Taken > width*s.Sweep*s.Lane*(1+1e-12) {
				t.Fatalf("a touch takes %v m³/s of %v m on the lane, and leaves %v m", s.Taken, s.Lane, s.Left)
			}
		}
	})
	t.Logf("met its own film %d times, in %d touches", met, touches)
	if met == 0 || touches == 0 {
		t.Error("no ball met its own film")
	}
}

// A centred ball with equal moments and without friction keeps its axis, so that every turn runs on the track
// of the turn before and meets all of its film, Bₙ = p h |v|/(R|ω_h|) (1 − (1−q)ⁿ)/q.
func TestLawSteadyAxisMeetsItsWholeTrack(t *testing.T) {
	// The orientation's error adds up turn by turn to some hundred times the tolerance, 10⁻⁷ of the ball's
	// radius or 10⁻⁶ of the contact's width. The film of the earliest of very many turns is neglected.
	film := lawBound{what: "film met off the staircase, of the lane's", bound: 1e-4}
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		b, r := lawSphere(t), lawRelease(t)
		b.Memory = ball.DefaultFilmMemory()
		b.Memory.SoakIn = math.Inf(1)
		b.Memory.PickUp = lawDraw(t, "pick-up", 0.01, 0.2)
		b.Memory.GiveBack = lawDraw(t, "give-back", 0.05, 0.9)
		r.RevRate = lawDraw(t, "turning", 150, 600) * units.RPM
		r.LaydownDistance = 0
		h := lawDraw(t, "film", 1, 80) * units.OilUnit
		oil, err := lane.NewOilMap([]float64{0, 100}, 0, 1, 1, []float64{h, h})
		if err != nil {
			t.Fatal(err)
		}
		l := frictionless()
		l.Oil = oil
		lawThrow(t, thrower, l, b, r, Settings{MaxTime: 2, PathSpacing: -1})
		// |ω_h| is constant: nothing turns the axis.
		sweep := b.Radius * math.Hypot(thrower.state[iwx], thrower.state[iwy])
		speed := r.Speed
		sweep = max(sweep, speed/5)
		p, q := b.Memory.PickUp*h*speed/sweep, b.Memory.GiveBack
		lawScan(thrower, 4, func(_ int, _ *piece, time float64, y, _ []float64) {
			turn := y[iTurned] / (2 * math.Pi)
			n, part := math.Floor(turn), turn-math.Floor(turn)
			if part < 0.05 || part > 0.95 { // where the film on the track steps up
				return
			}
			want := p * (1 - math.Pow(1-q, n)) / q
			film.hold(t, math.Abs(thrower.m.contact.own-want)/h)
		})
	})
	film.report(t)
}

// The result at the pins converges as the tolerance, and with it the spacing at which the
// film is looked up, is refined.
func TestLawFilmMemoryConverges(t *testing.T) {
	tolerances := []float64{1e-5, 3e-6, 1e-6, 3e-7}  // of the pair
	bounds := []float64{0.03, 0.015, 0.01, 0.005}    // boards
	for _, pin := range []float64{1.5, 3.375, 5.5} { // in
		l, b, r := lawFlatShot(t, pin, lawFlatReleases[1])
		thrower := NewThrower()
		board := func(tolerance float64) float64 {
			shot := lawThrow(t, thrower, l, b, r, Settings{Tolerance: tolerance, PathSpacing: -1, ExchangeSpacing: -1})
			if shot.Status != Pins {
				t.Fatal(shot.Status)
			}
			return shot.EntryBoard()
		}
		limit := board(finestFilm)
		for i, tolerance := range tolerances {
			off := math.Abs(board(tolerance) - limit)
			t.Logf("pin %v in, tolerance %.0e: %.2g board off", pin, tolerance, off)
			if off > bounds[i] {
				t.Errorf("%.3g boards off at %.0e", off, tolerance)
			}
		}
	}
}
