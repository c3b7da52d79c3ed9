package physics

import (
	"flag"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"lanesim/lane"
	"lanesim/units"
)

// Laws of a centred ball with equal moments, κ = k²/R².

// lawFineTolerance is far tighter than needed, so that only rounding is left where a law is exact.
const lawFineTolerance = 1e-9

// fewerDraws makes rapid draw thirty times instead of a hundred in the rest of a test of long shots, unless
// the flag gives a number.
func fewerDraws(t *testing.T) {
	const usual, fewer = "100", "30"
	draws := flag.Lookup("rapid.checks").Value
	if draws.String() != usual {
		return
	}
	if err := draws.Set(fewer); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { draws.Set(usual) })
}

// The direction of the slip does not change whatever the friction does along
// the way, so velocities keep to one straight line.
func TestLawSlipKeepsItsDirection(t *testing.T) {
	// Where the slip is 10⁻³ m/s its direction is known to the rounding of
	// velocities near 10 m/s, 10⁻¹² of it, which some hundred steps add up.
	const slow = 1e-3 // m/s
	turn := lawBound{what: "turn of the slip in rad, down to a slip of 1 mm/s", bound: 1e-9}
	// Each step rounds four components once or twice; friction takes sideways
	// slip away again.
	const rounding = 20 * machineRounding // m/s a step
	aside := lawBound{what: "slip across its first direction in m/s, for a thousand steps", bound: 1000 * rounding}
	// A step that ends slower asks for the direction where rounding is a large part of the
	// slip, and puts that into its whole length.
	last := lawBound{what: "slip across its first direction in m/s, in a step that ends below 1 mm/s", bound: 1e-9}
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		l, b, r := endless(lawFriction(t, 0.02, 0.3)), lawSphere(t), lawRelease(t)
		b.ContactRadius = lawDraw(t, "contact radius", 0, 5e-3)
		lawThrow(t, thrower, l, b, r, Settings{Tolerance: lawFineTolerance, MaxTime: 5, PathSpacing: -1, ExchangeSpacing: -1})
		steps := max(1, float64(len(thrower.pieces))/1000)
		first := [2]float64{}
		lawScan(thrower, 4, func(_ int, p *piece, _ float64, y, _ []float64) {
			if p.mode != sliding {
				return
			}
			ux, uy := lawSlip(y, b.Radius)
			size := math.Hypot(ux, uy)
			if first == [2]float64{} {
				first = [2]float64{ux / size, uy / size}
			}
			side := math.Abs(first[0]*uy - first[1]*ux)
			var end [dimension]float64
			p.At(p.End, end[:])
			if math.Hypot(lawSlip(end[:], b.Radius)) <= slow {
				last.hold(t, side)
				return
			}
			aside.hold(t, side/steps)
			turn.hold(t, math.Asin(math.Min(1, side/size))/steps)
		})
	})
	turn.report(t)
	aside.report(t)
	last.report(t)
}

// Friction at the contact changes v and κR ω × ẑ by opposite amounts, so the
// velocity at roll-out is v_f = (v₀ + κ R ω₀ × ẑ)/(1+κ) whatever the friction.
func TestLawRollOutVelocityDoesNotDependOnFriction(t *testing.T) {
	for _, tolerance := range []float64{1e-4, DefaultTolerance, lawFineTolerance} {
		t.Run(fmt.Sprintf("tolerance %.0e", tolerance), func(t *testing.T) {
			if tolerance == lawFineTolerance {
				fewerDraws(t)
			}
			// The sum is linear in the state and so kept to rounding by every
			// step, whatever the tolerance: 10 m/s and the ball's spin are rounded in
			// each of up to some thousand kicks, with several operations.
			off := lawBound{what: "roll-out velocity off in m/s", bound: 20000 * 20 * machineRounding}
			thrower := NewThrower()
			rapid.Check(t, func(t *rapid.T) {
				l, b, r := endless(lawFriction(t, 0.02, 0.3)), lawSphere(t), lawRelease(t)
				lawThrow(t, thrower, l, b, r, Settings{Tolerance: tolerance, MaxTime: 20, PathSpacing: -1, ExchangeSpacing: -1})
				if len(thrower.entries) == 0 {
					t.Skip("still sliding")
				}
				kappa := b.Kappa([3]float64{1, 0, 0})
				y0 := lawStart(t, l, b, r).state
				end := thrower.state
				wantX := (y0[ivx] + kappa*b.Radius*y0[iwy]) / (1 + kappa)
				wantY := (y0[ivy] - kappa*b.Radius*y0[iwx]) / (1 + kappa)
				off.hold(t, math.Hypot(end[ivx]-wantX, end[ivy]-wantY))
				if n := len(thrower.entries); n != 1 || thrower.slips != 0 {
					t.Errorf("began to roll %d times", n)
				}
			})
			off.report(t)
		})
	}
}

