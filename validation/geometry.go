package validation

import (
	"fmt"
	"math"
	"slices"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/patterns"
	"lanesim/physics"
	"lanesim/units"
)

// number is an answer that needs no shot.
type number = answer[struct{}]

// plain is a set-up without a shot.
func plain(name, source string, mark Mark) setUp[struct{}] {
	return setUp[struct{}]{name, source, mark, func() (struct{}, error) { return struct{}{}, nil }}
}

// is returns a function with a constant value.
func is(value float64) func(struct{}) (float64, error) {
	return func(struct{}) (float64, error) { return value, nil }
}

// laneCases: boards, slope and straight lines.
func laneCases() []Case {
	const secondary = "rule-book dimensions as published on secondary pages"
	all := plain("lane", secondary, Published).cases(
		number{"width", "in", "41.5", is(lane.BoardWidth * lane.Boards)},
		number{"foul line to head pin", "ft", "60", is(lane.HeadPin)},
	)
	all = append(all, plain("boards", "41.5 in in 39 boards", Derived).cases(
		number{"board width", "mm", "27.03", is(lane.Lateral(21) - lane.Lateral(20))},
		number{"board 17.5, right of centre", "in", "2.66", is(-lane.Lateral(17.5))},
		number{"board 2.66 in right of centre", "", "17.5", is(lane.Board(-2.66 * units.Inch))},
	)...)

	// 0.040 in over the lane's width, the limit on crosswise tilt, published.
	sloping := endless(0)
	sloping.Tilt = 0.040 * units.Inch
	const time = 2.4 // s
	all = append(all, setUp[physics.Shot]{"sliding freely for 2.4 s over a tilt of 0.040 in", "g tilt/width, y = a t²/2", Derived,
		throw(sloping, sphere(zoneRadius, uniform), physics.Release{Speed: 8, Laydown: 20}, physics.Settings{MaxTime: time})}.cases(
		shotAnswer{"drift to the low side", "mm", "27", ends(func(s physics.State) float64 { return -s.Lateral })},
		shotAnswer{"sideways acceleration", "g", "0.00096", ends(func(s physics.State) float64 { return -s.Velocity[1] / s.Time })},
	)...)

	// A ball that rolls from the lane's right edge to the pocket.
	const pocket = 17.5
	steepest := physics.Release{Speed: 8, RevRate: 8 / zoneRadius, Laydown: lane.Board(-lane.Width / 2)}
	steepest.Angle = -math.Atan2(lane.Lateral(pocket)-lane.Lateral(steepest.Laydown), lane.HeadPin)
	l := lane.Default()
	l.Edgeless = true
	straight := throw(l, sphere(zoneRadius, uniform), steepest, physics.Settings{})
	// A quarter of a board at the pins changes the angle of the line by 0.02°.
	const quarterBoard = 0.02
	all = append(all, within(quarterBoard, setUp[physics.Shot]{"straight ball from the lane's edge to the pocket", "steepest straight line as published by a governing body, secondary page", Published, straight}.cases(
		shotAnswer{"entry angle", "°", "1.45", arrives(heading)},
	))...)
	return append(all, setUp[physics.Shot]{"straight ball rolled at the pocket", "a ball that rolls without slip goes straight", Derived, straight}.cases(
		shotAnswer{"board at the pins", "", "17.500000", arrives(func(s physics.State) float64 { return s.Board })},
		shotAnswer{"speed at the pins", "m/s", "8.000000", arrives(speed)},
	)...)
}

