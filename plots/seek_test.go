package plots

import (
	"math"
	"slices"
	"testing"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/studied"
	"lanesim/studies"
	"lanesim/studies/seek"
	"lanesim/units"
)

func TestSeekShowsWhatIsWantedAndFound(t *testing.T) {
	want := seek.Want{FrictionRead: 38 * units.Foot, BreakpointDistance: 45 * units.Foot, Breakpoint: 9, EntryBoard: 17.5, EntryAngle: math.NaN()}
	found := seek.Result{Outcome: want, Near: true}
	found.Setup = studies.Setup{Lane: inventedLane(), Release: physics.Release{Hand: ball.Left}}
	s := studied.Seek{Title: "A wish", Want: want, Found: []seek.Result{found, found}, Varied: []studied.SoughtField{{Path: "bowler.laydown"}},
		Values: [][]report.Cell{{{Number: 22}}, {{Number: 24}}}}
	if _, err := DrawSeek(&s, Sheet); err == nil {
		t.Error("drawn without shots")
	}
	var shots []physics.Shot
	for _, one := range four() {
		shots = append(shots, one.Shot)
	}
	s.Shots = [][]physics.Shot{shots, shots}
	for _, size := range []Size{Sheet, Phone} {
		d := drawn(t)(DrawSeek(&s, size))
		texts := checkTexts(t, d)
		for _, want := range []string{"board, from the left", "best", "second", "bowler.laydown 22", "bowler.laydown 24"} {
			if !slices.Contains(texts, want) {
				t.Errorf("no %q among the texts %q", want, texts)
			}
		}
	}
}
