package engine

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/units"
)

// lines keeps the launch angles found last.
type lines struct {
	key   [sides]string // identifies the inputs of the angle found
	aimed [sides]aim.PocketResult
	last  [sides]units.Optional // rad, the start of the next search
}

// line is how a ball is thrown.
type line struct {
	physics.Release
	aimed *aim.PocketResult // nil if the angle is given
}

// noLineError is the error for a ball without a line to the pocket.
type noLineError struct {
	side int
	none *aim.NoPocketError
}

func (e *noLineError) Error() string { return e.none.Error() }
func (e *noLineError) Unwrap() error { return e.none }

func (e *noLineError) answer() answer {
	return answer{is: "noline", members: report.ObjectOf("side", sideNames[e.side], "message", e.Error(), "nearest", e.none.Nearest)}
}

// linesOf returns the lines of both balls. At rest an angle to the pocket is found as by the
// program; while a slider is dragged, near the last one.
func (e *Engine) linesOf(ctx context.Context, s *setup, rest bool) (list [sides]line, err error) {
	for side := range list {
		list[side].Release = s.bowler().Release
		if !s.bowler().AimAtPocket {
			continue
		}
		if side == sideB && s.Aim != "each" {
			list[sideB] = list[sideA]
			continue
		}
		found, err := e.aim(ctx, s, side, rest)
		if err != nil {
			return list, err
		}
		list[side].aimed, list[side].Angle = &found, found.Angle()
	}
	return list, nil
}

// aim finds the launch angles of one ball.
func (e *Engine) aim(ctx context.Context, s *setup, side int, rest bool) (aim.PocketResult, error) {
	other := [sides]string{"balls[1].", "balls[0]."}[side]
	key := s.Base + "\x00" + strings.Join(s.Sets.without(other), "\x00")
	if key == e.lines.key[side] {
		return e.lines.aimed[side], nil
	}
	l, b, r := s.lane(), s.balls[side].Prepared, s.bowler().Release
	if last := e.lines.last[side]; !rest && last.Given {
		angle, err := e.near(s, l, b, r, last.Value)
		if err != nil {
			return aim.PocketResult{}, err
		}
		e.lines.last[side] = units.Given(angle)
		return aim.PocketResult{Angles: []float64{angle}}, nil
	}
	settings := s.settings()
	if !rest {
		settings = studies.ForManyShots(settings)
	}
	found, err := aim.Pocket{Setup: studies.Setup{Lane: l, Ball: b, Release: r}, Settings: settings}.Run(ctx)
	var none *aim.NoPocketError
	if errors.As(err, &none) {
		return found, &noLineError{side, none}
	}
	if err != nil {
		return found, fmt.Errorf("%s: %w", s.Balls[side].Name, err)
	}
	angle := found.Angle()
	e.lines.last[side] = units.Given(angle)
	if rest {
		e.lines.key[side], e.lines.aimed[side] = key, found
	}
	return found, nil
}

const (
	nearTries  = 6
	nearEnough = 0.02 // boards
	nearStep   = 0.1 * math.Pi / 180
)

// near searches for the angle to the pocket near the last one by secants, with the tolerance
// of studies. If they do not converge it returns the best angle tried; the search at rest
// will find the exact one or report that there is none.
func (e *Engine) near(s *setup, l lane.Lane, b ball.Ball, r physics.Release, last float64) (float64, error) {
	settings := studies.ForManyShots(s.settings())
	settings.EndOnly = true
	window := thrown.Pocket(settings, r)
	target := (window.Min + window.Max) / 2
	off := func(angle float64) (float64, error) {
		r.Angle = angle
		shot, err := e.thrower.Throw(l, b, r, settings)
		if err != nil || shot.Events.Pins == nil {
			return math.NaN(), err
		}
		return shot.Events.Pins.Board - target, nil
	}
	best, least := last, math.Inf(1)
	x0, y0, x1 := math.NaN(), math.NaN(), last
	for range nearTries {
		y1, err := off(x1)
		if err != nil {
			return last, err
		}
		if math.IsNaN(y1) {
			break
		}
		if math.Abs(y1) < least {
			best, least = x1, math.Abs(y1)
		}
		if least < nearEnough {
			break
		}
		next := x1 + math.Copysign(nearStep, y1) // a larger angle usually ends on a lower board
		if !math.IsNaN(y0) && y1 != y0 {
			step := -y1 * (x1 - x0) / (y1 - y0)
			next = x1 + max(-5*nearStep, min(5*nearStep, step))
		}
		x0, y0, x1 = x1, y1, next
	}
	return best, nil
}
