package runs

import (
	"slices"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/report/studied"
	"lanesim/studies"
)

// tryAssumed tries conclusions with n sets of assumed values. run does the study with a set and returns a
// function that reports whether a conclusion is true. On an error, as of an ended context, the finished part
// is returned with it.
func tryAssumed(n int, step func(done, total int), list []studied.Conclusion, run func(studies.AssumedSet) (func(studied.Conclusion) bool, error)) (*studied.Tried, error) {
	t := &studied.Tried{Asked: n, Conclusions: append([]studied.Conclusion{}, list...)}
	if len(list) == 0 {
		return t, nil
	}
	defer step(n, n)
	for k, set := range studies.AssumedSets(n) {
		step(k, n)
		holds, err := run(set)
		if err != nil {
			t.Judge()
			return t, err
		}
		t.Of++
		for i := range t.Conclusions {
			if c := &t.Conclusions[i]; holds(*c) {
				c.Holds++
			}
		}
	}
	t.Judge()
	return t, nil
}

// applied returns copies of lanes and balls with a set's values.
func applied(set studies.AssumedSet, lanes []lane.Lane, balls []ball.Ball) ([]lane.Lane, []ball.Ball) {
	lanes, balls = slices.Clone(lanes), slices.Clone(balls)
	set.Lanes(studies.Pointers(lanes, func(l *lane.Lane) *lane.Lane { return l })...)
	set.Balls(studies.Pointers(balls, func(b *ball.Ball) *ball.Ball { return b })...)
	return lanes, balls
}
