package runs

import (
	"errors"
	"strings"
	"testing"

	"lanesim/report/studied"
	"lanesim/studies"
)

// A conclusion that holds in fewer than three quarters of the sets is open, and an
// interrupt keeps the sets that are finished.
func TestConclusionsAreTriedWithSets(t *testing.T) {
	quiet := func(done, total int) {}
	list := []studied.Conclusion{{Claim: "a comes out"}, {Claim: "b comes out"}, {Claim: "c comes out"}}
	seen := map[studies.AssumedSet]bool{}
	k := 0
	ended := errors.New("ended")
	run := func(stop int) func(studies.AssumedSet) (func(studied.Conclusion) bool, error) {
		k = 0
		return func(set studies.AssumedSet) (func(studied.Conclusion) bool, error) {
			if k++; k > stop {
				return nil, ended
			}
			seen[set] = true
			return func(c studied.Conclusion) bool {
				return c.Claim[0] == 'a' && k <= 6 || c.Claim[0] == 'b' && k <= 5 || c.Claim[0] == 'c'
			}, nil
		}
	}
	got, err := tryAssumed(8, quiet, list, run(8))
	if err != nil || got.Of != 8 || len(seen) != 8 {
		t.Fatalf("%+v, %v, %d sets", got, err, len(seen))
	}
	for i, want := range []studied.Conclusion{{Holds: 6}, {Holds: 5, Open: true}, {Holds: 8}} {
		if c := got.Conclusions[i]; c.Holds != want.Holds || c.Open != want.Open {
			t.Errorf("%s: holds %d, open %v", c.Claim, c.Holds, c.Open)
		}
	}
	if list[0].Holds != 0 {
		t.Error("the conclusions that were given are changed")
	}
	words := got.Words().String()
	for _, want := range []string{
		"A comes out in 6 of 8 sets of assumed values.",
		"Open: that b comes out holds in 5 of 8 sets of assumed values.",
		"C comes out in 8 of 8 sets of assumed values.",
	} {
		if !strings.Contains(words, want) {
			t.Errorf("%q lacks %q", words, want)
		}
	}
	if got, err = tryAssumed(8, quiet, list, run(3)); !errors.Is(err, ended) || got.Of != 3 || got.Conclusions[1].Holds != 3 {
		t.Errorf("%+v, %v", got, err)
	}
	if words := (*studied.Tried)(nil).Words().String(); !strings.Contains(words, "--assumed 24") {
		t.Errorf("%q", words)
	}
}
