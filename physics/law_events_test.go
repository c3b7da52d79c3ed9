package physics

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"lanesim/ball"
	"lanesim/lane"
)

// lawUsual draws a shot that hooks as people's shots do: oil or zones, any ball,
// either hand.
func lawUsual(t *rapid.T) (lane.Lane, ball.Ball, Release) {
	l, s, r := lawFriction(t, 0.02, 0.3), lawSpecification(t), lawRelease(t)
	l.Tilt = lawDraw(t, "tilt", -0.04, 0.04) * lane.Inch
	hand := ball.Right
	if rapid.Bool().Draw(t, "left-handed") {
		hand = ball.Left
	}
	r.Hand = hand
	if rapid.Bool().Draw(t, "straight") {
		r.AxisRotation, r.AxisTilt, r.RevRate = 0, 0, r.Speed/(s.Diameter/2)
	}
	return l, lawPrepare(t, s, hand), r
}

// placeRounding bounds the rounding of a distance of 18 m found from times near
// 3 s and speeds near 8 m/s.
const placeRounding = 100 * 18 * machineRounding

// lawHeadings calls look with the heading all along the dense solution.
func lawHeadings(t *Thrower, look func(time, x, y, vy, heading float64)) {
	for i := range t.pieces {
		p := &t.pieces[i]
		for k := range 9 {
			at := instant{i, p.Start + (p.End-p.Start)*float64(k)/8}
			vx, vy := t.motion(at)
			look(at.time, t.component(at, ix), t.component(at, iy), vy, math.Atan2(vy, vx))
		}
	}
}

// Hook starts where the heading has first turned by a tenth of its turn from
// release to roll, or to the end; under a turn of 0.1° there is neither a hook
// nor a breakpoint.
func TestLawHookStartsAtATenthOfTheTurn(t *testing.T) {
	// A heading is known to the rounding of velocities, and its time to that of
	// times, in which friction of 0.3 g turns it by less.
	share := lawBound{what: "share of the turn at hook start off a tenth", bound: 1e-10}
	early := lawBound{what: "share of the turn reached before, beyond a tenth", bound: 1e-10}
	// A centre of mass off the middle makes the heading of the sphere's centre
	// swing once a turn; what it reaches and leaves again within one step counts
	// as not reached.
	swing := lawBound{what: "share of the turn reached before, beyond a tenth, with an offset", bound: 0.1}
	hooks, nulls := 0, 0
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		l, b, r := lawUsual(t)
		shot := lawThrow(t, thrower, l, b, r, Settings{})
		first := shot.Path[0].Heading
		last := shot.Path[len(shot.Path)-1].Heading
		if rolls := shot.Events.RollStart; rolls != nil {
			last = rolls.Heading
		}
		turn := last - first
		if math.Abs(turn) < leastTurn {
			nulls++
			if shot.Events.HookStart != nil || shot.Events.Breakpoint != nil {
				t.Errorf("a turn of %v° has hook start %v and breakpoint %v", turn/ball.Degree, shot.Events.HookStart, shot.Events.Breakpoint)
			}
			return
		}
		hooks++
		hook := shot.Events.HookStart
		if hook == nil || shot.Events.Breakpoint == nil {
			t.Fatalf("a turn of %v° has hook start %v and breakpoint %v", turn/ball.Degree, hook, shot.Events.Breakpoint)
		}
		share.hold(t, math.Abs((hook.Heading-first)/turn-hookShare))
		lawHeadings(thrower, func(time, _, _, _, heading float64) {
			if time < hook.Time {
				if beyond := (heading-first)/turn - hookShare; b.Offset == [3]float64{} {
					early.hold(t, beyond)
				} else {
					swing.hold(t, beyond)
				}
			}
		})
	})
	t.Logf("%d shots hooked, %d did not", hooks, nulls)
	share.report(t)
	early.report(t)
	swing.report(t)
	if nulls == 0 {
		t.Error("every shot hooked: the null rules were not tested")
	}
}

