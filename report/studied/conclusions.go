package studied

import (
	"fmt"
	"math"

	"lanesim/ball"
	"lanesim/studies/wear"
)

// The kinds of [Conclusion].
const (
	firstChoice = "first_choice"
	bestBall    = "best_ball"
	chosen      = "chosen"
	longerLine  = "lasts_longer"
	firstLine   = "first_line"
	firstChange = "first_change"
)

// Conclusions returns the first choices of bowlers on lanes; A is the ball's index in the list.
func (a *Aim) Conclusions() []Conclusion {
	var list []Conclusion
	for _, r := range a.Ranking() {
		first := r.Balls[0]
		list = append(list, Conclusion{Kind: firstChoice, Bowler: r.Bowler, Lane: &r.Lane, Ball: first.Ball, A: first.At,
			Claim: fmt.Sprintf("%s is the first choice of %s on %s", first.Ball, r.Bowler, r.Lane)})
	}
	return list
}

// Conclusions returns the chosen balls and the best one; A is the ball's index.
func (w *Bag) Conclusions() []Conclusion {
	var list []Conclusion
	for k, i := range w.Choice.Chosen {
		if k == 0 {
			list = append(list, Conclusion{Kind: bestBall, Bowler: w.Bowler, Ball: w.Balls[i], A: i, Claim: w.Balls[i] + " is the best ball"})
		}
		if len(w.Balls) > len(w.Choice.Chosen) {
			list = append(list, Conclusion{Kind: chosen, Bowler: w.Bowler, Ball: w.Balls[i], A: i, Claim: w.Balls[i] + " is among those chosen"})
		}
	}
	return list
}

func lastsLongerWords(a, b string) string { return fmt.Sprintf("%s lasts longer than %s", a, b) }

// Conclusions returns which ball of a bowler lasts longer; A and B are indices of players.
func (w *Wear) Conclusions() []Conclusion {
	var list []Conclusion
	used := w.Used()
	for k, i := range used {
		for _, j := range used[k+1:] {
			a, b := i, j
			longer := w.Result.Longer(a, b)
			if w.Players[a].Bowler != w.Players[b].Bowler || longer == 0 {
				continue
			}
			if longer < 0 {
				a, b = b, a
			}
			list = append(list, Conclusion{Kind: longerLine, Bowler: w.Players[a].Bowler, Ball: w.Players[a].Ball, Against: &w.Players[b].Ball, A: a, B: b,
				Claim: lastsLongerWords(w.Players[a].Ball, w.Players[b].Ball)})
		}
	}
	return list
}

// Conclusions returns whether first lines fall in the session and which change is then the best, for player B
// of part A, and which ball of a bowler lasts longer, of parts A and B.
func (w *WearPlan) Conclusions() []Conclusion {
	var list []Conclusion
	add := func(kind string, a, b int, p PlannedPlayer, claim string) *Conclusion {
		list = append(list, Conclusion{Kind: kind, Bowler: p.Bowler, Ball: p.Balls[0], Lane: &p.Lane, A: a, B: b, Claim: claim})
		return &list[len(list)-1]
	}
	for i, part := range w.Parts {
		for k, p := range part.Players {
			words := "does not fall by the end of the session"
			if part.fallsInSession(k) {
				words = "falls by the end of the session"
			}
			add(firstLine, i, k, p, fmt.Sprintf("the first line of %s %s", w.Name(p), words))
			if periods := part.Result.Players[k].Periods; len(periods) > 1 {
				add(firstChange, i, k, p, fmt.Sprintf("then %s %s", w.Name(p), p.firstChangeWords(periods)))
			}
		}
	}
	if !w.Alone {
		return list
	}
	for i, a := range w.Parts {
		for j := i + 1; j < len(w.Parts); j++ {
			b := w.Parts[j]
			if !sameBowlerAndLane(a, b) {
				continue
			}
			x, y := a.Players[0], b.Players[0]
			words := fmt.Sprintf("neither %s nor %s lasts longer beyond chance", x.Balls[0], y.Balls[0])
			switch longer := lastsLonger(a, b); {
			case longer > 0:
				words = lastsLongerWords(x.Balls[0], y.Balls[0])
			case longer < 0:
				words = lastsLongerWords(y.Balls[0], x.Balls[0])
			}
			add(longerLine, i, j, x, words).Against = &y.Balls[0]
		}
	}
	return list
}

// Holds reports whether a conclusion is true in parts that were played with other values.
func (w *WearPlan) Holds(c Conclusion, parts []PlanPart) bool {
	switch c.Kind {
	case firstLine:
		return parts[c.A].fallsInSession(c.B) == w.Parts[c.A].fallsInSession(c.B)
	case firstChange:
		return alike(w.Parts[c.A].Result.Players[c.B].Periods, parts[c.A].Result.Players[c.B].Periods)
	}
	return lastsLonger(parts[c.A], parts[c.B]) == lastsLonger(w.Parts[c.A], w.Parts[c.B])
}

// firstChangeWords describes the first change without its size: "moves to the left".
func (p PlannedPlayer) firstChangeWords(periods []wear.Period) string {
	if ball := periods[1].Ball; ball != periods[0].Ball {
		return "changes to " + p.Balls[ball]
	}
	side := "right"
	if (moved(periods[1]) > 0) == (p.Hand == ball.Right) {
		side = "left"
	}
	return "moves to the " + side
}

// moved returns the move of a period's line in boards, at the feet or, if these stay, at the arrows.
func moved(p wear.Period) float64 {
	if math.Abs(p.Feet) > 0.05 {
		return p.Feet
	}
	return p.Arrows
}

// alike reports whether the first changes are of the same kind: to the same ball, or to the same side.
func alike(a, b []wear.Period) bool {
	if len(b) < 2 || a[1].Ball != b[1].Ball {
		return false
	}
	return a[1].Ball != a[0].Ball || moved(a[1])*moved(b[1]) > 0
}