// ballCases: layouts on the sphere and radii of gyration.
func ballCases() []Case {
	const radius = 27 * units.Inch / (2 * math.Pi) // of a circumference of 27 in
	const source = "spherical triangles on a 27 in ball: cos(PSA–PAP) = sin d cos α, sin(pin–VAL) = sin d sin β"
	var all []Case
	for _, row := range []struct {
		drilling, pin, val string // °, in, °
		psa, toVAL         string // in
	}{
		{"45", "4.5", "45", "3.9179", "2.8321"},
		{"65", "4", "30", "5.2638", "1.7733"},
		{"30", "3.375", "20", "3.9179", "1.0497"},
	} {
		name := fmt.Sprintf("layout %s° × %s in × %s°", row.drilling, row.pin, row.val)
		drilling, _ := digits(row.drilling)
		pin, _ := digits(row.pin)
		val, _ := digits(row.val)
		angles := ball.Layout{DrillingAngle: drilling * units.Degree, PinToPAP: pin * units.Inch, VALAngle: val * units.Degree}
		distances := angles.Distances(radius)
		all = append(all, plain(name, source, Derived).cases(
			number{"PSA to PAP", "in", row.psa, is(distances.PSAToPAP)},
			number{"pin to VAL", "in", row.toVAL, is(distances.PinToVAL)},
		)...)
		// The reverse, from the distances as printed, which determine the angles to about
		// 0.001°.
		const printing = 0.002 // °
		psa, _ := digits(row.psa)
		toVAL, _ := digits(row.toVAL)
		back := func(angle func(ball.Layout) float64) func(struct{}) (float64, error) {
			return func(struct{}) (float64, error) {
				l, err := ball.DistanceLayout{PinToPAP: pin * units.Inch, PSAToPAP: psa * units.Inch, PinToVAL: toVAL * units.Inch}.Layout(radius)
				return angle(l), err
			}
		}
		all = append(all, within(printing, plain(name+", from its distances", source, Derived).cases(
			number{"drilling angle", "°", row.drilling, back(func(l ball.Layout) float64 { return l.DrillingAngle })},
			number{"VAL angle", "°", row.val, back(func(l ball.Layout) float64 { return l.VALAngle })},
		))...)
	}
	all = append(all, plain("uniform sphere, R 4.297 in", "k = R √(2/5)", Derived).cases(
		number{"radius of gyration", "in", "2.7177", func(struct{}) (float64, error) {
			return sphere(4.297*units.Inch, uniform).RG([3]float64{0, 0, 1}), nil
		}},
	)...)
	return append(all, plain("symmetric core 2.50 / 2.55 in, pin 3⅜ in from the axis of a 27 in ball", "k² = Σ k_i² n_i²", Derived).cases(
		number{"RG about the axis", "in", "2.52512", func(struct{}) (float64, error) {
			s := ball.Default()
			s.Diameter = 2 * radius
			s.RG, s.Differential = 2.50*units.Inch, 0.05*units.Inch
			s.Layout = &ball.Layout{PinToPAP: quarterPin, DrillingAngle: 40 * units.Degree, VALAngle: 30 * units.Degree}
			b, err := s.Prepare(ball.DefaultPAP(), ball.Right)
			return b.RG(b.PAP), err
		}},
	)...)
}

// flatOil returns a film of a number of units over a length in feet.
func flatOil(film, feet float64) (*lane.OilMap, error) {
	row := slices.Repeat([]float64{film}, lane.Boards)
	return lane.NewBoardOilMap([]float64{0, feet * units.Foot}, [][]float64{row, row})
}

// oilCases are the unit of oil and volumes that follow from it.
func oilCases() []Case {
	all := plain("oil unit", "0.0167 cm³ on a square foot (from memory)", FromMemory).cases(
		number{"film", "µm", "0.1798", is(units.OilUnit)},
		number{"film in µin", "µin", "7.08", is(units.OilUnit)},
	)
	foot := func() (*lane.OilMap, error) { return flatOil(1, 1) }
	all = append(all, setUp[*lane.OilMap]{"one unit over one foot of lane", "41.5 in in 39 boards", Derived, foot}.cases(
		answer[*lane.OilMap]{"oil", "mL", "0.05775", func(o *lane.OilMap) (float64, error) { return o.Volume(0, o.Length()), nil }},
		answer[*lane.OilMap]{"oil per board", "µL", "1.481", func(o *lane.OilMap) (float64, error) { return o.Volume(0, o.Length()) / lane.Boards, nil }},
	)...)
	for _, row := range []struct {
		millilitres, feet float64
		printed           string
		crown             float64
	}{{18, 38, "8.20", 10}, {25, 40, "10.82", 3}, {30, 42, "12.37", 1}} {
		pattern := patterns.Crown{Length: row.feet * units.Foot, Volume: row.millilitres * units.Millilitre, Ratio: row.crown}
		measured := func() (patterns.Measures, error) {
			o, err := pattern.Build()
			return patterns.Measure(o, patterns.BoardSets{}), err
		}
		all = append(all, setUp[patterns.Measures]{fmt.Sprintf("%g mL on %g ft", row.millilitres, row.feet), "volume over area", Derived, measured}.cases(
			answer[patterns.Measures]{"mean film", "oil units", row.printed, func(m patterns.Measures) (float64, error) { return m.MeanUnits * units.OilUnit, nil }},
		)...)
		mean, half := digits(row.printed)
		even := func() (*lane.OilMap, error) { return flatOil(mean, row.feet) }
		// The mean's last digit, over the oiled area.
		area := row.feet * units.Foot * lane.Width
		all = append(all, within(half*units.OilUnit*area/units.Millilitre, setUp[*lane.OilMap]{fmt.Sprintf("%s units on %g ft", row.printed, row.feet), "film times area", Derived, even}.cases(
			answer[*lane.OilMap]{"oil", "mL", fmt.Sprint(row.millilitres), func(o *lane.OilMap) (float64, error) { return o.Volume(0, o.Length()), nil }},
		))...)
	}
	exit := func() (patterns.Measures, error) {
		o, err := flatOil(10, 40)
		return patterns.Measure(o, patterns.BoardSets{}), err
	}
	return append(all, setUp[patterns.Measures]{"pattern of 40 ft", "oiled length less 31, a rule of thumb published on secondary pages", Published, exit}.cases(
		answer[patterns.Measures]{"exit board, first guess", "", "9", func(m patterns.Measures) (float64, error) { return m.ExitBoard, nil }},
	)...)
}