// A breakpoint where the path turns is the farthest point toward the ball's
// side of the whole path, and the ball moves straight down-lane there. A path
// that does not turn has none of those between its ends, and its breakpoint
// bends the most.
func TestLawBreakpointIsFarthestOut(t *testing.T) {
	across := lawBound{what: "lateral velocity at the breakpoint in m/s", bound: 1e-12}
	beyond := lawBound{what: "path beyond the breakpoint in m", bound: placeRounding}
	inside := lawBound{what: "path without a turn beyond its ends in m", bound: placeRounding}
	// The greatest curvature is found among a few samples of every step, between
	// which oil and offsets make it swing.
	bend := lawBound{what: "curvature above that of the breakpoint, relative", bound: 0.1}
	kinds := map[BreakpointKind]int{}
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		l, b, r := lawUsual(t)
		shot := lawThrow(t, thrower, l, b, r, Settings{})
		point := shot.Events.Breakpoint
		if point == nil {
			return
		}
		kinds[point.Kind]++
		side := 1.0
		if r.Hand == ball.Left {
			side = -1
		}
		out := side * point.Lateral // right-handed terms: the ball's side is negative
		ends := min(side*shot.Path[0].Lateral, side*shot.Path[len(shot.Path)-1].Lateral)
		if point.Kind == Turn {
			across.hold(t, math.Abs(point.Velocity[1]))
		}
		lawHeadings(thrower, func(_, _, y, _, _ float64) {
			if point.Kind == Turn {
				beyond.hold(t, out-y)
			} else {
				inside.hold(t, ends-y)
			}
		})
		if point.Kind == Turn {
			return
		}
		limit := thrower.finalTime
		if rolls := shot.Events.RollStart; rolls != nil {
			limit = rolls.Time
		}
		at := thrower.find(point.Time)
		most := thrower.curvature(at)
		if at.piece > 0 && at.time == thrower.pieces[at.piece].Start { // what was before counts too
			most = max(most, thrower.curvature(instant{at.piece - 1, at.time}))
		}
		for i := range thrower.pieces {
			p := &thrower.pieces[i]
			for k := range 14 {
				if at := p.Start + (p.End-p.Start)*(float64(k)+0.5)/14; at < limit && most > 0 {
					bend.hold(t, thrower.curvature(instant{i, at})/most-1)
				}
			}
		}
	})
	t.Logf("kinds %v", kinds)
	for _, b := range []*lawBound{&across, &beyond, &inside, &bend} {
		b.report(t)
	}
}

// Distances of marks and of the pattern's end are those asked for, phases add
// up to the whole way, and a shot ends at the pins or where the ball's centre
// passes the lane's edge.
func TestLawEventsLieWhereTheyAreDefined(t *testing.T) {
	place := lawBound{what: "marks and ends off their places in m", bound: placeRounding}
	sum := lawBound{what: "phases off the whole way in m", bound: placeRounding}
	statuses := map[Status]int{}
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		l, b, r := lawUsual(t)
		shot := lawThrow(t, thrower, l, b, r, Settings{})
		statuses[shot.Status]++
		last := shot.Path[len(shot.Path)-1]
		// reported is told, found stands in the dense solution.
		reported := func(s *State, distance float64) {
			t.Helper()
			if s.Distance != distance {
				t.Errorf("at %v m instead of %v m", s.Distance, distance)
			}
			place.hold(t, math.Abs(thrower.component(thrower.find(s.Time), ix)-distance))
		}
		due := 0
		for _, x := range MarkDistances {
			if x > r.LaydownDistance && x <= last.Distance {
				if due == len(shot.Marks) {
					t.Fatalf("no mark at %v m of a shot to %v m", x, last.Distance)
				}
				reported(&shot.Marks[due], x)
				due++
			}
		}
		if due != len(shot.Marks) {
			t.Errorf("%d marks, %d distances reached", len(shot.Marks), due)
		}
		e := shot.Events
		if passes := l.Oil != nil && l.Oil.Length() > r.LaydownDistance && l.Oil.Length() <= last.Distance; passes != (e.PatternEnd != nil) {
			t.Errorf("pattern of %v m, shot to %v m, end %v", l.Oil.Length(), last.Distance, e.PatternEnd)
		} else if passes {
			reported(e.PatternEnd, l.Oil.Length())
		}
		if (e.Pins != nil) != (shot.Status == Pins) || (e.Gutter != nil) != (shot.Status == Gutter) {
			t.Errorf("status %v with events %+v", shot.Status, e)
		}
		switch shot.Status {
		case Pins:
			reported(e.Pins, l.Length)
		case Gutter:
			place.hold(t, math.Abs(math.Abs(e.Gutter.Lateral)-lane.Width/2))
		}
		way := 0.0
		for _, part := range []*float64{shot.Summary.Skid, shot.Summary.Hook, shot.Summary.Roll} {
			if part != nil {
				way += *part
				if *part < -placeRounding {
					t.Errorf("a phase of %v m", *part)
				}
			}
		}
		sum.hold(t, math.Abs(way-(last.Distance-r.LaydownDistance)))
		lawHeadings(thrower, func(time, _, y, _, _ float64) {
			if time < thrower.finalTime && math.Abs(y) > lane.Width/2+placeRounding {
				t.Fatalf("beyond the edge, at %v m, before the end", y)
			}
		})
	})
	t.Logf("statuses %v", statuses)
	place.report(t)
	sum.report(t)
	if statuses[Pins] == 0 || statuses[Gutter] == 0 {
		t.Error("not every end was met")
	}
}
