package physics

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/units"
)

// lawWild draws a shot in which the ball hardly keeps rolling: a large core spun fast with its pin anywhere,
// often with its mass centre aside, on boards that are dry, oiled or of zones.
func lawWild(t *rapid.T) (lane.Lane, ball.Ball, Release) {
	l, s, r := lawFriction(t, 0.02, 0.3), lawSpecification(t), lawRelease(t)
	if rapid.Bool().Draw(t, "dry") {
		l = lane.Default()
	}
	l.Tilt = lawDraw(t, "tilt", -0.04, 0.04) * units.Inch
	if rapid.Bool().Draw(t, "hard to hold") {
		s.Differential = 0.060 * units.Inch
		s.Layout.PinToPAP = lawDraw(t, "pin near half way", 2, 5) * units.Inch
		r.RevRate = lawDraw(t, "high rev rate", 400, 700) * units.RPM
	}
	return l, lawPrepare(t, s, ball.Right), r
}

// Sliding and rolling change exactly where their conditions require: rolling begins below the slip's floor,
// lasts while |F| ≤ μN and ends where |F| = μN or where the friction law jumps; the normal force is never
// negative.
func TestLawRollBeginsAndEndsByItsConditions(t *testing.T) {
	// An end of the grip is located to neighbouring times; swings of the force
	// beyond friction and back within a step must not be missed either. Where the
	// ball meets film of its own, friction is taken to be linear from one touch to the next,
	// and may fall for a moment in between.
	grip := lawBound{what: "rolling force beyond friction, of the weight", bound: 1e-9}
	onFilm := lawBound{what: "rolling force beyond friction on film of its own for longer than between two touches, of the weight", bound: 1e-3}
	floor := lawBound{what: "slip where roll begins, of its floor", bound: 1 + 1e-9}
	limit := lawBound{what: "grip left where roll ends on one stretch of lane, of the weight", bound: 1e-8}
	limitOnFilm := lawBound{what: "grip left where roll ends on film of its own and about there, of the weight", bound: 1e-3}
	lifts := lawBound{what: "normal force below nothing, of the weight", bound: 0}
	thrower := NewThrower()
	total, shots, most, atEdges := 0, 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		l, b, r := lawWild(t)
		status, err := thrower.run(l, b, r, Settings{MaxTime: 8})
		if err != nil {
			t.Fatal(err)
		}
		weight := b.Mass * StandardGravity
		// clear is by how much the force stays on one side of friction from one touch
		// before a time of a piece to one after it.
		clear := func(p *piece, at float64) float64 {
			var y, rates [dimension]float64
			margin := func(time float64) float64 {
				p.At(max(p.Start, time), y[:]) // beyond its end as it would have gone on
				thrower.m.rate(time, y[:], rates[:])
				return thrower.m.contact.margin / weight
			}
			here := margin(at)
			apart := thrower.spacing(y[:]) / max(rates[iTurned], rates[ix]/thrower.touchDistance)
			for k := -4; k <= 4; k++ {
				if there := margin(at + float64(k)/4*apart); there*here < 0 {
					return 0
				}
			}
			return math.Abs(here)
		}
		lawScan(thrower, 4, func(i int, p *piece, time float64, y, _ []float64) {
			if status != Lifted {
				lifts.hold(t, -thrower.m.contact.normal/weight)
			}
			switch beyond := -thrower.m.contact.margin / weight; {
			case p.mode == sliding:
			case thrower.m.remembers() && beyond > grip.bound:
				onFilm.hold(t, clear(p, time))
			default:
				grip.hold(t, beyond)
			}
		})
		breaks := 0
		pieces := thrower.pieces
		var y, rates [dimension]float64
		for i := 1; i < len(pieces); i++ {
			p, next := &pieces[i-1], &pieces[i]
			from, to := p.mode == sliding, next.mode == sliding
			if from == to {
				continue
			}
			p.At(p.End, y[:])
			thrower.resume(p)
			sameLane := p.stretch == next.stretch && p.oiled == next.oiled
			thrower.m.stretch, thrower.m.oiled = next.stretch, next.oiled
			thrower.m.rate(p.End, y[:], rates[:])
			switch {
			case from:
				floor.hold(t, thrower.m.contact.slip/thrower.slipFloor)
			case sameLane && thrower.m.remembers():
				breaks++
				limitOnFilm.hold(t, clear(p, p.End))
			case sameLane:
				breaks++
				limit.hold(t, math.Abs(thrower.m.contact.margin)/weight)
			default:
				breaks++
				atEdges++
				limit.hold(t, thrower.m.contact.margin/weight)
			}
		}
		total, most = total+thrower.slips, max(most, thrower.slips)
		if thrower.slips > 0 {
			shots++
		}
		ended := 0
		if pieces[len(pieces)-1].mode != sliding {
			ended = 1
		}
		if open := len(thrower.entries) - thrower.slips; open != ended {
			t.Errorf("%d rolls begun, %d ended, rolling at the end: %d", len(thrower.entries), thrower.slips, ended)
		}
		if thrower.slips != breaks {
			t.Errorf("%d re-slips counted, %d found", thrower.slips, breaks)
		}
	})
	t.Logf("%d break-aways in %d shots, at most %d in one, %d where the lane changes", total, shots, most, atEdges)
	bounds := []*lawBound{&grip, &floor, &limit, &lifts}
	if !testing.Short() { // whose few draws may have no roll that ends on film
		bounds = append(bounds, &onFilm, &limitOnFilm)
	}
	for _, b := range bounds {
		b.report(t)
	}
	if total == 0 {
		t.Error("no ball broke away: the shots tested too little")
	}
}
