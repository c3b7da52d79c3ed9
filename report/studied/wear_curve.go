package studied

import (
	"fmt"
	"math"
	"strings"

	"lanesim/report"
	"lanesim/studies/wear"
)

// PlanCurve is how a seat's shares go, for a picture.
type PlanCurve struct {
	Name, Line string
	Session    float64 // shot at which the session ends
	Stints     []PlanStint
}

// PlanStint is the share on one line with one ball.
type PlanStint struct {
	Ball           int
	Shots, Percent []float64
	Falls          float64 // share in percent below which it has fallen
	Until          float64 // shot at which it ends
	Change         string  // from the stint before, with what it brings
}

// Curves are those of all seats.
func (w *WearPlan) Curves() []PlanCurve {
	var list []PlanCurve
	w.each(func(part PlanPart, s PlannedSeat, p wear.SeatPlan) {
		first := p.Stints[0]
		c := PlanCurve{Name: w.Name(s), Line: "best fresh line: " + s.lineWords(first), Session: float64(part.Study.Shots)}
		if !w.Alone {
			c.Name += ", " + s.Balls[first.Ball]
		}
		for i, stint := range p.Stints {
			one := PlanStint{Ball: stint.Ball, Falls: 100 * part.Study.Keep * stint.Share.Share(), Until: float64(stint.To + 1)}
			for _, j := range stint.Judgements {
				one.Shots, one.Percent = append(one.Shots, float64(j.Shot)), append(one.Percent, 100*j.Share.Share())
			}
			if i > 0 {
				one.Change = s.ChangeWords(stint, p.Stints[i-1]) + " " + report.Points(stint.Gain.Difference()) + " points"
			}
			c.Stints = append(c.Stints, one)
		}
		list = append(list, c)
	})
	return list
}

// Note is the sentence under a picture's title.
func (w *WearPlan) Note() string {
	var parts []string
	w.each(func(part PlanPart, s PlannedSeat, p wear.SeatPlan) {
		at := fallOf(p.Stints[0], part.Study.Keep)
		if math.IsInf(at, 0) {
			parts = append(parts, fmt.Sprintf("%s has not fallen by shot %d", w.Name(s), part.Result.Played))
		} else {
			parts = append(parts, fmt.Sprintf("%s falls by shot %.0f%s", w.Name(s), at, stayBetween(p)))
		}
	})
	words := "The best fresh line: " + strings.Join(parts, "; ") + "."
	if longer := w.longer(); longer != "" {
		words = longer + " " + words
	}
	return words
}
