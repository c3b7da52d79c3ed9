package studied_test

import (
	"strings"
	"testing"

	"lanesim/report/studied"
	"lanesim/studies"
	"lanesim/studies/bag"
)

// A ball that adds nothing beyond chance is not among those that are enough.
func TestBallsThatAreEnough(t *testing.T) {
	value := func(v, low, high float64) studies.Mean {
		return studies.Mean{Value: v, Interval: studies.Interval{Low: low, High: high}}
	}
	w := studied.Bag{Balls: []string{"A", "B", "C"}, Choice: bag.Result{Chosen: []int{1, 0, 2}, Alone: []studies.Mean{value(0.3, 0.2, 0.4), value(0.5, 0.4, 0.6), value(0.2, 0.1, 0.3)}}}
	for _, c := range []struct {
		adds []studies.Mean
		want string
	}{
		{[]studies.Mean{value(0, 0, 0), value(0.1, 0.05, 0.2), value(0.01, 0, 0.02)}, "One ball is enough: B covers 50.0% (40.0% to 60.0%) alone; A, C would add nothing"},
		{[]studies.Mean{value(0.1, 0.02, 0.2), value(0, 0, 0), value(0, 0, 0)}, "2 balls are enough: B, A; C would add nothing"},
		{[]studies.Mean{value(0.1, 0.02, 0.2), value(0.1, 0.02, 0.2), value(0.1, 0.02, 0.2)}, "All 3 balls of the choice add to it: B, A, C."},
	} {
		w.Choice.Adds = c.adds
		if got := w.Answer(); !strings.HasPrefix(got, c.want) {
			t.Errorf("%s\nnot %s", got, c.want)
		}
	}
}