// Without pivot friction nothing turns the ball about the vertical.
func TestLawSpinAboutTheVerticalIsConstant(t *testing.T) {
	// Torque and spin pass through the body's axes and back: a few roundings
	// of a spin of 60 rad/s and of its rate times the step, every step.
	off := lawBound{what: "change of the spin about the vertical in rad/s", bound: 500 * 60 * machineRounding}
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		l, b, r := endless(lawFriction(t, 0.02, 0.3)), lawSphere(t), lawRelease(t)
		lawThrow(t, thrower, l, b, r, Settings{MaxTime: 5, PathSpacing: -1, ExchangeSpacing: -1})
		y0 := lawStart(t, l, b, r).state
		lawScan(thrower, 2, func(_ int, _ *piece, _ float64, y, _ []float64) {
			off.hold(t, math.Abs(y[iwz]-y0[iwz]))
		})
	})
	off.report(t)
}

// On one coefficient the path is a parabola until T = |u₀|/(μ g (1+1/κ)) and
// straight from there.
func TestLawConstantFrictionGivesAParabola(t *testing.T) {
	// Roll begins when the slip is below ε, earlier than T by ε/(μg(1+1/κ)) or
	// less, with the velocity of T: that misplaces the ball by ε times this
	// time, less than rounding of a position of 60 m does in some hundred steps.
	const seconds = 6.0
	off := lawBound{what: "off the parabola and its tangent in m", bound: 1000 * 60 * machineRounding}
	late := lawBound{what: "start of the roll off in s", bound: leastSlipFloor / (0.02 * StandardGravity)}
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		b, r := lawSphere(t), lawRelease(t)
		mu := lawDraw(t, "mu", 0.02, 0.3)
		l := endless(lane.Default())
		l.Friction = lane.Friction{Law: lane.Constant, Mu: mu}
		lawThrow(t, thrower, l, b, r, Settings{Tolerance: lawFineTolerance, MaxTime: seconds, PathSpacing: -1, ExchangeSpacing: -1})
		y0 := lawStart(t, l, b, r).state
		kappa := b.Kappa([3]float64{1, 0, 0})
		ux, uy := lawSlip(y0[:], b.Radius)
		size := math.Hypot(ux, uy)
		last := size / (mu * StandardGravity * (1 + 1/kappa))
		for range 5 {
			at := lawDraw(t, "time", 0, thrower.finalTime)
			slid := math.Min(at, last)
			where := thrower.instantAt(at)
			for i, u := range []float64{ux, uy} {
				// s = v₀t − μg û (t − T/2) T for t > T.
				want := y0[ix+i] + y0[ivx+i]*at
				if size > 0 {
					want -= mu * StandardGravity * u / size * (slid*at - slid*slid/2)
				}
				off.hold(t, math.Abs(thrower.component(where, ix+i)-want))
			}
		}
		if last < thrower.finalTime {
			late.hold(t, math.Abs(thrower.entries[0].time-last))
		}
	})
	off.report(t)
	late.report(t)
}

// A ball released rolling (α = β = 0, Ω = v/R) meets no friction: it goes on
// straight at its speed on any lane and has neither hook start nor breakpoint.
func TestLawRollingReleaseKeepsRolling(t *testing.T) {
	speed := lawBound{what: "change of a rolling ball's velocity, relative", bound: 400 * machineRounding}
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		l, b, r := lawFriction(t, 0, 0.3), lawSphere(t), lawRelease(t)
		r.AxisRotation, r.AxisTilt, r.RevRate = 0, 0, r.Speed/b.Radius
		r.Angle = lawDraw(t, "launch angle", -1, 1) * units.Degree
		shot := lawThrow(t, thrower, l, b, r, Settings{})
		for i := range thrower.pieces {
			if thrower.pieces[i].mode == sliding {
				t.Fatalf("slides at %v s", thrower.pieces[i].Start)
			}
		}
		if e := shot.Events; e.HookStart != nil || e.Breakpoint != nil || e.RollStart == nil || e.RollStart.Time != 0 {
			t.Errorf("events %+v", e)
		}
		if shot.Summary.ReSlips != 0 || shot.Summary.Flare != 0 {
			t.Errorf("%+v", shot.Summary)
		}
		for _, p := range shot.Path {
			speed.hold(t, math.Hypot(p.Velocity[0]-r.Speed*math.Cos(r.Angle), p.Velocity[1]+r.Speed*math.Sin(r.Angle))/r.Speed)
		}
	})
	speed.report(t)
}
