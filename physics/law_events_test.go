package physics

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/units"
)

// lawUsual draws a shot that hooks as usual shots do: oil or zones, any ball, either hand.
func lawUsual(t *rapid.T) (lane.Lane, ball.Ball, Release) {
	l, s, r := lawFriction(t, 0.02, 0.3), lawSpecification(t), lawRelease(t)
	l.Tilt = lawDraw(t, "tilt", -0.04, 0.04) * units.Inch
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

// lawHeadings calls look with headings along the dense solution.
func lawHeadings(t *Thrower, look func(time, x, y, vy, heading float64)) {
	for i := range t.pieces {
		p := &t.pieces[i]
		for k := range 9 {
			at := instant{i, p.Start + (p.End-p.Start)*float64(k)/8}
			vx, vy := t.velocity(at)
			look(at.time, t.component(at, ix), t.component(at, iy), vy, math.Atan2(vy, vx))
		}
	}
}

// The hook starts where the heading first differs from the launch heading by the given angle, to either side.
// A ball that rolls before or never turns so far has no hook start. The lengths of skid and hook follow.
func TestLawHookStartsAfterTheTurnAskedFor(t *testing.T) {
	// A heading is known to the rounding of velocities, and its time to that of
	// times, in which friction of 0.3 g turns it by less.
	turned := lawBound{what: "turn at hook start off the one asked for in °", bound: 1e-10}
	early := lawBound{what: "turn before hook start beyond the one asked for in °", bound: 1e-10}
	// A centre of mass off the middle makes the heading of the sphere's centre
	// swing once a turn; what it reaches and leaves again between two looks counts
	// as not reached.
	swing := lawBound{what: "the same with an offset", bound: 0.02}
	hooks, rolls, straight := 0, 0, 0
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		l, b, r := lawUsual(t)
		var s Settings
		if rapid.Bool().Draw(t, "another turn") {
			s.HookTurn = lawDraw(t, "hook turn", 0.01, 6) * units.Degree
		}
		shot := lawThrow(t, thrower, l, b, r, s)
		asked := s.HookTurn
		if asked == 0 {
			asked = 1 * units.Degree
		}
		first := shot.Path[0].Heading
		hook, roll, u := shot.Events.HookStart, shot.Events.RollStart, shot.Summary
		limit := thrower.finalTime
		switch {
		case hook != nil:
			hooks++
			limit = hook.Time
			turned.hold(t, math.Abs(math.Abs(hook.Heading-first)-asked)/units.Degree)
			if roll != nil && roll.Time < hook.Time {
				t.Errorf("the hook starts at %v s, after the roll at %v s", hook.Time, roll.Time)
			}
			if u.Skid != hook.Distance-r.LaydownDistance {
				t.Errorf("skid of %v m to a hook start at %v m", u.Skid, hook.Distance)
			}
		case roll != nil:
			rolls++
			limit = roll.Time
			if u.Skid != roll.Distance-r.LaydownDistance || u.Hook != 0 {
				t.Errorf("skid %v m and hook %v m of a ball that rolls from %v m", u.Skid, u.Hook, roll.Distance)
			}
		default:
			straight++
			if !math.IsNaN(u.Hook) {
				t.Errorf("hook of %v m without hook start and roll", u.Hook)
			}
		}
		lawHeadings(thrower, func(time, _, _, _, heading float64) {
			if time < limit {
				beyond := (math.Abs(math.Remainder(heading-math.Atan2(thrower.launch()), 2*math.Pi)) - asked) / units.Degree
				if b.Offset == [3]float64{} {
					early.hold(t, beyond)
				} else {
					swing.hold(t, beyond)
				}
			}
		})
	})
	t.Logf("%d shots hooked, %d rolled first, %d did neither", hooks, rolls, straight)
	turned.report(t)
	early.report(t)
	swing.report(t)
	if hooks == 0 || rolls == 0 || straight == 0 && !testing.Short() { // few draws are straight
		t.Error("not every case was met")
	}
}

