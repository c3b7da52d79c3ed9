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

// AssumedResult says in how many sets of assumed values conclusions about b against a
// hold.
type AssumedResult struct {
	FrictionRead SignCount // positive is later
	AtPins       SignCount // positive is farther inside
	Seen         SignCount // positive is a difference that can be seen; there is no negative

	// Changed is the number of sets in which a line ended on the way to the set's
	// values and another took its place, Lost that in which none did. Lost sets
	// count as none.
	Changed, Lost int
}

// SignCount counts sets of assumed values by the sign of a difference; none is a
// difference that does not exist or is too small for a sign.
type SignCount struct {
	Of, Positive, Negative, None int
}

// Open says whether so few of the sets agree with a sign that the conclusion is
// open: fewer than three quarters.
func (h SignCount) Open(agree int) bool { return 4*agree < 3*h.Of }

// Agree is the number of sets that have the sign of a difference.
func (h SignCount) Agree(d float64) int {
	if d < 0 {
		return h.Negative
	}
	return h.Positive
}

// noDifference is what counts as none in a set, and is reported as none: about twice
// the numerical error of a mean over the phases at the tolerance of studies.
var noDifference = Change{AtPins: 0.02, FrictionRead: 0.05 * units.Foot}

// trialSet are the deliveries thrown with one set of assumed values.
type trialSet struct {
	set      studies.AssumedSet
	lines    lines // with the values as given
	means    []Change
	lost     []int // by delivery, the phases at which it does not get to the pins
	outcomes []lineOutcome
}

// trials lists the sets that are to be tried.
func (c Study) trials(found lines) []*trialSet {
	var list []*trialSet
	for _, set := range studies.AssumedSets(max(cmp.Or(c.Sets, studies.DefaultAssumedSets), 0)) {
		list = append(list, &trialSet{set: set, lines: found})
	}
	return list
}

// run throws the deliveries of a comparison with the set's values, each on its
// line, which follows the values.
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
			r := read(shot, d.Release)
			sum = sum.plus(r.Change)
			if r.lost {
				// Where it would have read the friction is not known, but the
				// gutter has a side.
				sum.FrictionRead += r.exists.FrictionRead
				t.lost[i]++
			}
		}
		t.means[i] = sum.times(1 / float64(phases))
	}
	return nil
}

// holds counts for a pair in how many sets the conclusions hold.
func holds(trials []*trialSet, pair [2]int, v Visible) AssumedResult {
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
