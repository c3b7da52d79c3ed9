package studied

import (
	"fmt"
	"strings"

	"lanesim/report"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/compare"
)

// Conclusion is a conclusion of a study about a ball, with the number of sets of assumed values in which it
// is true.
type Conclusion struct {
	Kind         string
	Bowler, Ball string
	Lane         *string // nil if it is not about a lane
	Against      *string // another ball, nil if there is none
	Holds        int     // number of sets in which it is true
	Open         bool    // true in fewer than three quarters of the sets

	Claim string // clause for people
	A, B  int    // indices, as of players
}

// Tried has conclusions that were tried with sets of assumed values.
type Tried struct {
	Asked, Of   int // sets requested, and sets finished
	Conclusions []Conclusion

	// Lines counts, over the sets, the lines that ended on the way to the set's values; nil if no lines are
	// followed.
	Lines *aim.LinesFollowed
}

// Judge marks as open the conclusions that are true in fewer than three quarters of the sets.
func (t *Tried) Judge() {
	for i := range t.Conclusions {
		c := &t.Conclusions[i]
		c.Open = compare.SignCount{Of: t.Of}.Open(c.Holds)
	}
}

// object returns the conclusions for JSON, null if they were not requested.
func (t *Tried) object() report.Object {
	if t == nil {
		return nil
	}
	o := report.ObjectOf("asked", t.Asked, "of", t.Of, "conclusions", report.Each(t.Conclusions, func(c Conclusion) report.Object {
		return report.ObjectOf("conclusion", c.Kind, "bowler", c.Bowler, "lane", c.Lane, "ball", c.Ball, "against", c.Against, "holds", c.Holds, "open", c.Open)
	}))
	if l := t.Lines; l != nil {
		o = o.With("lines", report.ObjectOf("changed", l.Changed, "lost", l.Lost))
	}
	return o
}

// Words describes how sure the conclusions are, under a heading; empty for nil.
func (t *Tried) Words() report.Document {
	var doc report.Document
	if t == nil {
		doc.Say("Not tried with other values of what is assumed")
		doc.Hint(fmt.Sprintf(": --assumed %d does that.", studies.DefaultAssumedSets))
		return doc
	}
	doc.Head("how sure")
	switch {
	case len(t.Conclusions) == 0:
		doc.Say("There is nothing to try: no ball comes out before another.")
		return doc
	case t.Of == 0:
		doc.Say("No set of assumed values was finished.")
		return doc
	}
	for i, c := range t.Conclusions {
		sets := fmt.Sprintf("in %d of %d sets of assumed values", c.Holds, t.Of)
		if c.Open {
			doc.Say(fmt.Sprintf("Open: that %s holds %s.", c.Claim, sets))
		} else {
			doc.Say(fmt.Sprintf("%s %s.", strings.ToUpper(c.Claim[:1])+c.Claim[1:], sets))
		}
		if i > 0 {
			doc.Join()
		}
	}
	if l := t.Lines; l != nil && (l.Changed > 0 || l.Lost > 0) {
		doc.Note(fmt.Sprintf("Of the lines that followed the sets' values %d ended and another took their place; %d were lost and kept their angle.", l.Changed, l.Lost))
	}
	return doc
}

// Interrupted describes the progress of an interrupted trial.
func (t *Tried) Interrupted() string {
	return fmt.Sprintf("interrupted: %d of %d sets of assumed values are finished", t.Of, t.Asked)
}
