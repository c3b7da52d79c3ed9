package studied

import (
	"testing"

	"lanesim/studies"
	"lanesim/studies/wear"
)

// Conclusions of plans hold with other values if first changes are alike and the same line lasts longer.
func TestPlansAreTried(t *testing.T) {
	a := []wear.Period{{}, {Feet: 2, Arrows: 1}}
	for _, c := range []struct {
		name string
		b    []wear.Period
		want bool
	}{
		{"to the same side", []wear.Period{{}, {Feet: 1}}, true}, {"to the other", []wear.Period{{}, {Feet: -1}}, false},
		{"at the arrows alone", []wear.Period{{}, {Arrows: 1}}, true}, {"none", []wear.Period{{}}, false}, {"another ball", []wear.Period{{}, {Ball: 1, Feet: 2}}, false},
	} {
		if got := alike(a, c.b); got != c.want {
			t.Errorf("a change %s is alike: %v", c.name, got)
		}
	}
	// One that lasts to 40 against one that lasts to 20, with intervals apart and not.
	part := func(at int, low, high float64) PlanPart {
		full, lost := studies.Count{Hits: 40, Of: 100}, studies.Count{Hits: 10, Of: 100}
		period := wear.Period{Share: full, End: lost, Fell: true, Judgements: []wear.Judgement{{Share: full}, {Shot: at, Share: lost}}}
		return PlanPart{Players: []PlannedPlayer{{Bowler: "x"}}, Study: wear.Plan{Keep: 0.75, Shots: 30},
			Result: wear.PlanResult{Players: []wear.PlayerResult{{Stays: float64(at), Interval: studies.Interval{Low: low, High: high}, Periods: []wear.Period{period}}}}}
	}
	long, short := part(40, 35, 50), part(20, 10, 30)
	if lastsLonger(long, short) != 1 || lastsLonger(short, long) != -1 || lastsLonger(long, part(20, 10, 36)) != 0 {
		t.Error("which lasts longer")
	}
	if long.fallsInSession(0) || !short.fallsInSession(0) {
		t.Error("which falls in the session")
	}
}
