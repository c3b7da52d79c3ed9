package physics_test

import (
	"fmt"
	"math"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
)

// comparison is one shot that both implementations compute.
type comparison struct {
	name      string
	lane      lane.Lane
	ball      ball.Ball
	release   physics.Release
	tolerance float64 // of Throw
}

func comparisons(t *testing.T) []comparison {
	right := usualRelease(ball.Right)
	oiled := lane.Default()
	oiled.Oil = housePattern(t, 60, 8)
	dry := lane.Default()
	tilted := oiled
	tilted.Tilt, tilted.RollingResistance = 0.040*lane.Inch, 0.004
	off := func(s *ball.Specification) { s.Memory.Off = true }
	plain := func(s *ball.Specification) { s.Memory.Off = true; s.ContactRadius = 0 }
	offset := func(s *ball.Specification) { plain(s); s.Offset = [3]float64{1e-3, -0.5e-3, 0.7e-3} }
	constant := lane.Default()
	constant.Friction = lane.Friction{Law: lane.Constant, Mu: 0.08}
	with := func(change func(*physics.Release)) physics.Release { r := right; change(&r); return r }

	// A large core, spun fast at 45° to the pin on dry boards, breaks away.
	wild := func(s *ball.Specification) {
		off(s)
		s.Differential, s.IntermediateDifferential = 0.15*ball.Inch, 0.05*ball.Inch
		s.Layout.PinToPAP = 3.375 * ball.Inch
	}
	const tight, memory = 1e-10, 1e-8
	return []comparison{
		{"constant", constant, laidOut(t, ball.Right, plain), right, tight},
		{"zones", twoZones(), laidOut(t, ball.Right, plain), right, tight},
		{"offset on zones", twoZones(), laidOut(t, ball.Right, offset), with(func(r *physics.Release) { r.Phase = 2 }), tight},
		{"pivot on zones", twoZones(), laidOut(t, ball.Right, off), with(func(r *physics.Release) { r.AxisTilt = 40 * ball.Degree }), tight},
		{"pivot held", dry, laidOut(t, ball.Right, func(s *ball.Specification) { off(s); s.ContactRadius = 8e-3 }), with(func(r *physics.Release) { r.AxisTilt = 3 * ball.Degree; r.Angle = 5 * ball.Degree; r.Laydown = 14 }), tight},
		{"mixed, no memory", oiled, laidOut(t, ball.Right, off), right, tight},
		{"mixed, memory", oiled, laidOut(t, ball.Right, nil), right, memory},
		{"low flare, memory", oiled, laidOut(t, ball.Right, func(s *ball.Specification) { s.Layout.PinToPAP = 0.5 * ball.Inch }), right, memory},
		{"tilted lane, rolling resistance, offset, memory", tilted, laidOut(t, ball.Right, func(s *ball.Specification) { s.Offset = [3]float64{0, 1e-3, 0} }), right, memory},
		{"re-slips", dry, laidOut(t, ball.Right, wild), with(func(r *physics.Release) { r.RevRate = 550 * rpm; r.Angle = 6 * ball.Degree; r.Laydown = 16 }), tight},
		{"left-hander", tilted, laidOut(t, ball.Left, func(s *ball.Specification) { s.Offset = [3]float64{0.4e-3, 1e-3, 0} }), func() physics.Release { r := usualRelease(ball.Left); r.Phase = 1; return r }(), memory},
		{"zero revs", oiled, laidOut(t, ball.Right, nil), with(func(r *physics.Release) { r.RevRate = 0; r.Angle = 0.5 * ball.Degree }), memory},
		{"gutter", oiled, laidOut(t, ball.Right, nil), with(func(r *physics.Release) { r.Angle = 7 * ball.Degree; r.LaydownDistance = 0.3 }), memory},
		{"backspin", constant, laidOut(t, ball.Right, off), with(func(r *physics.Release) { r.AxisRotation = 130 * ball.Degree }), tight},
	}
}

// figures are the numbers compared, with the scale that a relative error
// refers to.
type figure struct {
	name         string
	value, scale float64
}

func stateFigures(at string, time, lateral float64, v [2]float64, w [3]float64, film float64) []figure {
	const speed, spin, micron = 8, 40, 1e-6
	return []figure{{at + " time s", time, 1}, {at + " lateral m", lateral, 1},
		{at + " v down-lane", v[0], speed}, {at + " v left", v[1], speed},
		{at + " spin x", w[0], spin}, {at + " spin y", w[1], spin}, {at + " spin z", w[2], spin}, {at + " ball's film µm", film / micron, 1}}
}

