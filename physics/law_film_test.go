package physics

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"lanesim/ball"
	"lanesim/lane"
)

// lawOiled draws an oiled lane and a ball that remembers the film.
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

// What the lane loses is on the ball's track, on rings beside it or soaked in,
// and the pieces of the exchange along the path add up to it.
func TestLawOilBudgetCloses(t *testing.T) {
	// The four rates add up to nothing but for rounding.
	budget := lawBound{what: "oil unaccounted for, of the oil exchanged", bound: 1e-9}
	pieces := lawBound{what: "exchanges along the path off the lane's loss, of the oil exchanged", bound: 1e-9}
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		l, b, r := lawOiled(t)
		b.Memory.Off = rapid.Bool().Draw(t, "off")
		shot := lawThrow(t, thrower, l, b, r, Settings{MaxTime: 5})
		o := shot.Summary.Oil
		size := math.Abs(o.Lane) + math.Abs(o.Track) + math.Abs(o.Rings) + math.Abs(o.Soaked)
		if size == 0 {
			return
		}
		budget.hold(t, math.Abs(o.Lane+o.Track+o.Rings+o.Soaked)/size)
		taken := 0.0
		for _, e := range shot.Exchange {
			taken += e.Volume
		}
		pieces.hold(t, math.Abs(taken+o.Lane)/size)
	})
	budget.report(t)
	pieces.report(t)
}

// A ball that takes nothing up exchanges nothing.
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

// The ball's surface is clean in the first half turn, all the time with the
// memory off, and never carries more film than a gap has held.
func TestLawFilmComesFromTheGap(t *testing.T) {
	// What was met is found anew. The march that met it may have been some twenty
	// tolerances beside the contact, which was put right after: 1e-3 of the
	// narrowest contact.
	excess := lawBound{what: "film left on the ball beyond the gap's, of the most that is on it", bound: 3e-3}
	met := 0
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		l, b, r := lawOiled(t)
		b.Memory.Off = rapid.Bool().Draw(t, "off")
		lawThrow(t, thrower, l, b, r, Settings{MaxTime: 5})
		lawScan(thrower, 4, func(_ int, p *piece, time float64, y, _ []float64) {
			own := thrower.m.now.own
			if own < 0 || own > 0 && (b.Memory.Off || y[iTurned] < turnWindowNear) {
				t.Fatalf("meets %v m of its own after %v rad", own, y[iTurned])
			}
			if own > 0 {
				met++
			}
		})
		m := &thrower.m.memory
		most := 0.0
		for _, s := range m.trace {
			most = max(most, s.left)
		}
		for i, s := range m.trace {
			if i > 0 && m.trace[i-1].time == s.time || i+1 < len(m.trace) && m.trace[i+1].time == s.time {
				continue // the film jumps
			}
			at := thrower.find(s.time)
			p := &thrower.pieces[at.piece]
			if at.time == p.Start || at.time >= p.End {
				continue // the film may jump between steps
			}
			thrower.enter(p)
			if most > 0 {
				excess.hold(t, (s.left-thrower.m.laneFilm(m.spots[i].x, m.spots[i].y)-m.found(s.time, s.turned, s.point).own)/most)
			}
			if s.left < 0 {
				t.Fatalf("%v m left on the ball", s.left)
			}
		}
	})
	t.Logf("met its own film %d times", met)
	excess.report(t)
	if met == 0 {
		t.Error("no ball met its own film")
	}
}

// A centred ball with equal moments that nothing slows keeps its axis, so that
// every turn runs on the track of the turn before: it meets all that is there,
// B⁺ₙ = p h |v|/(R|ω_h|) (1 − (1−q)ⁿ)/q, and leaves no rings from the second
// turn on. (In the second half of the first turn the nearest older pass is not
// one turn back, and what it left is booked to the rings.)
func TestLawSteadyAxisMeetsItsWholeTrack(t *testing.T) {
	// The orientation's error adds up turn by turn to some hundred times the
	// tolerance, 10⁻⁷ of the ball's radius or 10⁻⁶ of the contact's width: the
	// overlap feels its square, the budget next to nothing.
	film := lawBound{what: "film met off the staircase, of the lane's", bound: 1e-5}
	rings := lawBound{what: "oil left on rings after the first turn, of the oil taken", bound: 1e-6}
	booked := 0.0
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		b, r := lawSphere(t), lawRelease(t)
		b.Memory = ball.DefaultFilmMemory()
		b.Memory.SoakIn = math.Inf(1)
		b.Memory.PickUp = lawDraw(t, "pick-up", 0.01, 0.2)
		b.Memory.GiveBack = lawDraw(t, "give-back", 0.05, 0.9)
		r.RevRate = lawDraw(t, "turning", 150, 600) * turnsPerMinute
		r.LaydownDistance = 0
		h := lawDraw(t, "film", 1, 80) * lane.Unit
		oil, err := lane.NewOilMap([]float64{0, 100}, 0, 1, 1, []float64{h, h})
		if err != nil {
			t.Fatal(err)
		}
		l := frictionless()
		l.Oil = oil
		shot := lawThrow(t, thrower, l, b, r, Settings{Tolerance: lawFineTolerance, MaxTime: 3, PathSpacing: -1})
		// |ω_h| is constant: nothing turns the axis.
		sweep := b.Radius * math.Hypot(thrower.state[iwx], thrower.state[iwy])
		speed := r.Speed
		sweep = max(sweep, slowest*speed)
		p, q := b.Memory.PickUp*h*speed/sweep, b.Memory.GiveBack
		atFirst, known := 0.0, false
		lawScan(thrower, 4, func(_ int, _ *piece, time float64, y, _ []float64) {
			turn := y[iTurned] / (2 * math.Pi)
			n, part := math.Floor(turn), turn-math.Floor(turn)
			if part < 0.05 || part > 0.95 { // where the film on the track steps up
				return
			}
			if n == 1 && part > 0.5 && !known { // behind the step that crosses the start of the track
				atFirst, known = lawRings(thrower, time), true
			}
			want := p * (1 - math.Pow(1-q, n)) / q
			film.hold(t, math.Abs(thrower.m.now.own-want)/h)
		})
		taken := -shot.Summary.Oil.Lane
		rings.hold(t, math.Abs(shot.Summary.Oil.Rings-atFirst)/taken)
		booked = max(booked, atFirst/taken)
	})
	t.Logf("booked to rings in the first turn: up to %.3g of the oil taken", booked)
	film.report(t)
	rings.report(t)
}

