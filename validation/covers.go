package validation

import (
	"fmt"
	"math"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/units"
)

// averageReleases are the averages of low, medium and high rev rates (governing body,
// secondary pages), each on a usual line.
var averageReleases = []struct {
	name    string
	release physics.Release
}{
	{"low", averageRelease(19, 220, 45, 22, 1)},
	{"medium", averageRelease(18, 325, 60, 28, 2.77)},
	{"high", averageRelease(19, 520, 50, 32, 5)},
}

func averageRelease(mph, revs, rotation, laydown, angle float64) physics.Release {
	return physics.Release{
		Speed: mph * units.MPH, RevRate: revs * units.RPM, AxisRotation: rotation * units.Degree, AxisTilt: 13 * units.Degree,
		Laydown: laydown, Angle: angle * units.Degree,
	}
}

// coverCases compare a polished plastic ball with a dull reactive one on the fresh crowned
// pattern: how many boards each leaves its launch line by at the pins. The lane has no
// gutters, so that no ball ends before them.
func coverCases() []Case {
	var all []Case
	for _, a := range averageReleases {
		all = append(all, within(0.1, plain("polished plastic and dull reactive on a crowned pattern, "+a.name+" rev rate",
			"common practice: plastic hooks about half as much as dull reactive", CommonPractice).cases(
			number{"boards off the launch line over those of a dull reactive ball, 0.4 to 0.6", "", "0.5", func(struct{}) (float64, error) {
				plastic, err := offLaunchLine(ball.Plastic, "polished", a.release)
				if err != nil {
					return 0, err
				}
				reactive, err := offLaunchLine(ball.Reactive, "dull", a.release)
				return plastic / reactive, err
			}},
		))...)
	}
	return all
}

// offLaunchLine returns the distance in m between where a ball with a cover and a finish
// arrives and where its launch line leads.
func offLaunchLine(c ball.Cover, finish string, r physics.Release) (float64, error) {
	o, err := crowned(crownedRatio)
	if err != nil {
		return 0, err
	}
	l := lane.Default()
	l.Oil, l.Edgeless = o, true
	s := usualBall(4.5 * units.Inch)
	s.Cover = c
	ra, ok := ball.RoughnessOfFinish(finish)
	if !ok {
		return 0, fmt.Errorf("no finish is called %q", finish)
	}
	s.Roughness = ra
	b, err := s.Prepare(ball.DefaultPAP(), ball.Right)
	if err != nil {
		return 0, err
	}
	shot, err := throw(l, b, r, physics.Settings{})()
	if err != nil {
		return 0, err
	}
	y, err := arrives(lateral)(shot)
	return y - lane.Lateral(r.Laydown) + math.Tan(r.Angle)*l.Length, err
}
