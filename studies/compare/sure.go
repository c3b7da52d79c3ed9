package compare

import (
	"cmp"
	"math"
	"slices"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/units"
)

// AssumedResult counts the sets of assumed values in which conclusions about b compared with a are true.
type AssumedResult struct {
	FrictionRead SignCount // positive is later
	AtPins       SignCount // positive is farther inside
	Seen         SignCount // positive is a difference that can be seen; there is no negative

	// Changed is the number of sets in which a line ended on the way to the set's values and another replaced
	// it, Lost that in which none did. Lost sets count as None.
	Changed, Lost int
}

// SignCount counts sets of assumed values by the sign of a difference; None counts differences that do not
// exist or are too small for a sign.
type SignCount struct {
	Of, Positive, Negative, None int
}

// Open reports whether a conclusion is open, given the number of sets that agree with it: fewer than three
// quarters.
func (h SignCount) Open(agree int) bool { return 4*agree < 3*h.Of }

// Agree returns the number of sets that have the sign of a difference.
func (h SignCount) Agree(d float64) int {
	if d < 0 {
		return h.Negative
	}
	return h.Positive
}

// noDifference is the difference below which a set counts as None and none is reported: about twice the
// numerical error of a mean over the phases at the tolerance of studies.
var noDifference = Change{AtPins: 0.02, FrictionRead: 0.05 * units.Foot}

// trialSet has the results of the deliveries with one set of assumed values.
type trialSet struct {
	set      studies.AssumedSet
	lines    lines // with the values as given
	means    []Change
	lost     []int // by delivery, the phases at which it does not get to the pins
	outcomes []lineOutcome
}

// trials lists the sets to try.
func (c Study) trials(found lines) []*trialSet {
	var list []*trialSet
	for _, set := range studies.AssumedSets(max(cmp.Or(c.Sets, studies.DefaultAssumedSets), 0)) {
		list = append(list, &trialSet{set: set, lines: found})
	}
	return list
}

// run throws the deliveries of a comparison with the set's values, each on its line, followed to these
// values.
func (t *trialSet) run(thrower *physics.Thrower, c Study) error {
	n := len(c.Deliveries)
	list := slices.Clone(c.Deliveries)
	t.set.Lanes(studies.Pointers(list, func(d *studies.Undrilled) *lane.Lane { return &d.Lane })...)
	t.set.Balls(studies.Pointers(list, func(d *studies.Undrilled) *ball.Ball { return &d.Ball })...)
	t.means, t.lost, t.outcomes = make([]Change, n), make([]int, n), make([]lineOutcome, n)
	for _, i := range c.finders() {
		var err error
		list[i].Release.Angle, t.outcomes[i], err = c.follow(thrower, t.lines[i].Branch, c.Deliveries[i], list[i])
		if err != nil {
			return err
		}
	}
	c.share(list)
	for i, finder := range c.Lines {
		if finder >= 0 {
			t.outcomes[i] = t.outcomes[finder]
		}
	}
	s := studies.ForManyShots(c.Settings)
	s.EndOnly, s.FrictionRead = true, true
	for i, d := range list {
		if t.outcomes[i] == lineLost {
			continue
		}
		phases := phasesOf(d.Ball)
		var sum Change
		for k := range phases {
			d.Release.Phase = phase(k)
			shot, err := thrower.Throw(d.Lane, d.Ball, d.Release, s)
			if err != nil {
				return err
			}
			r := readingsOf(shot, d.Release)
			sum = sum.plus(r.Change)
			if r.lost {
				// The place of the friction read is unknown in the gutter, but the side at the pins is known.
				sum.FrictionRead += r.exists.FrictionRead
				t.lost[i]++
			}
		}
		t.means[i] = sum.times(1 / float64(phases))
	}
	return nil
}

// countConclusions counts, for a pair, the sets in which each conclusion is true.
func countConclusions(trials []*trialSet, pair [2]int, v Visible) AssumedResult {
	var h AssumedResult
	for _, t := range trials {
		a, b := pair[0], pair[1]
		d := t.means[b].minus(t.means[a])
		seen := 0.0
		switch worst := max(t.outcomes[a], t.outcomes[b]); {
		case worst == lineLost:
			h.Lost++
			d = Change{}
		default:
			if worst == lineChanged {
				h.Changed++
			}
			if v.sees(d, t.lost[a], t.lost[b]) {
				seen = 1
			}
		}
		h.FrictionRead.count(d.FrictionRead, noDifference.FrictionRead)
		h.AtPins.count(d.AtPins, noDifference.AtPins)
		h.Seen.count(seen, 0)
	}
	return h
}

// count counts a difference by its sign.
func (h *SignCount) count(d, least float64) {
	h.Of++
	switch {
	case math.IsNaN(d) || math.Abs(d) <= least:
		h.None++
	case d > 0:
		h.Positive++
	default:
		h.Negative++
	}
}
