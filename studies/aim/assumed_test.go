package aim_test

import (
	"testing"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/internal/usual"
	"lanesim/units"
)

// A line that is lost on the way to a set's values keeps its angle, and is counted.
func TestLostLinesAreCounted(t *testing.T) {
	s := usual.Setup(t, ball.Right, 3.4, studies.Repeatability{})
	var list []studies.Setup
	var aims []bool
	for _, laydown := range []float64{8, 12, 30, 36} {
		for _, speed := range []float64{13, 16} {
			one := studies.Setup{Lane: s.Lane, Ball: s.Ball, Release: s.Release}
			one.Release.Laydown, one.Release.Speed, one.Release.RevRate = laydown, speed*units.MPH, 480*units.RPM
			aimed, err := aim.AtPocket(studies.Setup{Lane: one.Lane, Ball: one.Ball, Release: one.Release}, studies.ForManyShots(physics.Settings{}))
			if err != nil {
				continue
			}
			one.Release = aimed
			list, aims = append(list, one), append(aims, true)
		}
	}
	var all aim.LinesFollowed
	for _, set := range studies.AssumedSets(12) {
		made, lines, err := aim.AssumedSetups(set, list, aims, physics.Settings{})
		if err != nil {
			t.Fatal(err)
		}
		kept := 0
		for i := range made {
			if made[i].Release.Angle == list[i].Release.Angle {
				kept++
			}
		}
		if lines.Lost != kept {
			t.Errorf("%d lines kept their angle, %d are counted as lost", kept, lines.Lost)
		}
		all.Changed += lines.Changed
		all.Lost += lines.Lost
	}
	t.Logf("%+v of %d lines in 12 sets", all, len(list))
	if all.Lost == 0 {
		t.Error("no line was lost")
	}
}
