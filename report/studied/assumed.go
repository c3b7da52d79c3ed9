package studied

import (
	"fmt"
	"strings"

	"lanesim/report"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/compare"
)

// Conclusion is something that a study concludes of a ball, and in how many sets of
// assumed values it holds.
type Conclusion struct {
	Kind         string
	Bowler, Ball string
	Lane         *string // nil if it is of no lane
	Against      *string // another ball, if it is of one
	Holds        int
	Open         bool // it holds in fewer than three quarters of the sets

	Claim string // a clause for people
	A, B  int    // of players
}

// Tried are conclusions that were tried with sets of assumed values.
type Tried struct {
	Asked, Of   int // sets, and those that are finished
	Conclusions []Conclusion

	// Lines counts, over the sets, the lines that followed the values and did not get to
	// the set's; nil where none follow.
	Lines *aim.LinesFollowed
}

// Judge calls open what holds in fewer than three quarters of the sets.
func (t *Tried) Judge() {
	for i := range t.Conclusions {
		c := &t.Conclusions[i]
		c.Open = compare.SignCount{Of: t.Of}.Open(c.Holds)
	}
}

// object is null if nobody asked.
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

// Words say how sure the conclusions are, under a heading. Nil was not asked for.
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

// Interrupted says how far an interrupted trial came.
func (t *Tried) Interrupted() string {
	return fmt.Sprintf("interrupted: %d of %d sets of assumed values are finished", t.Of, t.Asked)
}
