package validation

import (
	"fmt"
	"math"
	"slices"

	"lanesim/physics"
	"lanesim/units"
)

type shotAnswer = answer[physics.Shot]

// textbookCases are problems of a ball that slides until it rolls. With the
// slip u₀ at release,
//
//	T = u₀ / (μ g (1 + 1/κ)),   v = v₀ − μ g T,   x = v₀ T − μ g T²/2
func textbookCases() []Case {
	const textbookGravity = 9.8           // m/s²
	const feetGravity = 32.2 * units.Foot // m/s²

	problem := func(name, source string, mark Mark, radius, kappa, mu, gravity float64, r physics.Release) setUp[physics.Shot] {
		r.Laydown = 20
		s := physics.Settings{Gravity: gravity, MaxTime: enough}
		return setUp[physics.Shot]{name, source, mark, throw(endless(mu), sphere(radius, kappa), r, s)}
	}
	acceleration := func(v0 float64) func(physics.Shot) (float64, error) {
		return rolls(func(s physics.State) float64 { return (s.Speed - v0) / s.Time })
	}
	spinUp := rolls(func(s physics.State) float64 { return s.RevRate / s.Time })
	const slides, far, then, slows, spins = "slides for", "slides over", "speed when it rolls", "acceleration while it slides", "angular acceleration"

	const hrw = "Halliday, Resnick & Walker, Fundamentals of Physics, ch. 11, bowling ball sliding on a lane"
	first := func(name, source string, mark Mark) setUp[physics.Shot] {
		return problem(name, source, mark, 0.11, uniform, 0.21, textbookGravity, physics.Release{Speed: 8.5})
	}
	second := func(name, source string, mark Mark) setUp[physics.Shot] {
		return problem(name, source, mark, 0.11, uniform, 0.19, textbookGravity, physics.Release{Speed: 8.10})
	}
	backspin := physics.Release{Speed: 15 * units.Foot, RevRate: 9, AxisRotation: math.Pi}
	const radius = 27 * units.Inch / (2 * math.Pi) // of a circumference of 27 in
	const gyration = 3.28 * units.Inch

	nonUniform := func(name, source string, mark Mark) setUp[physics.Shot] {
		return problem(name, source, mark, radius, gyration*gyration/(radius*radius), 0.20, feetGravity, physics.Release{Speed: 20 * units.Foot})
	}
	return slices.Concat(
		first("sliding ball, 8.5 m/s, as printed", hrw, FromMemory).cases(
			shotAnswer{slows, "m/s²", "-2.1", acceleration(8.5)},
			shotAnswer{spins, "rad/s²", "47", spinUp},
			shotAnswer{slides, "s", "1.2", rolls(elapsed)},
			shotAnswer{far, "m", "8.6", rolls(distance)},
			shotAnswer{then, "m/s", "6.1", rolls(speed)},
		),
		first("sliding ball, 8.5 m/s, more digits", "closed form; problem of "+hrw, Derived).cases(
			shotAnswer{slows, "m/s²", "-2.058", acceleration(8.5)},
			shotAnswer{spins, "rad/s²", "46.8", spinUp},
			shotAnswer{slides, "s", "1.180", rolls(elapsed)},
			shotAnswer{far, "m", "8.598", rolls(distance)},
			shotAnswer{then, "m/s", "6.071", rolls(speed)},
		),
		second("sliding ball, 8.10 m/s", hrw+" (later editions)", Published).cases(
			shotAnswer{slows, "m/s²", "-1.862", acceleration(8.10)},
			shotAnswer{spins, "rad/s²", "42.32", spinUp},
		),
		second("sliding ball, 8.10 m/s, until it rolls", "closed form; problem of "+hrw+" (later editions)", Derived).cases(
			shotAnswer{slides, "s", "1.2429", rolls(elapsed)},
			shotAnswer{far, "m", "8.629", rolls(distance)},
			shotAnswer{then, "m/s", "5.786", rolls(speed)},
		),
		problem("ball with backspin", "closed form; problem 16.71 of Beer & Johnston, Vector Mechanics for Engineers: Dynamics", Derived,
			4*units.Inch, uniform, 0.10, feetGravity, backspin).cases(
			shotAnswer{slides, "s", "1.597", rolls(elapsed)},
			shotAnswer{then, "ft/s", "9.857", rolls(speed)},
			shotAnswer{far, "ft", "19.85", rolls(distance)},
		),
		nonUniform("non-uniform sphere", "textbook problem: circumference 27 in, k 3.28 in, 20 ft/s", Published).cases(
			shotAnswer{far, "ft", "18.6567", rolls(distance)},
		),
		nonUniform("non-uniform sphere, time and speed", "closed form; textbook problem", Derived).cases(
			shotAnswer{slides, "s", "1.1433", rolls(elapsed)},
			shotAnswer{then, "ft/s", "12.637", rolls(speed)},
		),
	)
}

// finalSpeedCases are the final speeds of a ball thrown without spin, 1/(1+κ) of the
// initial speed whatever the friction.
func finalSpeedCases() []Case {
	const radius = 4.2975 * units.Inch
	const thrown = 8.0 // m/s
	share := rolls(func(s physics.State) float64 { return s.Speed / thrown })
	rolling := func(kappa, mu float64) func() (physics.Shot, error) {
		return throw(endless(mu), sphere(radius, kappa), physics.Release{Speed: thrown, Laydown: 20}, physics.Settings{MaxTime: enough})
	}
	var all []Case
	for _, c := range []struct {
		inches  float64
		printed string
	}{{2.46, "0.7532"}, {2.50, "0.7472"}, {2.55, "0.7396"}, {2.60, "0.7320"}, {2.80, "0.7020"}} {
		k := c.inches * units.Inch / radius
		all = append(all, setUp[physics.Shot]{fmt.Sprintf("no spin at release, k %.2f in", c.inches), "angular momentum about the contact: 1/(1+κ)", Derived,
			rolling(k*k, 0.20)}.cases(shotAnswer{"final over release speed", "", c.printed, share})...)
	}
	return append(all, setUp[physics.Shot]{"no spin at release, uniform sphere", "angular momentum about the contact: 5/7", Derived,
		rolling(uniform, 0.10)}.cases(shotAnswer{"final over release speed", "", "0.71428571", share})...)
}
