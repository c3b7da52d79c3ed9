package usual

import (
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/units"
)

// WornOil returns a pattern that falls from the front to its end at 42 ft; ratio is the film in the middle
// over that at the sides.
func WornOil(t testing.TB, ratio float64) *lane.OilMap {
	t.Helper()
	const rows = 43
	distances, films := make([]float64, rows), make([][]float64, rows)
	for i := range distances {
		distances[i] = float64(i) * units.Foot
		films[i] = make([]float64, lane.Boards)
		for j := range films[i] {
			side := min(float64(j+1), float64(lane.Boards-j))
			u := min(1, max(0, (side-4)/8))
			films[i][j] = 35 * (1 - 0.7*float64(i)/rows) * (1 + (ratio-1)*u) / ratio
		}
	}
	oil, err := lane.NewBoardOilMap(distances, films)
	if err != nil {
		t.Fatal(err)
	}
	return oil
}

// Setup returns a bowler with a ball of low differential, its pin at a distance in m from the PAP, aimed at
// the pocket.
func Setup(t testing.TB, hand ball.Hand, pin float64, sigmas studies.Repeatability) studies.Setup {
	t.Helper()
	l := lane.Default()
	l.Oil = WornOil(t, 1.5)
	s := ball.Default()
	s.Weight, s.Diameter, s.RG, s.Differential = 15*units.Pound, 8.58*units.Inch, 2.52*units.Inch, 0.030*units.Inch
	s.Layout = &ball.Layout{DrillingAngle: 45 * units.Degree, PinToPAP: pin * units.Inch, VALAngle: 40 * units.Degree}
	s.Roughness = 25 * units.Microinch
	const mph, rpm = units.MPH, units.RPM
	r := physics.Release{Hand: hand, Speed: 18 * mph, RevRate: 325 * rpm, AxisRotation: 60 * units.Degree, AxisTilt: 13 * units.Degree, Laydown: 26}
	setup := studies.Setup{Lane: l, Ball: Prepared(t, s, hand), Release: r, Repeatability: sigmas}
	setup.Release = AtPocket(t, setup, studies.ForManyShots(physics.Settings{}))
	return setup
}

// League returns the repeatability of a usual league bowler.
func League() studies.Repeatability {
	const mph, rpm = units.MPH, units.RPM
	return studies.Repeatability{Laydown: 1, Angle: 0.3 * units.Degree, Speed: 0.5 * mph, RevRate: 15 * rpm, AxisRotation: 4 * units.Degree, AxisTilt: 2 * units.Degree}
}