func sharedFigures(flare, flareOil, energy, turns float64, o physics.OilBudget, memory bool) []figure {
	const millilitre = 1e-6
	f := []figure{{"flare m", flare, 1}, {"flare oil m", flareOil, 1}, {"energy J", energy, 100}, {"turns", turns, 10},
		{"oil lane mL", o.Lane / millilitre, 0.1}}
	if memory {
		f = append(f, figure{"oil track mL", o.Track / millilitre, 0.1}, figure{"oil rings mL", o.Rings / millilitre, 0.1},
			figure{"oil soaked mL", o.Soaked / millilitre, 0.1})
	}
	return f
}

func referenceFigures(r referenceResult, memory bool) []figure {
	var f []figure
	for _, p := range append(r.Marks[:len(r.Marks):len(r.Marks)], r.End) {
		f = append(f, stateFigures(fmt.Sprintf("%.1f ft", p.Distance/lane.Foot), p.Time, p.Lateral, p.Velocity, p.Spin, p.BallOil)...)
	}
	return append(f, sharedFigures(r.Flare, r.FlareOil, r.EnergyLost, r.Revolutions, r.Oil, memory)...)
}

func throwFigures(s physics.Shot, memory bool, distances []float64) []figure {
	var f []figure
	last := s.Path[len(s.Path)-1]
	add := func(p physics.State) {
		f = append(f, stateFigures(fmt.Sprintf("%.1f ft", p.Distance/lane.Foot), p.Time, p.Lateral, p.Velocity, p.Spin, p.BallOil)...)
	}
	for _, m := range s.Marks {
		for _, d := range distances {
			if math.Abs(m.Distance-d) < 1e-6 {
				add(m)
			}
		}
	}
	add(last)
	u := s.Summary
	return append(f, sharedFigures(u.Flare, u.FlareOil, u.EnergyLost, u.Revolutions, u.Oil, memory)...)
}

// TestReferenceCompare holds the two implementations against each other. What
// they may differ by is what each changes by itself when it is refined.
func TestReferenceCompare(t *testing.T) {
	for _, c := range comparisons(t) {
		t.Run(c.name, func(t *testing.T) {
			s := defaultReference()
			s.Marks = []float64{15 * lane.Foot, 30 * lane.Foot, 45 * lane.Foot}
			coarse := throwReference(c.lane, c.ball, c.release, s)
			fine := throwReference(c.lane, c.ball, c.release, s.refined(2))
			settings := physics.Settings{Tolerance: 10 * c.tolerance}
			loose, err := physics.Throw(c.lane, c.ball, c.release, settings)
			if err != nil {
				t.Fatal(err)
			}
			settings.Tolerance = c.tolerance
			shot, err := physics.Throw(c.lane, c.ball, c.release, settings)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%v, roll entries %d, reslips %d (Throw %v, %d)", fine.Status, len(fine.RollEntries), fine.ReSlips, shot.Status, shot.Summary.ReSlips)
			memory := !c.ball.Memory.Off
			f0, f1 := referenceFigures(coarse, memory), referenceFigures(fine, memory)
			g0, g1 := throwFigures(loose, memory, s.Marks), throwFigures(shot, memory, s.Marks)
			if len(f1) != len(g1) {
				t.Fatal(len(f1), len(g1))
			}
			for i := range f1 {
				own := math.Abs(f1[i].value - f0[i].value)
				theirs := math.Abs(g1[i].value - g0[i].value)
				diff := math.Abs(g1[i].value - f1[i].value)
				flag := ""
				if diff > 4*(own+theirs)+1e-8*f1[i].scale {
					flag = "  <<<<"
				}
				t.Logf("%-26s %16.10g  diff %8.1e own %8.1e theirs %8.1e%s", f1[i].name, f1[i].value, diff, own, theirs, flag)
			}
			for _, e := range fine.RollEntries {
				t.Logf("roll entry t %.9f x %.9f slip after %.3g", e.Time, e.Distance, fine.SlipDistance-e.SlipDistance)
			}
			if r := shot.Events.RollStart; r != nil {
				t.Logf("Throw's roll start t %.9f x %.9f", r.Time, r.Distance)
			}
		})
	}
}
