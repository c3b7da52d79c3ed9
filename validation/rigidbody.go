package validation

import (
	"errors"
	"math"

	"lanesim/physics"
	"lanesim/units"
	"lanesim/validation/jacobi"
)

// spinAxis is the direction of the spin at release, in the lane's axes, of a
// right-hander who throws straight down-lane.
func spinAxis(r physics.Release) [3]float64 {
	sinA, cosA := math.Sincos(r.AxisRotation)
	sinB, cosB := math.Sincos(r.AxisTilt)
	return [3]float64{-cosB * sinA, cosB * cosA, sinB}
}

// placed returns the axis and the direction of the fingers, in body axes, of a ball whose
// body axes are along the given directions of the lane at a release with phase 0.
func placed(axes [3][3]float64, r physics.Release) (pap, fingers [3]float64) {
	axis := spinAxis(r)
	across := math.Sqrt(1 - axis[2]*axis[2])
	for i, e := range axes {
		pap[i] = e[0]*axis[0] + e[1]*axis[1] + e[2]*axis[2]
		fingers[i] = (pap[i]*axis[2] - e[2]) / across // as far down as they can
	}
	return pap, fingers
}

// rigidBodyCases is a ball of unequal moments under friction.
func rigidBodyCases() []Case {
	const source = "fixed-step integration of Newton's and Euler's equations, two step sizes agree"
	r := hookingRelease(15 * units.Degree)
	right, ahead, up := [3]float64{0, -1, 0}, [3]float64{1, 0, 0}, [3]float64{0, 0, 1}
	pap, fingers := placed([3][3]float64{right, ahead, up}, r)
	b := core(zoneRadius, [3]float64{2.55 * units.Inch, 2.55 * units.Inch, 2.50 * units.Inch}, pap, fingers)
	const time = 1.0 // s
	// The answer is given to 10⁻⁸ rad/s, the accuracy that the tolerance of the other cases
	// would give.
	settings := physics.Settings{MaxTime: time, Tolerance: tolerance / 100}
	spin := func(axis int, sign float64) func(physics.Shot) (float64, error) {
		return ends(func(s physics.State) float64 { return sign * s.Spin[axis] })
	}
	return setUp[physics.Shot]{"symmetric ball after 1 s on friction 0.04", source, Derived,
		throw(endless(0.04), b, r, settings)}.cases(
		shotAnswer{"distance", "m", "7.8184796169", ends(distance)},
		shotAnswer{"lateral position", "m", "0.0742850842", ends(lateral)},
		shotAnswer{"velocity down-lane", "m/s", "7.6369497645", ends(downLane)},
		shotAnswer{"velocity to the left", "m/s", "0.1485459931", ends(toLeft)},
		shotAnswer{"spin to the right", "rad/s", "-31.07242915", spin(1, -1)},
		shotAnswer{"spin down-lane", "rad/s", "-17.46737676", spin(0, 1)},
		shotAnswer{"spin upward", "rad/s", "7.59728158", spin(2, 1)},
	)
}

// freeRotationCases turn without friction.
func freeRotationCases() []Case {
	const source = "torque-free symmetric body: precession (1 − k_low²/k_high²) Ω cos θ, track spacing π R (1 − k_low²/k_high²) sin 2θ"
	const radius = 4.297 * units.Inch
	const toPin = 45 * units.Degree
	const spacing = 0.02 // m, between points of the path: 0.08 rad of turning
	low, high := 2.50*units.Inch, 2.55*units.Inch
	b := core(radius, [3]float64{low, high, high}, [3]float64{math.Cos(toPin), math.Sin(toPin), 0}, [3]float64{0, 0, 1})
	all := setUp[physics.Shot]{"free symmetric ball, 300 rpm, 45° from the pin", source, Derived,
		throw(endless(0), b, hookingRelease(15*units.Degree), physics.Settings{MaxTime: 1, PathSpacing: spacing})}.cases(
		answer[physics.Shot]{"precession over the body", "rad/s", "0.862613", precession},
		answer[physics.Shot]{"period of precession", "s", "7.28390", func(s physics.Shot) (float64, error) {
			p, err := precession(s)
			return 2 * math.Pi / p, err
		}},
		answer[physics.Shot]{"track spacing per revolution", "in", "0.524", func(s physics.Shot) (float64, error) {
			return s.Summary.Flare / s.Summary.Revolutions, nil
		}},
	)
	return append(all, asymmetricTopCases()...)
}

