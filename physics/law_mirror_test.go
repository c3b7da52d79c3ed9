package physics

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/units"
)

// lawReflected returns the mirror image of a state in a plane along the lane. Spin is a pseudovector: its
// component across the mirror stays.
func lawReflected(s State) State {
	s.Lateral, s.Velocity[1] = -s.Lateral, -s.Velocity[1]
	s.Spin[0], s.Spin[2] = -s.Spin[0], -s.Spin[2]
	return s
}

// lawStates lists all states that a shot reports, in order.
func lawStates(s Shot) []State {
	list := append(append([]State{}, s.Marks...), s.Path...)
	for _, e := range []*State{s.Events.HookStart, s.Events.FrictionRead, s.Events.Breakpoint, s.Events.RollStart, s.Events.PatternEnd, s.Events.Pins, s.Events.Gutter} {
		if e != nil {
			list = append(list, *e)
		}
	}
	return list
}

// lawFigures returns a state's numbers in the lane's frame, then those in the bowler's terms.
func lawFigures(s State) (frame, own []float64) {
	return []float64{s.Time, s.Distance, s.Lateral, s.Speed, s.Velocity[0], s.Velocity[1],
			s.Spin[0], s.Spin[1], s.Spin[2], s.RevRate, s.Slip, s.Friction, s.Normal, s.Oil, s.BallOil},
		[]float64{s.Board, s.Heading, s.AxisRotation, s.AxisTilt}
}

// lawSame compares values bit for bit, except for the sign of zero.
func lawSame(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }

// lawTilted draws a lane with any oil and tilt.
func lawTilted(t *rapid.T) lane.Lane {
	l := lawFriction(t, 0, 0.3)
	l.Tilt = lawDraw(t, "tilt", -0.04, 0.04) * units.Inch
	return l
}

// A left-hander on the mirrored lane, with the ball laid out for the left hand
// (tilt, the offset's intermediate component and the phase negated), throws
// exactly the mirror image of the right-hander's shot, in the same boards,
// headings, rotations and tilts.
func TestLawLeftHanderMirrorsRightHander(t *testing.T) {
	right, left := NewThrower(), NewThrower()
	states := 0
	rapid.Check(t, func(t *rapid.T) {
		l, s, r := lawTilted(t), lawSpecification(t), lawRelease(t)
		b := lawPrepare(t, s, ball.Right)
		s.Offset[1] = -s.Offset[1]
		mirrored := lawPrepare(t, s, ball.Left)
		if mirrored != b.Mirror() {
			t.Fatalf("laid out for the left hand: %+v, mirrored %+v", mirrored, b.Mirror())
		}
		shot := lawThrow(t, right, l, b, r, Settings{})
		r.Hand, r.Phase = ball.Left, -r.Phase
		image := lawThrow(t, left, l.Mirror(), mirrored, r, Settings{})
		a, c := lawStates(shot), lawStates(image)
		if len(a) != len(c) || shot.Status != image.Status || shot.Stats != image.Stats {
			t.Fatalf("%v with %d states and %v, mirrored %v with %d and %v", shot.Status, len(a), shot.Stats, image.Status, len(c), image.Stats)
		}
		for i := range a {
			frame, own := lawFigures(a[i])
			seenFrame, seenOwn := lawFigures(lawReflected(c[i]))
			for j, v := range append(frame, own...) {
				if w := append(seenFrame, seenOwn...)[j]; !lawSame(v, w) {
					t.Fatalf("state %d, figure %d: %v, mirrored %v", i, j, v, w)
				}
			}
			states++
		}
		u, w := shot.Summary, image.Summary
		if u.Flare != w.Flare || u.FlareOil != w.FlareOil || u.EnergyLost != w.EnergyLost || u.Oil != w.Oil ||
			u.Revolutions != w.Revolutions || u.ReSlips != w.ReSlips || u.Pocket != w.Pocket {
			t.Errorf("%+v, mirrored %+v", u, w)
		}
		for i, e := range shot.Exchange {
			if m := image.Exchange[i]; e.Distance != m.Distance || e.Lateral != -m.Lateral || e.Volume != m.Volume {
				t.Errorf("exchange %+v, mirrored %+v", e, m)
			}
		}
	})
	t.Logf("%d states equal bit for bit", states)
}

// lawMirrorWorld is a right-hander's shot as seen in a mirror, as input for a
// right-hander again: the spin, a pseudovector, has the opposite rotation and
// tilt, so that the opposite end of the mirrored axis is its positive one.
func lawMirrorWorld(l lane.Lane, b ball.Ball, r Release) (lane.Lane, ball.Ball, Release) {
	b = b.Mirror()
	for i := range b.PAP {
		b.PAP[i] = -b.PAP[i]
	}
	r.AxisRotation, r.AxisTilt, r.Angle = -r.AxisRotation, -r.AxisTilt, -r.Angle
	r.Laydown = lane.Boards + 1 - r.Laydown
	return l.Mirror(), b, r
}

// The mirror image of a shot is a possible shot of the same bowler: the equations prefer no side, nor does
// rounding for boards whose mirror image is exact.
func TestLawMirrorImageObeysTheSameEquations(t *testing.T) {
	off := lawBound{what: "mirror images apart, of each figure's size", bound: 0}
	a, c := NewThrower(), NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		l, b, r := lawTilted(t), lawPrepare(t, lawSpecification(t), ball.Right), lawRelease(t)
		r.Laydown = float64(rapid.IntRange(5*16, 35*16).Draw(t, "sixteenths of a board")) / 16
		shot := lawThrow(t, a, l, b, r, Settings{PathSpacing: units.Foot})
		l, b, r = lawMirrorWorld(l, b, r)
		image := lawThrow(t, c, l, b, r, Settings{PathSpacing: units.Foot})
		if shot.Status != image.Status || len(shot.Path) != len(image.Path) {
			t.Fatalf("%v, mirrored %v", shot.Status, image.Status)
		}
		for i := range shot.Path {
			frame, _ := lawFigures(shot.Path[i])
			seen, _ := lawFigures(lawReflected(image.Path[i]))
			for j, v := range frame {
				if v != seen[j] {
					off.hold(t, math.Abs(v-seen[j])/max(math.Abs(v), math.Abs(seen[j])))
				} else {
					off.hold(t, 0)
				}
			}
		}
	})
	off.report(t)
}
