package studied

import (
	"fmt"
	"math"
	"strings"

	"lanesim/report"
	"lanesim/studies/wear"
)

// PlanCurve is how a player's shares go, for a picture.
type PlanCurve struct {
	Name, Line string
	Session    float64 // shot at which the session ends
	Periods    []PlanPeriod
}

// PlanPeriod is the share on one line with one ball.
type PlanPeriod struct {
	Ball           int
	Shots, Percent []float64
	Falls          float64 // share in percent below which it has fallen
	Until          float64 // shot at which it ends
	Change         string  // from the period before, with what it brings
}

// Curves are those of all players.
func (w *WearPlan) Curves() []PlanCurve {
	var list []PlanCurve
	w.each(func(part PlanPart, s PlannedPlayer, p wear.PlayerResult) {
		first := p.Periods[0]
		c := PlanCurve{Name: w.Name(s), Line: "best fresh line: " + s.lineWords(first), Session: float64(part.Study.Shots)}
		if !w.Alone {
			c.Name += ", " + s.Balls[first.Ball]
		}
		for i, period := range p.Periods {
			one := PlanPeriod{Ball: period.Ball, Falls: 100 * part.Study.Keep * period.Share.Share(), Until: float64(period.To + 1)}
			for _, j := range period.Judgements {
				one.Shots, one.Percent = append(one.Shots, float64(j.Shot)), append(one.Percent, 100*j.Share.Share())
			}
			if i > 0 {
				one.Change = s.ChangeWords(period, p.Periods[i-1]) + " " + report.Points(period.Gain.Difference()) + " points"
			}
			c.Periods = append(c.Periods, one)
		}
		list = append(list, c)
	})
	return list
}

// Note is the sentence under a picture's title.
func (w *WearPlan) Note() string {
	var parts []string
	w.each(func(part PlanPart, s PlannedPlayer, p wear.PlayerResult) {
		at := fallOf(p.Periods[0], part.Study.Keep)
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
