package studied

import (
	"fmt"
	"math"
	"strings"

	"lanesim/report"
)

// PlanCurve has a player's shares over the session, for a picture.
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
	Change         string  // change from the previous period, with its gain
}

// Curves returns the curves of all players.
func (w *WearPlan) Curves() []PlanCurve {
	var list []PlanCurve
	for _, p := range w.plans() {
		first := p.periods[0]
		c := PlanCurve{Name: w.Name(p.PlannedPlayer), Line: "best fresh line: " + first.shot().LineText(), Session: float64(p.part.Study.Shots)}
		if !w.Alone {
			c.Name += ", " + p.Balls[first.Ball]
		}
		for i, period := range p.periods {
			one := PlanPeriod{Ball: period.Ball, Falls: 100 * p.part.Study.Keep * period.Share.Share(), Until: float64(period.To + 1)}
			for _, j := range period.Judgements {
				one.Shots, one.Percent = append(one.Shots, float64(j.Shot)), append(one.Percent, 100*j.Share.Share())
			}
			if i > 0 {
				one.Change = period.changeWords() + " " + report.Points(period.Gain.Difference()) + " points"
			}
			c.Periods = append(c.Periods, one)
		}
		list = append(list, c)
	}
	return list
}

// Note returns the sentence under a picture's title.
func (w *WearPlan) Note() string {
	var parts []string
	for _, p := range w.plans() {
		at := fallOf(p.Periods[0], p.part.Study.Keep)
		if math.IsInf(at, 0) {
			parts = append(parts, fmt.Sprintf("%s has not fallen by shot %d", w.Name(p.PlannedPlayer), p.part.Result.Played))
		} else {
			parts = append(parts, fmt.Sprintf("%s falls by shot %.0f%s", w.Name(p.PlannedPlayer), at, stayBetween(p.PlayerResult)))
		}
	}
	words := "The best fresh line: " + strings.Join(parts, "; ") + "."
	if longer := w.longer(); longer != "" {
		words = longer + " " + words
	}
	return words
}
