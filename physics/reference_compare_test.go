package physics_test

import (
	"fmt"
	"math"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/units"
)

// referenceComparison is one shot that both implementations compute.
type referenceComparison struct {
	name      string
	lane      lane.Lane
	ball      ball.Ball
	release   physics.Release
	tolerance float64 // of Throw
}

func referenceComparisons(t *testing.T) []referenceComparison {
	right := referenceUsualRelease(ball.Right)
	oiled := lane.Default()
	oiled.Oil = referencePattern(t, 60, 8)
	dry := lane.Default()
	tilted := oiled
	tilted.Tilt, tilted.RollingResistance = 0.040*units.Inch, 0.004
	off := func(s *ball.Specification) { s.Memory.Off = true }
	plain := func(s *ball.Specification) { s.Memory.Off = true; s.ContactRadius = 0 }
	offset := func(s *ball.Specification) { plain(s); s.Offset = [3]float64{1e-3, -0.5e-3, 0.7e-3} }
	constant := lane.Default()
	constant.Friction = lane.Friction{Law: lane.Constant, Mu: 0.08}
	with := func(change func(*physics.Release)) physics.Release { r := right; change(&r); return r }

	// A large core, spun fast at 45° to the pin on dry boards, breaks away.
	wild := func(s *ball.Specification) {
		off(s)
		s.Differential, s.IntermediateDifferential = 0.15*units.Inch, 0.05*units.Inch
		s.Layout.PinToPAP = 3.375 * units.Inch
	}
	const tight = 1e-8
	return []referenceComparison{
		{"constant", constant, referenceBall(t, ball.Right, plain), right, tight},
		{"zones", referenceTwoZones(), referenceBall(t, ball.Right, plain), right, tight},
		{"offset on zones", referenceTwoZones(), referenceBall(t, ball.Right, offset), with(func(r *physics.Release) { r.Phase = 2 }), 1e-7},
		{"pivot on zones", referenceTwoZones(), referenceBall(t, ball.Right, off), with(func(r *physics.Release) { r.AxisTilt = 40 * units.Degree }), tight},
		{"pivot held", dry, referenceBall(t, ball.Right, func(s *ball.Specification) { off(s); s.ContactRadius = 8e-3 }), with(func(r *physics.Release) { r.AxisTilt = 3 * units.Degree; r.Angle = 5 * units.Degree; r.Laydown = 14 }), tight},
		{"mixed", oiled, referenceBall(t, ball.Right, nil), right, tight},
		{"low flare", oiled, referenceBall(t, ball.Right, func(s *ball.Specification) { s.Layout.PinToPAP = 0.5 * units.Inch }), right, tight},
		{"tilted lane, rolling resistance, offset", tilted, referenceBall(t, ball.Right, func(s *ball.Specification) { s.Offset = [3]float64{0, 1e-3, 0} }), right, tight},
		{"re-slips", dry, referenceBall(t, ball.Right, wild), with(func(r *physics.Release) { r.RevRate = 550 * referenceRPM; r.Angle = 6 * units.Degree; r.Laydown = 16 }), tight},
		{"left-hander", tilted, referenceBall(t, ball.Left, func(s *ball.Specification) { s.Offset = [3]float64{0.4e-3, 1e-3, 0} }), func() physics.Release { r := referenceUsualRelease(ball.Left); r.Phase = 1; return r }(), tight},
		{"zero revs", oiled, referenceBall(t, ball.Right, nil), with(func(r *physics.Release) { r.RevRate = 0; r.Angle = 0.5 * units.Degree }), tight},
		{"gutter", oiled, referenceBall(t, ball.Right, nil), with(func(r *physics.Release) { r.Angle = 7 * units.Degree; r.LaydownDistance = 0.3 }), tight},
		{"backspin", constant, referenceBall(t, ball.Right, off), with(func(r *physics.Release) { r.AxisRotation = 130 * units.Degree }), tight},
	}
}

