package main

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/studies"
)

// tryAssumed tries with sets of assumed values which ball is the first choice of a
// bowler on a lane.
func (a *aiming) tryAssumed(ctx context.Context, p *program, n int, search func(studies.Setup) studies.LineSearch) (err error) {
	var list []conclusion
	for _, r := range a.ranking() {
		first := r.balls[0]
		list = append(list, conclusion{
			Kind: "first_choice", Bowler: r.bowler, Lane: &r.lane, Ball: first.ball, a: first.Ball,
			claim: fmt.Sprintf("%s is the first choice of %s on %s", first.ball, r.bowler, r.lane),
		})
	}
	a.tried, err = p.tryAssumed(ctx, n, list, func(set studies.AssumedSet) (func(conclusion) bool, error) {
		made := *a
		made.list = slices.Clone(a.list)
		var lanes []*lane.Lane
		var balls []*ball.Ball
		for i := range made.list {
			lanes, balls = append(lanes, &made.list[i].setup.Lane), append(balls, &made.list[i].setup.Ball)
		}
		set.Lanes(lanes...)
		set.Balls(balls...)
		for i := range made.list {
			t := &made.list[i]
			found, err := search(t.setup).Run(ctx)
			none := (*studies.NoLineError)(nil)
			if err != nil && !errors.As(err, &none) {
				return nil, err
			}
			t.FoundLines, t.none = found, none
		}
		return func(c conclusion) bool { return made.first(c.Bowler, *c.Lane) == c.a }, nil
	})
	return err
}

// first is the index of the ball with the largest share of a bowler on a lane, by the
// measure that was asked for or, if none has a good angle, the pocket; −1 if none has
// a line.
func (a *aiming) first(bowler, lane string) int {
	for _, by := range []studies.LineMeasure{a.by, studies.ByPocketShare} {
		best, most := -1, -1
		for _, t := range a.list {
			if t.none != nil || t.bowler != bowler || t.lane != lane || by == a.by && t.By != a.by {
				continue
			}
			if n := countBy(t.Best, by).Hits; n > most {
				best, most = t.Ball, n
			}
		}
		if best >= 0 {
			return best
		}
	}
	return -1
}