// launch returns the velocity at release, in the order of Atan2.
func (t *Thrower) launch() (vy, vx float64) {
	vx, vy = t.velocity(instant{0, 0})
	return vy, vx
}

// The breakpoint is the point of the whole path farthest toward the ball side, at least a quarter of a board
// outside the laydown, and the ball moves straight down-lane there. A path without a breakpoint has no such
// point. A backup ball turns back on the other side.
func TestLawBreakpointIsFarthestOut(t *testing.T) {
	across := lawBound{what: "lateral velocity at the breakpoint in m/s", bound: 1e-12}
	beyond := lawBound{what: "path beyond the breakpoint in m", bound: placeRounding}
	inside := lawBound{what: "path without a breakpoint beyond its ends in m", bound: placeRounding}
	breaks, nulls, inOil, backups := 0, 0, 0, 0
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		l, b, r := lawUsual(t)
		if rapid.Bool().Draw(t, "outward") { // as people throw a hook
			r.Laydown, r.Angle = lawDraw(t, "laydown inside", 18, 30), lawDraw(t, "angle outward", 0.5, 3)*units.Degree
			r.AxisRotation, r.RevRate = lawDraw(t, "side rotation", 30, 80)*units.Degree, lawDraw(t, "high rev rate", 200, 500)*units.RPM
		}
		if rapid.Bool().Draw(t, "backup") {
			r.Laydown, r.Angle, r.AxisRotation, r.AxisTilt = lane.Boards+1-r.Laydown, -r.Angle, -r.AxisRotation, -r.AxisTilt
		}
		shot := lawThrow(t, thrower, l, b, r, Settings{})
		turn := 1.0 // of the side to which the ball is thrown out, the right one of a right-hander's hook
		if r.Backup() {
			turn = -1
		}
		side := turn
		if r.Hand == ball.Left {
			side = -turn
		}
		start, end := side*shot.Path[0].Lateral, side*shot.Path[len(shot.Path)-1].Lateral
		point := shot.Events.Breakpoint
		if point == nil {
			nulls++
			if shot.Summary.BreakpointInOil {
				t.Error("no breakpoint, but it is in the oil")
			}
			lawHeadings(thrower, func(_, _, y, _, _ float64) { inside.hold(t, min(start-leastBreak, end)-turn*y) })
			return
		}
		breaks++
		if r.Backup() {
			backups++
		}
		if in := l.Oil != nil && point.Distance < l.Oil.Length(); in != shot.Summary.BreakpointInOil {
			t.Errorf("a breakpoint at %v m is in the oil: %v", point.Distance, shot.Summary.BreakpointInOil)
		} else if in {
			inOil++
		}
		out := side * point.Lateral // right-handed terms: the ball's side is negative
		if !(out <= start-leastBreak && out < end) {
			t.Errorf("a breakpoint at %v m of a path from %v to %v m", out, start, end)
		}
		across.hold(t, math.Abs(point.Velocity[1]))
		lawHeadings(thrower, func(_, _, y, _, _ float64) { beyond.hold(t, out-turn*y) })
	})
	t.Logf("%d breakpoints, %d of them in the oil and %d of backup balls, %d shots without", breaks, inOil, backups, nulls)
	for _, b := range []*lawBound{&across, &beyond, &inside} {
		b.report(t)
	}
	if breaks == 0 || nulls == 0 || backups == 0 {
		t.Error("not every case was met")
	}
}

// Distances of marks and of the pattern's end are exact, phases add up to the whole length, and a shot ends
// at the pins or where the ball's centre passes the lane's edge.
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
		// reported is from the shot, found from the dense solution.
		reported := func(s *State, distance float64) {
			t.Helper()
			if s.Distance != distance {
				t.Errorf("at %v m instead of %v m", s.Distance, distance)
			}
			place.hold(t, math.Abs(thrower.component(thrower.instantAt(s.Time), ix)-distance))
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
		for _, part := range []float64{shot.Summary.Skid, shot.Summary.Hook, shot.Summary.Roll} {
			if !math.IsNaN(part) {
				way += part
				if part < -placeRounding {
					t.Errorf("a phase of %v m", part)
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