// precession returns the rate in rad/s at which the spin of a free symmetric
// body goes round its axis of symmetry, from the spin as seen on the lane.
//
// On the lane ω goes round the fixed angular momentum at a rate Ω. The body turns with Ω
// about that direction L̂ and with the rest, ω − Ω L̂, about its own axis: the length of
// the rest is the precession relative to the body.
func precession(s physics.Shot) (float64, error) {
	n := len(s.Path)
	if n < 4 {
		return 0, errors.New("the path has too few points")
	}
	// The tips of ω lie on a circle about L̂.
	third := n / 3
	normal := cross(minus(s.Path[third].Spin, s.Path[0].Spin), minus(s.Path[2*third].Spin, s.Path[third].Spin))
	length := math.Sqrt(dot(normal, normal))
	for i := range normal {
		normal[i] /= length
	}
	// A third of the path is several turns, so the product may point either way; the spin is
	// near L̂.
	if dot(normal, s.Path[0].Spin) < 0 {
		normal = minus([3]float64{}, normal)
	}
	across := func(v [3]float64) [3]float64 {
		along := dot(v, normal)
		return [3]float64{v[0] - along*normal[0], v[1] - along*normal[1], v[2] - along*normal[2]}
	}
	turned := 0.0
	for i := 1; i < n; i++ {
		a, b := across(s.Path[i-1].Spin), across(s.Path[i].Spin)
		turned += math.Atan2(dot(cross(a, b), normal), dot(a, b))
	}
	rate := turned / (s.Path[n-1].Time - s.Path[0].Time)
	rest := s.Path[0].Spin
	for i := range rest {
		rest[i] -= rate * normal[i]
	}
	return math.Sqrt(dot(rest, rest)), nil
}

func cross(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func dot(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func minus(a, b [3]float64) [3]float64 { return [3]float64{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

// asymmetricTopCases follow the rev rate, which changes for a free asymmetric body while
// energy and angular momentum are constant. The moments differ more than those of any ball,
// so that it changes much.
func asymmetricTopCases() []Case {
	const source = "Jacobi elliptic functions: Landau & Lifshitz, Mechanics, §37"
	const relative = 1e-8
	const fromPSA = 30 * units.Degree
	r := hookingRelease(15 * units.Degree)
	b := core(zoneRadius, [3]float64{2.0 * units.Inch, 2.3 * units.Inch, 2.5 * units.Inch},
		[3]float64{math.Sin(fromPSA), 0, math.Cos(fromPSA)}, [3]float64{0, 1, 0})
	top, err := jacobi.NewFreeTop(b.Moments, r.RevRate*b.PAP[0], r.RevRate*b.PAP[2])
	if err != nil {
		panic(err) // the numbers above are constant
	}
	var all []Case
	for _, at := range []struct {
		quantity string
		time     float64
	}{
		{"rev rate after a quarter period", top.Period() / 4},
		{"rev rate after a third of a period", top.Period() / 3},
		{"rev rate after five periods", 5 * top.Period()},
	} {
		spin := top.Spin(at.time)
		shot := throw(endless(0), b, r, physics.Settings{MaxTime: at.time})
		all = append(all, Case{
			Name: "free asymmetric body", Quantity: at.quantity, Source: source, Mark: Derived,
			Unit: "rad/s", Expected: math.Sqrt(dot(spin, spin)), Tolerance: relative, Relative: true,
			Compute: func() (float64, error) {
				s, err := shot()
				if err != nil {
					return 0, err
				}
				return ends(revRate)(s)
			},
		})
	}
	return all
}
