package validation

import (
	"fmt"
	"math"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/units"
)

const (
	// effectSource is a separate implementation: Newton's and Euler's equations and the
	// constraint of the contact as one linear system, integrated by Runge–Kutta 8(5,3) at a
	// relative tolerance of 10⁻¹¹.
	effectSource = "integrated independently with scipy; the lane of two zones, 8 m/s, 300 rpm, rotation 45°, tilt 15°"

	quarterPin = 3.375 * units.Inch // from pin to axis, about 45°
)

// hook returns the lateral position in m at the pins on the lane of two zones.
func hook(b ball.Ball, phase float64) (float64, error) {
	r := hookingRelease(15 * units.Degree)
	r.Phase = phase
	shot, err := throw(twoZones(), b, r, physics.Settings{})()
	if err != nil {
		return 0, err
	}
	return arrives(lateral)(shot)
}

// hookGained returns a function for how much more one ball hooks than another.
func hookGained(than, b ball.Ball) func(struct{}) (float64, error) {
	return func(struct{}) (float64, error) {
		before, err := hook(than, 0)
		if err != nil {
			return 0, err
		}
		after, err := hook(b, 0)
		return after - before, err
	}
}

// leaning returns a symmetric core whose pin is 3⅜ in from the axis, on the
// vertical axis line toward the fingers.
func leaning(differential float64) ball.Ball {
	sin, cos := math.Sincos(quarterPin / zoneRadius)
	const low = 2.50 * units.Inch
	high := low + differential
	return core(zoneRadius, [3]float64{low, high, high}, [3]float64{cos, sin, 0}, [3]float64{sin, -cos, 0})
}

// heavy returns a uniform sphere, turning about its first body axis, with its
// centre of mass off by 1 mm.
func heavy(axis int, sign float64) ball.Ball {
	b := sphere(zoneRadius, uniform)
	b.Offset[axis] = sign * 1e-3
	return b
}

// extremes are the largest amounts in m by which a ball hooks more and less than another,
// over the phases of its release.
type extremes struct{ more, less float64 }

// effectCases are the sizes of the core's effects on the path.
func effectCases() []Case {
	even := sphere(zoneRadius, uniform)
	k := 2.55 * units.Inch / zoneRadius
	all := plain("RG 2.55 in against a uniform sphere", effectSource, Derived).cases(
		number{"hook gained", "cm", "-2.3452", hookGained(even, sphere(zoneRadius, k*k))},
	)
	all = append(all, plain("centre of mass 1 mm off along the spin axis", effectSource, Derived).cases(
		number{"hook gained", "cm", "6.6112", hookGained(even, heavy(0, 1))},
		number{"hook gained, off the other way", "cm", "-7.6491", hookGained(even, heavy(0, -1))},
	)...)
	across := func() (extremes, error) { return overPhases(even, heavy(1, 1)) }
	all = append(all, setUp[extremes]{"centre of mass 1 mm off across the spin axis, twelve phases", effectSource, Derived, across}.cases(
		answer[extremes]{"most hook gained", "cm", "4.779", func(e extremes) (float64, error) { return e.more, nil }},
		answer[extremes]{"most hook lost", "cm", "4.563", func(e extremes) (float64, error) { return e.less, nil }},
	)...)
	low := 2.50 * units.Inch / zoneRadius
	const halfBoard = 0.5
	return append(all, within(halfBoard, plain("differential 0.050 in on a lane that flare does not change",
		"a core acts on the path through its RG and fresh surface, hardly through gyroscopics: under one board", Derived).cases(
		number{"change of hook", "board", "0.5", func(s struct{}) (float64, error) {
			gained, err := hookGained(sphere(zoneRadius, low*low), leaning(0.050*units.Inch))(s)
			return math.Abs(gained), err
		}},
	))...)
}

// overPhases compares two balls over twelve phases of the release.
func overPhases(than, b ball.Ball) (extremes, error) {
	const phases = 12
	var e extremes
	before, err := hook(than, 0)
	for i := 0; i < phases && err == nil; i++ {
		var after float64
		after, err = hook(b, 2*math.Pi*float64(i)/phases)
		e.more, e.less = max(e.more, after-before), max(e.less, before-after)
	}
	return e, err
}

// flareCases are the migration of the track over a whole shot, caused by the core.
func flareCases() []Case {
	var all []Case
	for _, row := range []struct {
		differential float64 // in
		printed      string
	}{{0, "0.000"}, {0.02, "3.582"}, {0.04, "7.069"}, {0.05, "8.777"}, {0.06, "10.458"}} {
		all = append(all, setUp[physics.Shot]{fmt.Sprintf("differential %.2f in, pin 3⅜ in from the axis", row.differential), effectSource, Derived,
			throw(twoZones(), leaning(row.differential*units.Inch), hookingRelease(15*units.Degree), physics.Settings{})}.cases(
			shotAnswer{"flare over the shot", "in", row.printed, func(s physics.Shot) (float64, error) { return s.Summary.Flare, nil }},
		)...)
	}
	return all
}
