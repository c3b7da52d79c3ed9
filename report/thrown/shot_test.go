package thrown

import (
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/report"
	"lanesim/units"
)

// A shot of which only the end was kept gives the same in the columns that need no more.
func TestEndWillDo(t *testing.T) {
	b, err := ball.Default().Prepare(ball.DefaultPAP(), ball.Right)
	if err != nil {
		t.Fatal(err)
	}
	for _, angle := range []float64{0, 2, 5} {
		r := physics.Release{Speed: 18 * units.MPH, RevRate: 300 * units.RPM, AxisRotation: 50 * units.Degree, Laydown: 20, Angle: angle * units.Degree}
		var whole, end Shot
		for _, s := range []*Shot{&whole, &end} {
			*s = Shot{Lane: "lane", Ball: "ball", Bowler: "bowler", Release: r, Pocket: physics.DefaultPocket}
			if s.Shot, err = physics.Throw(lane.Default(), b, r, physics.Settings{EndOnly: s == &end}); err != nil {
				t.Fatal(err)
			}
		}
		known := 0
		for _, c := range ShotColumns() {
			if !EndWillDo(report.Columns[Shot]{c}) {
				continue
			}
			known++
			if a, b := c.Of(whole), c.Of(end); a != b {
				t.Errorf("%v°, %s: %v of the whole shot, %v of its end", angle, c.Key, a, b)
			}
		}
		if known != len(endKeys) {
			t.Errorf("%d of %d columns found", known, len(endKeys))
		}
	}
}