// The result at the pins converges as the tolerance, and with it the sampling
// of the track, is refined.
func TestLawFilmMemoryConverges(t *testing.T) {
	tolerances := []float64{1e-6, 1e-7, 1e-8, 1e-9}  // of the pair
	for _, pin := range []float64{1.5, 3.375, 5.5} { // in
		l, b, r := lawFlatShot(t, pin, lawFlatReleases[1])
		thrower := NewThrower()
		board := func(tolerance float64) float64 {
			shot := lawThrow(t, thrower, l, b, r, Settings{Tolerance: tolerance, PathSpacing: -1, ExchangeSpacing: -1})
			if shot.Status != Pins {
				t.Fatal(shot.Status)
			}
			return *shot.Summary.EntryBoard
		}
		limit := board(1e-11)
		var off []float64
		for _, tolerance := range tolerances {
			off = append(off, math.Abs(board(tolerance)-limit))
		}
		t.Logf("pin %v in: boards off at tolerances %.0e: %.2g", pin, tolerances, off)
		// Two decades finer must be closer each time, and the finest close.
		for i := 2; i < len(off); i++ {
			if !(off[i] < off[i-2]) {
				t.Errorf("%.3g boards off at %.0e, %.3g at %.0e", off[i], tolerances[i], off[i-2], tolerances[i-2])
			}
		}
		const close = 1e-4 // boards: 2.7 µm
		if last := off[len(off)-1]; last > close {
			t.Errorf("%.3g boards off at %.0e", last, tolerances[len(off)-1])
		}
	}
}

// lawRings is the oil left on rings up to a time of the last shot.
func lawRings(t *Thrower, time float64) float64 {
	rings := 0.0
	for i, s := range t.m.memory.trace {
		if s.time <= time {
			rings = t.m.memory.books[i].rings
		}
	}
	return rings
}

// Where the track is said to be bare a look finds next to no film. Only where the
// nearest place of the last turn moves fast along the track, as it does where turns lie
// skew to each other, may it have left the bare stretch.
func TestLawBareTrackHoldsNoFilm(t *testing.T) {
	const mostWrong = 1e-3 // share of the looks
	bare, wrong, film := 0, 0, 0
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		l, b, r := lawOiled(t)
		lawThrow(t, thrower, l, b, r, Settings{Tolerance: 1e-4, MaxTime: 5})
		m := &thrower.m.memory
		most := 0.0
		for i := range m.trace {
			most = max(most, m.trace[i].left)
		}
		for i := range thrower.pieces {
			p := &thrower.pieces[i]
			if p.oiled {
				continue
			}
			thrower.enter(p)
			y := thrower.scratch[:]
			for k := range 4 {
				at := p.Start + (p.End-p.Start)*float64(k)/4
				p.At(at, y)
				s, _, _ := thrower.m.contact(at, y)
				var met pass
				m.find(&met, s.time, s.turned, s.point, true)
				own := met.own
				if quick := m.found(s.time, s.turned, s.point).own; quick != own {
					t.Fatalf("%v m found, %v when less is asked", own, quick)
				}
				switch {
				case m.bareAround(s.turned):
					if bare++; own > 0.01*most {
						wrong++
					}
				case own > 0:
					film++
				}
			}
		}
	})
	t.Logf("bare %d times, %d of them not, film %d times", bare, wrong, film)
	if bare == 0 || film == 0 {
		t.Error("the tracks tested too little")
	}
	if float64(wrong) > mostWrong*float64(bare) {
		t.Errorf("film on bare stretches %d times of %d", wrong, bare)
	}
}
