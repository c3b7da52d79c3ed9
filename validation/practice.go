package validation

import (
	"errors"
	"slices"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/patterns"
	"lanesim/physics"
	"lanesim/units"
)

// crowned returns a pattern 40 ft long with 24.5 mL of oil, in the given ratio
// of inside to outside boards.
func crowned(ratio float64) (*lane.OilMap, error) {
	return patterns.Crown{Length: 40 * units.Foot, Volume: 24.5 * units.Millilitre, Ratio: ratio}.Build()
}

// usualBall returns a ball with a medium core and a distance in m from pin to PAP.
func usualBall(pinToPAP float64) ball.Specification {
	s := ball.Default()
	s.RG, s.Differential = 2.48*units.Inch, 0.045*units.Inch
	s.Layout = &ball.Layout{DrillingAngle: 60 * units.Degree, PinToPAP: pinToPAP, VALAngle: 40 * units.Degree}
	return s
}

// usualRelease is between the averages of low and medium rev rates, laid down
// two feet past the foul line, and goes to the pocket on the crowned pattern.
func usualRelease() physics.Release {
	return physics.Release{
		Speed: 18 * units.MPH, RevRate: 300 * units.RPM, AxisRotation: 35 * units.Degree, AxisTilt: 13 * units.Degree,
		Laydown: 22, LaydownDistance: 2 * units.Foot, Angle: 1.8 * units.Degree,
	}
}

// usual throws the usual release, its launch angle changed by turned, over oil of a ratio.
func usual(ratio, pinToPAP, turned float64, s physics.Settings) (physics.Shot, error) {
	o, err := crowned(ratio)
	if err != nil {
		return physics.Shot{}, err
	}
	b, err := usualBall(pinToPAP).Prepare(ball.DefaultPAP(), ball.Right)
	if err != nil {
		return physics.Shot{}, err
	}
	l := lane.Default()
	l.Oil = o
	r := usualRelease()
	r.Angle += turned
	return throw(l, b, r, s)()
}

const (
	crownedRatio = 10.0 // to 1, a house pattern
	flatRatio    = 1.5  // to 1, a flat pattern

	usualPin = 4 * units.Inch
)

// practiceCases are ranges of a common shot on a common pattern: the middle of each is the
// answer, half its width the tolerance.
func practiceCases() []Case {
	shot := func() (physics.Shot, error) { return usual(crownedRatio, usualPin, 0, physics.Settings{}) }
	const name = "18 mph, 300 rpm on a crowned pattern"
	window := func(mark Mark, source string, tolerance float64, a shotAnswer, shot func() (physics.Shot, error)) []Case {
		return within(tolerance, setUp[physics.Shot]{name, source, mark, shot}.cases(a))
	}
	const reported = "range reported by the trade, secondary pages"
	const coaching = "phases in feet as coaching gives them"
	const seenByEye = coaching + ", which names no angle; with the usual 1° it is some ten feet later"
	halfDegree := func() (physics.Shot, error) {
		return usual(crownedRatio, usualPin, 0, physics.Settings{HookTurn: 0.5 * units.Degree})
	}
	summary := func(read func(physics.Summary) float64) func(physics.Shot) (float64, error) {
		return func(s physics.Shot) (float64, error) { return read(s.Summary), nil }
	}
	all := slices.Concat(
		window(Published, reported, 0.5,
			shotAnswer{"speed lost, 2 to 3 mph", "mph", "2.5", summary(func(s physics.Summary) float64 { return s.SpeedLoss })}, shot),
		window(Published, reported, 0.2,
			shotAnswer{"time on the lane, 2.0 to 2.4 s", "s", "2.2", arrives(elapsed)}, shot),
		window(Published, reported, 1,
			shotAnswer{"revolutions, 14 to 16", "", "15", summary(func(s physics.Summary) float64 { return s.Revolutions })}, shot),
		window(Published, "governing-body ball motion study, 2008", 0,
			shotAnswer{"phases in order: skid, hook, roll", "", "3", phasesInOrder}, shot),
		window(CommonPractice, seenByEye, 7.5,
			shotAnswer{"skid ends at 15 to 30 ft, after a turn of ½°", "ft", "22.5", func(s physics.Shot) (float64, error) {
				return there(s.Events.HookStart, "hook start", distance)
			}}, halfDegree),
		window(CommonPractice, coaching, 7.5,
			shotAnswer{"hook ends at 40 to 55 ft", "ft", "47.5", rolls(distance)}, shot),
	)

	all = append(all, within(1.5, plain("two layouts on one ball thrown alike", "common practice: zero to three boards apart at the pins", CommonPractice).cases(
		number{"pin 4 in and 1 in from the axis, 0 to 3 boards", "board", "1.5", func(struct{}) (float64, error) {
			high, err := usual(crownedRatio, usualPin, 0, physics.Settings{})
			if err != nil {
				return 0, err
			}
			low, err := usual(crownedRatio, 1*units.Inch, 0, physics.Settings{})
			if err != nil {
				return 0, err
			}
			return apart(low, high)
		}},
	))...)
	return append(all, within(0.5, plain("launch angle missed by ½° to either side",
		"common practice: a crowned pattern holds and returns what a flat one does not", CommonPractice).cases(
		number{"boards apart at the pins, crowned over flat, under 1", "", "0.5", func(struct{}) (float64, error) {
			var spread [2]float64
			for i, ratio := range []float64{crownedRatio, flatRatio} {
				inside, err := usual(ratio, usualPin, -0.5*units.Degree, physics.Settings{})
				if err != nil {
					return 0, err
				}
				outside, err := usual(ratio, usualPin, 0.5*units.Degree, physics.Settings{})
				if err != nil {
					return 0, err
				}
				if spread[i], err = apart(inside, outside); err != nil {
					return 0, err
				}
			}
			return spread[0] / spread[1], nil
		}},
	))...)
}

// apart returns the distance in m between the ends of two shots.
func apart(a, b physics.Shot) (float64, error) {
	from, err := arrives(lateral)(a)
	if err != nil {
		return 0, err
	}
	to, err := arrives(lateral)(b)
	return max(from-to, to-from), err
}

// phasesInOrder counts the phases of the shot that follow in order: three if the skid ends
// before the hook and the hook before the pins.
func phasesInOrder(s physics.Shot) (float64, error) {
	e := s.Events
	if e.HookStart == nil || e.RollStart == nil || e.Pins == nil {
		return 0, errors.New("a phase is missing")
	}
	inOrder := 0.0
	for _, follows := range []bool{
		e.HookStart.Time > 0,
		e.RollStart.Time > e.HookStart.Time,
		e.Pins.Time > e.RollStart.Time,
	} {
		if follows {
			inOrder++
		}
	}
	return inOrder, nil
}
