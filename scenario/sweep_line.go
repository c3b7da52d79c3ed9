package scenario

import (
	"context"
	"errors"
	"fmt"
	"math/big"
	"slices"
	"sync"

	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/sweep"
)

// SweepLine is the kind of line on which a row of a bowler who aims at the pocket is thrown.
type SweepLine string

// The lines of rows.
const (
	// OwnLine is the bowler's line, followed to the row's values.
	OwnLine SweepLine = "own"

	// ChangedLine is another line: the own line ends before the row's values.
	ChangedLine SweepLine = "changed"

	// NoLine means that there is no line.
	NoLine SweepLine = "none"
)

// ownLine is the line of a bowler on a lane, and the point where it was found.
type ownLine struct {
	once   sync.Once
	at     []sweep.Coordinate
	branch aim.Branch
	none   bool
	err    error
}

// Aims reports whether a bowler of the sweep aims at the pocket.
func (s *Sweep) Aims() bool {
	return slices.ContainsFunc(s.tried, func(t *Scenario) bool {
		return slices.ContainsFunc(t.Bowlers, func(b Bowler) bool { return b.AimAtPocket })
	})
}

// Aim returns the launch angle in rad of the i-th delivery of point k, whose bowler
// aims at the pocket.
//
// The own line of a bowler on a lane is that of the first ball, at the middle value of every
// field that varies by numbers and the first value of the others: the given line or, of
// those to the pocket, the one with the launch angle nearest to 0. If there is none, the
// first values of all fields are tried instead of the middle ones, then the last. A lane
// varied by words counts as several lanes. From that point each row follows the line to its
// own values, changing all fields together and linearly, by [aim.Branch.Follow]. So a row
// depends neither on other rows nor on the worker that computes it.
//
// The error is that of [physics.Throw] or of the context.
func (r *Resolver) Aim(ctx context.Context, thrower *physics.Thrower, k uint64, i int) (float64, SweepLine, error) {
	s := r.sweep
	to := make([]sweep.Coordinate, len(s.Parameters))
	s.sampler.Point(k, to)
	own, err := r.own(ctx, thrower, to, i)
	if err != nil {
		return 0, NoLine, err
	}
	if own.none {
		return 0, NoLine, nil
	}
	followed, err := own.branch.Follow(thrower, func(share float64) (aim.Pocket, error) {
		p, err := r.between(own.at, to, share)
		if err != nil {
			return aim.Pocket{}, err
		}
		return p.aim(i), nil
	})
	lost := (*aim.LostLineError)(nil)
	switch {
	case errors.As(err, &lost):
		return 0, NoLine, nil
	case err != nil:
		return 0, NoLine, err
	case followed.Changed:
		return followed.Angle, ChangedLine, nil
	}
	return followed.Angle, OwnLine, nil
}

// aim returns the search for the pocket of the i-th delivery.
func (p Point) aim(i int) aim.Pocket {
	return aim.Pocket{Setup: p.Scenario.Setup(p.Deliveries[i]).Setup, Settings: studies.ForManyShots(p.Scenario.Settings), Work: studies.Work{Workers: 1}}
}

// between resolves the point at a share of the way between two points, with the words of the
// second.
func (r *Resolver) between(from, to []sweep.Coordinate, share float64) (Point, error) {
	return r.resolve(to, func(i int) levelValue {
		q := &r.sweep.Parameters[i]
		a, b := q.at(from[i]), q.at(to[i])
		if share == 1 || a.Number == b.Number {
			return b
		}
		return q.level(new(big.Rat).SetFloat64(a.Number+share*(b.Number-a.Number)), b.node.at)
	})
}

// own returns the line of the bowler and the lane of the i-th delivery of a point.
func (r *Resolver) own(ctx context.Context, thrower *physics.Thrower, of []sweep.Coordinate, i int) (*ownLine, error) {
	s := r.sweep
	p, err := r.between(of, of, 1)
	if err != nil {
		return nil, err
	}
	d := p.Deliveries[i]
	first := slices.IndexFunc(p.Deliveries, func(other Delivery) bool { return other.Lane == d.Lane && other.Bowler == d.Bowler })
	words := make([]int, len(of))
	for j := range s.Parameters {
		if q := &s.Parameters[j]; !q.Numeric && (q.segments[0].text == "lane" || q.segments[0].text == "lanes") {
			words[j] = of[j].Level
		}
	}
	made, _ := s.lines.LoadOrStore(fmt.Sprint(words, first), &ownLine{})
	own := made.(*ownLine)
	own.once.Do(func() {
		own.none = true
		for place := 0; place < 3 && own.none && own.err == nil; place++ {
			own.at = make([]sweep.Coordinate, len(of))
			for j := range s.Parameters {
				switch q := &s.Parameters[j]; {
				case !q.Numeric:
					own.at[j].Level = words[j]
				case q.Levels > 0:
					own.at[j].Level = [...]int{(q.Levels - 1) / 2, 0, q.Levels - 1}[place]
				default:
					own.at[j].Share = [...]float64{0.5, 0, 1}[place]
				}
			}
			own.err = r.find(ctx, thrower, own, first)
		}
	})
	return own, own.err
}

// find finds the line at the point own.at, if there is one.
func (r *Resolver) find(ctx context.Context, thrower *physics.Thrower, own *ownLine, i int) error {
	p, err := r.between(own.at, own.at, 1)
	if err != nil {
		return err
	}
	pocket := p.aim(i)
	angle := pocket.Setup.Release.Angle
	if p.Scenario.Bowlers[p.Deliveries[i].Bowler].AimAtPocket {
		found, err := pocket.Run(ctx)
		if lost := (*aim.NoPocketError)(nil); errors.As(err, &lost) {
			return nil
		}
		if err != nil {
			return err
		}
		angle = found.Angle()
	}
	own.branch, err = pocket.Branch(thrower, angle)
	own.none = false
	return err
}