// referenceFigure is a number compared, with the scale that a relative error
// refers to.
type referenceFigure struct {
	name         string
	value, scale float64
}

const (
	// referenceAgreement is the share of a figure's scale within which
	// roundings and the located events of two converged runs may still differ, since a
	// refinement may change little by chance.
	referenceAgreement = 2e-8

	// referenceSamePlace tells marks apart, in m: they lie feet from each other.
	referenceSamePlace = 1e-6

	// referenceRollSlack is added in s to what the roll start may differ by: the time
	// in which friction covers 1e-5 m/s is 1.4 µs on a dry board.
	referenceRollSlack = 1e-6

	// referenceSpinAccuracy is the relative error of the spin at the end that the
	// default tolerance may leave (measured: 7e-4 with no revs at first, 1e-5
	// elsewhere).
	referenceSpinAccuracy = 1e-3

	// referenceSafety is how far a converging run may be from its limit, in units of
	// its last change. First order, which the discontinuities leave, would
	// need 1 after halving.
	referenceSafety = 4
)

func referenceStateFigures(at string, time, lateral float64, v [2]float64, w [3]float64, film float64) []referenceFigure {
	const speed, spin, micron = 8, 40, 1e-6
	return []referenceFigure{{at + " time s", time, 1}, {at + " lateral m", lateral, 1},
		{at + " v down-lane", v[0], speed}, {at + " v left", v[1], speed},
		{at + " spin x", w[0], spin}, {at + " spin y", w[1], spin}, {at + " spin z", w[2], spin}, {at + " ball's film µm", film / micron, 1}}
}

func referenceSharedFigures(flare, flareOil, energy, turns, oilLane float64) []referenceFigure {
	const millilitre = units.Millilitre
	return []referenceFigure{{"flare m", flare, 1}, {"flare oil m", flareOil, 1}, {"energy J", energy, 100}, {"turns", turns, 10},
		{"oil lane mL", oilLane / millilitre, 0.1}}
}

func referenceFigures(r referenceResult) []referenceFigure {
	var f []referenceFigure
	for _, p := range append(r.Marks[:len(r.Marks):len(r.Marks)], r.End) {
		f = append(f, referenceStateFigures(fmt.Sprintf("%.1f ft", p.Distance/units.Foot), p.Time, p.Lateral, p.Velocity, p.Spin, p.BallOil)...)
	}
	return append(f, referenceSharedFigures(r.Flare, r.FlareOil, r.EnergyLost, r.Revolutions, r.Oil.Lane)...)
}

func referenceThrowFigures(s physics.Shot, distances []float64) []referenceFigure {
	var f []referenceFigure
	last := s.Path[len(s.Path)-1]
	add := func(p physics.State) {
		f = append(f, referenceStateFigures(fmt.Sprintf("%.1f ft", p.Distance/units.Foot), p.Time, p.Lateral, p.Velocity, p.Spin, p.BallOil)...)
	}
	for _, m := range s.Marks {
		for _, d := range distances {
			if math.Abs(m.Distance-d) < referenceSamePlace {
				add(m)
			}
		}
	}
	add(last)
	u := s.Summary
	return append(f, referenceSharedFigures(u.Flare, u.FlareOil, u.EnergyLost, u.Revolutions, u.Oil.Lane)...)
}

