package main

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/report"
	"lanesim/studies"
	"lanesim/studies/aim"
)

// tryAssumed tries with sets of assumed values which ball is the first choice of a
// bowler on a lane.
func (a *aiming) tryAssumed(ctx context.Context, p *program, n int, search func(studies.Setup) aim.Search) (err error) {
	var list []conclusion
	for _, r := range a.Ranking() {
		first := r.Balls[0]
		list = append(list, conclusion{
			Kind: "first_choice", Bowler: r.Bowler, Lane: &r.Lane, Ball: first.Ball, A: first.At,
			Claim: fmt.Sprintf("%s is the first choice of %s on %s", first.Ball, r.Bowler, r.Lane),
		})
	}
	a.Tried, err = p.tryAssumed(ctx, n, list, func(set studies.AssumedSet) (func(conclusion) bool, error) {
		made := *a
		made.List = slices.Clone(a.List)
		var lanes []*lane.Lane
		var balls []*ball.Ball
		for i := range made.List {
			lanes, balls = append(lanes, &made.List[i].Setup.Lane), append(balls, &made.List[i].Setup.Ball)
		}
		set.Lanes(lanes...)
		set.Balls(balls...)
		for i := range made.List {
			t := &made.List[i]
			found, err := search(t.Setup).Run(ctx)
			none := (*aim.NoLineError)(nil)
			if err != nil && !errors.As(err, &none) {
				return nil, err
			}
			t.Result, t.None = found, none
		}
		return func(c conclusion) bool { return made.first(c.Bowler, *c.Lane) == c.A }, nil
	})
	return err
}

// first is the index in the list of the ball with the largest share of a bowler on a lane, by the
// measure that was asked for or, if none has a good angle, the pocket; −1 if none has
// a line.
func (a *aiming) first(bowler, lane string) int {
	for _, by := range []aim.Measure{a.By, aim.ByPocketShare} {
		best, most := -1, -1
		for at, t := range a.List {
			if t.None != nil || t.Bowler != bowler || t.Lane != lane || by == a.By && t.By != a.By {
				continue
			}
			if n := report.CountBy(t.Best, by).Hits; n > most {
				best, most = at, n
			}
		}
		if best >= 0 {
			return best
		}
	}
	return -1
}
