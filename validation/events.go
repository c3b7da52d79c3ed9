package validation

import (
	"errors"
	"math"

	"lanesim/lane"
	"lanesim/physics"
	"lanesim/units"
)

// eventCases are places on the path that follow from closed forms. A ball with
// equal moments slides with the acceleration −μ g û, û fixed, so its heading at a
// time t is that of v₀ − μ g t û. On oil that carries all load without friction it
// goes straight and turns evenly; of the turn about a place ten hundredths then lie
// beyond the oil's end where that is 0.4 turns ahead.
func eventCases() []Case {
	const source = "closed form by parabolas, in the first of the two zones"
	thrown := func(angle float64) func() (physics.Shot, error) {
		r := hookingRelease(0)
		r.Angle = angle
		return throw(twoZones(), sphere(zoneRadius, uniform), r, physics.Settings{})
	}
	at := func(name string, event func(physics.Events) *physics.State) func(func(physics.State) float64) func(physics.Shot) (float64, error) {
		return func(read func(physics.State) float64) func(physics.Shot) (float64, error) {
			return func(s physics.Shot) (float64, error) { return there(event(s.Events), name, read) }
		}
	}
	hook := at("hook start", func(e physics.Events) *physics.State { return e.HookStart })
	breaks := at("breakpoint", func(e physics.Events) *physics.State { return e.Breakpoint })
	reads := at("reading of the friction", func(e physics.Events) *physics.State { return e.FrictionRead })
	all := setUp[physics.Shot]{"two zones, hook start", source, Derived, thrown(0)}.cases(
		shotAnswer{"time when the heading is 1° off", "s", "0.868684", hook(elapsed)},
		shotAnswer{"distance there", "m", "6.813423", hook(distance)},
		shotAnswer{"lateral position there", "m", "0.058277", hook(lateral)},
		shotAnswer{"length of the hook", "m", "9.17718", func(s physics.Shot) (float64, error) {
			if math.IsNaN(s.Summary.Hook) {
				return 0, errors.New("no hook")
			}
			return s.Summary.Hook, nil
		}},
	)
	all = append(all, setUp[physics.Shot]{"two zones, 1½° to the right, breakpoint", source, Derived, thrown(1.5 * units.Degree)}.cases(
		shotAnswer{"time when the heading is down-lane", "s", "1.278159", breaks(elapsed)},
		shotAnswer{"distance there", "m", "9.930639", breaks(distance)},
		shotAnswer{"lateral position there", "m", "-0.133833", breaks(lateral)},
	)...)
	return append(all, setUp[physics.Shot]{"thick oil without friction to 40 ft", "closed form: 0.4 turns of 8 m/s and 300 rpm before the end of the oil", Derived, throwOverOil}.cases(
		shotAnswer{"time when the friction is read", "s", "1.44400", reads(elapsed)},
		shotAnswer{"distance there", "m", "11.5520", reads(distance)},
	)...)
}

// there reads the state at an event. It is an error if the shot has none.
func there(event *physics.State, name string, read func(physics.State) float64) (float64, error) {
	if event == nil {
		return 0, errors.New("no " + name)
	}
	return read(*event), nil
}

// throwOverOil throws a ball that carries no oil over oil too thick for the surfaces to
// touch.
func throwOverOil() (physics.Shot, error) {
	oil, err := flatOil(100, 40)
	if err != nil {
		return physics.Shot{}, err
	}
	l := lane.Default()
	l.Oil, l.Friction.Film, l.Edgeless = oil, 0, true
	return throw(l, sphere(zoneRadius, uniform), hookingRelease(0), physics.Settings{})()
}