// TestReferenceCompare compares the two implementations, with clean balls. They may differ by as much as
// either changes when it is refined.
func TestReferenceCompare(t *testing.T) {
	for _, c := range referenceComparisons(t) {
		t.Run(c.name, func(t *testing.T) {
			c.ball.Memory.Off = true
			s := defaultReference()
			s.Marks = []float64{15 * units.Foot, 30 * units.Foot, 45 * units.Foot}
			coarse := throwReference(c.lane, c.ball, c.release, s)
			fine := throwReference(c.lane, c.ball, c.release, s.refined(2))
			loose, tight := referenceThrowAt(t, c, 10*c.tolerance), referenceThrowAt(t, c, c.tolerance)
			if tight.Status != fine.Status {
				t.Fatalf("ends by %q, reference by %q", tight.Status, fine.Status)
			}
			if tight.Summary.ReSlips != fine.ReSlips {
				t.Errorf("%d re-slips, reference %d", tight.Summary.ReSlips, fine.ReSlips)
			}
			f0, f1 := referenceFigures(coarse), referenceFigures(fine)
			g0, g1 := referenceThrowFigures(loose, s.Marks), referenceThrowFigures(tight, s.Marks)
			if len(f0) != len(f1) || len(g0) != len(f1) || len(g1) != len(f1) {
				t.Fatalf("figures: %d and %d, reference %d and %d", len(g0), len(g1), len(f0), len(f1))
			}
			for i, f := range f1 {
				own, theirs := math.Abs(f.value-f0[i].value), math.Abs(g1[i].value-g0[i].value)
				difference := math.Abs(g1[i].value - f.value)
				line := fmt.Sprintf("%-24s reference %16.10g, difference %8.1e; refined: reference %8.1e, Throw %8.1e",
					f.name, f.value, difference, own, theirs)
				if !(difference <= referenceSafety*(own+theirs)+referenceAgreement*f.scale) {
					t.Error(line)
				} else {
					t.Log(line)
				}
			}
			referenceRollStart(t, tight.Events.RollStart, coarse.RollEntries, fine.RollEntries)
		})
	}
}

// referenceRollStart checks that the roll start is at one of the times at which the reference began to roll.
func referenceRollStart(t *testing.T, got *physics.State, coarse, fine []referencePoint) {
	t.Helper()
	if (got == nil) != (len(fine) == 0) {
		t.Fatalf("roll start %v, reference began to roll %d times", got, len(fine))
	}
	if got == nil {
		return
	}
	best, bound := math.Inf(1), 0.0
	for i, p := range fine {
		if d := math.Abs(p.Time - got.Time); d < best && i < len(coarse) {
			// The reference begins to roll at a small slip: halving it
			// halves how much too early that is.
			best, bound = d, referenceSafety*math.Abs(p.Time-coarse[i].Time)+referenceRollSlack
		}
	}
	t.Logf("roll start: difference %.1e s", best)
	if best > bound {
		t.Errorf("roll start at %.9f s, %.2e s from the nearest of the reference, bound %.1e", got.Time, best, bound)
	}
}

func referenceThrowAt(t *testing.T, c referenceComparison, tolerance float64) physics.Shot {
	t.Helper()
	shot, err := physics.Throw(c.lane, c.ball, c.release, physics.Settings{Tolerance: tolerance})
	if err != nil {
		t.Fatal(err)
	}
	return shot
}

// TestReferenceDefaultTolerance checks the accuracy stated for the default tolerance with a clean ball: 0.001
// board at the pins. The spin must be right to a thousandth, though no accuracy is stated.
func TestReferenceDefaultTolerance(t *testing.T) {
	const boards = 0.001
	for _, c := range referenceComparisons(t) {
		t.Run(c.name, func(t *testing.T) {
			c.ball.Memory.Off = true
			want := throwReference(c.lane, c.ball, c.release, defaultReference()).End
			shot := referenceThrowAt(t, c, 0)
			got := shot.Path[len(shot.Path)-1]
			spin := math.Sqrt(want.Spin[0]*want.Spin[0] + want.Spin[1]*want.Spin[1] + want.Spin[2]*want.Spin[2])
			worst := 0.0
			for i := range want.Spin {
				worst = max(worst, math.Abs(got.Spin[i]-want.Spin[i])/spin)
			}
			off := math.Abs(got.Lateral-want.Lateral) / lane.BoardWidth
			t.Logf("%.1e boards, %.1e of the spin", off, worst)
			if off > boards {
				t.Errorf("off by %g boards", off)
			}
			if worst > referenceSpinAccuracy {
				t.Errorf("spin %.6f, reference %.6f", got.Spin, want.Spin)
			}
		})
	}
}
