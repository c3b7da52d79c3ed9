package validation

import (
	"errors"
	"fmt"
	"math"
	"sync"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/units"
)

// tolerance is the tolerance of the integration in all cases. A shot takes a few hundred
// steps, each of which may add this much in m, m/s and 10 rad/s: 10⁻⁷ in all, below the
// last digit of nearly every answer.
const tolerance = 1e-9

// endsOnly is a spacing in m longer than any path: the path then has only release and end.
const endsOnly = 1e9

// sizes are the units of answers, in SI.
var sizes = map[string]float64{
	"":          1,
	"s":         1,
	"m":         1,
	"cm":        0.01,
	"mm":        1e-3,
	"µm":        1e-6,
	"in":        units.Inch,
	"µin":       1e-6 * units.Inch,
	"ft":        units.Foot,
	"board":     lane.BoardWidth,
	"m/s":       1,
	"ft/s":      units.Foot,
	"mph":       5280 * units.Foot / 3600,
	"m/s²":      1,
	"g":         physics.StandardGravity,
	"rad/s":     1,
	"rad/s²":    1,
	"°":         units.Degree,
	"mL":        1e-6,
	"µL":        1e-9,
	"oil units": units.OilUnit,
}

// answer is one quantity of a set-up with its answer as printed.
type answer[T any] struct {
	quantity, unit, printed string
	read                    func(T) (float64, error) // SI
}

// setUp is a situation with the source of its answers.
type setUp[T any] struct {
	name, source string
	mark         Mark
	build        func() (T, error)
}

// cases returns a case for each answer. They share the result of build.
func (s setUp[T]) cases(answers ...answer[T]) []Case {
	once := sync.OnceValues(s.build)
	list := make([]Case, 0, len(answers))
	for _, a := range answers {
		expected, half := digits(a.printed)
		size, known := sizes[a.unit]
		if !known {
			panic(fmt.Sprintf("validation: unknown unit %q", a.unit))
		}
		list = append(list, Case{
			Name: s.name, Quantity: a.quantity,
			Source: s.source, Mark: s.mark,
			Unit: a.unit, Expected: expected, Tolerance: half,
			Compute: func() (float64, error) {
				built, err := once()
				if err != nil {
					return 0, err
				}
				value, err := a.read(built)
				return value / size, err
			},
		})
	}
	return list
}

// within replaces the tolerances, in the unit of each.
func within(tolerance float64, cases []Case) []Case {
	for i := range cases {
		cases[i].Tolerance = tolerance
	}
	return cases
}

// throw returns a function that throws the shot, with the accuracy of all cases
// unless another is set.
func throw(l lane.Lane, b ball.Ball, r physics.Release, s physics.Settings) func() (physics.Shot, error) {
	if s.Tolerance == 0 {
		s.Tolerance = tolerance
	}
	if s.PathSpacing == 0 {
		s.PathSpacing = endsOnly
	}
	s.ExchangeSpacing = -1
	return func() (physics.Shot, error) { return physics.Throw(l, b, r, s) }
}

// enough is a time in s after which every ball on an endless lane rolls.
const enough = 4

// endless returns a lane of one friction coefficient without pins and gutters.
func endless(mu float64) lane.Lane {
	l := lane.Default()
	l.Length, l.Edgeless = math.Inf(1), true
	l.Friction = lane.Friction{Law: lane.Constant, Mu: mu}
	return l
}

// plainMass is the mass in kg of a ball in cases that do not depend on it.
const plainMass = 7

// core returns a ball of the radius in m and the three radii of gyration in
// m. Axis and fingers point along the unit vectors, in body axes. It has no
// pivot friction and carries no oil.
func core(radius float64, k, pap, fingers [3]float64) ball.Ball {
	b := ball.Ball{Radius: radius, Mass: plainMass, PAP: pap, Fingers: fingers, Memory: ball.FilmMemory{Off: true}}
	for i := range k {
		b.Moments[i] = b.Mass * k[i] * k[i]
	}
	return b
}

// sphere returns a ball with equal moments, κ = k²/R².
func sphere(radius, kappa float64) ball.Ball {
	k := radius * math.Sqrt(kappa)
	return core(radius, [3]float64{k, k, k}, [3]float64{1, 0, 0}, [3]float64{0, 0, 1})
}

const uniform = 0.4 // κ of a uniform sphere

// rolls reads the state where the ball begins to roll.
func rolls(read func(physics.State) float64) func(physics.Shot) (float64, error) {
	return func(s physics.Shot) (float64, error) {
		if s.Events.RollStart == nil {
			return 0, errors.New("the ball does not roll")
		}
		return read(*s.Events.RollStart), nil
	}
}

// arrives reads the state at the end of a lane that has one.
func arrives(read func(physics.State) float64) func(physics.Shot) (float64, error) {
	return func(s physics.Shot) (float64, error) {
		if s.Events.Pins == nil {
			return 0, fmt.Errorf("the ball does not arrive: %s", s.Status)
		}
		return read(*s.Events.Pins), nil
	}
}

// ends reads the state at the end, whether at the pins or before.
func ends(read func(physics.State) float64) func(physics.Shot) (float64, error) {
	return func(s physics.Shot) (float64, error) { return read(s.Path[len(s.Path)-1]), nil }
}

// Quantities of a state.
func elapsed(s physics.State) float64  { return s.Time }
func distance(s physics.State) float64 { return s.Distance }
func lateral(s physics.State) float64  { return s.Lateral }
func speed(s physics.State) float64    { return s.Speed }
func revRate(s physics.State) float64  { return s.RevRate }
func heading(s physics.State) float64  { return s.Heading }
func downLane(s physics.State) float64 { return s.Velocity[0] }
func toLeft(s physics.State) float64   { return s.Velocity[1] }
