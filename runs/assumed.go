package runs

import (
	"lanesim/report"
	"lanesim/studies"
)

// tryAssumed tries conclusions with n sets of assumed values. Run does the study with
// a set and returns which of them hold. If the context ends, what is finished is
// returned with its error.
func tryAssumed(n int, step func(done, total int), list []report.Conclusion, run func(studies.AssumedSet) (func(report.Conclusion) bool, error)) (*report.Tried, error) {
	t := &report.Tried{Asked: n, Conclusions: append([]report.Conclusion{}, list...)}
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
