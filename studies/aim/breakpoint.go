package aim

import (
	"context"
	"fmt"
	"math"

	"lanesim/internal/root"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/units"
)

// BreakpointLine finds the line over a board at the arrows with the breakpoint on a given board.
type BreakpointLine struct {
	Setup    studies.Setup // its line and its repeatability do not matter
	Settings physics.Settings

	Arrows, Breakpoint float64 // boards

	studies.Work // its progress counts the laydowns tried first
}

// NoBreakpointError means that no line over the board at the arrows, with a launch angle within ±6°, has its
// breakpoint on the given board.
type NoBreakpointError struct {
	Arrows, Breakpoint float64 // boards

	// Nearest is the board of the nearest breakpoint, Laydown the board and Angle the launch angle in rad of
	// its line; NaN if no ball turned back.
	Nearest, Laydown, Angle float64
}

func (e *NoBreakpointError) Error() string {
	wanted := fmt.Sprintf("no line over board %.4g at the arrows has its breakpoint on board %.4g with a launch angle within ±%g°", e.Arrows, e.Breakpoint, widestAngle)
	if math.IsNaN(e.Nearest) {
		return wanted + ": no ball turns back"
	}
	return wanted + fmt.Sprintf(": the nearest is on board %.4g, from laydown %.4g at %.3g°", e.Nearest, e.Laydown, e.Angle/units.Degree)
}

const (
	breakpointStep  = 0.25 // boards between the laydowns tried first
	breakpointWidth = 1e-6 // boards to which a laydown is located
)

// breakpointTrial is the result of one laydown: off is the board of its breakpoint minus the given one, NaN
// without a breakpoint.
type breakpointTrial struct{ laydown, off float64 }

// Run returns the release on the line; of several lines, that with the smallest size of launch angle.
//
// Run tries laydowns a quarter of a board apart. It locates the laydowns at which the breakpoint begins or
// ceases to exist, and each crossing by root finding. The computed breakpoint jumps a little where the film
// under the ball changes, so it may be off by as much. Unlike [Pocket], it does not search for turning points
// and edges at the gutters, since one line is enough.
//
// The error is a [*NoBreakpointError] if there is no such line, that of [physics.Throw] for a shot, or that
// of the context.
func (q BreakpointLine) Run(ctx context.Context) (physics.Release, error) {
	q.Settings.PathSpacing, q.Settings.ExchangeSpacing, q.Settings.TrackSpacing = -1, -1, 0
	if q.Setup.Release.LaydownDistance >= lane.Arrows {
		return physics.Release{}, fmt.Errorf("the ball is laid down beyond the arrows")
	}
	var laydowns []float64
	for board := 0.5; board <= lane.Boards+0.5; board += breakpointStep {
		if math.Abs(studies.AngleOverArrows(q.Setup.Release, board, q.Arrows)) <= widestAngle*units.Degree {
			laydowns = append(laydowns, board)
		}
	}
	list, err := studies.Gather(ctx, q.Workers, len(laydowns), q.Progress, func(thrower *physics.Thrower, i int) (breakpointTrial, error) {
		return q.try(thrower, laydowns[i])
	})
	if err != nil {
		return physics.Release{}, err
	}
	thrower := physics.NewThrower()
	var failed error
	off := func(laydown float64) float64 {
		if failed == nil {
			failed = ctx.Err()
		}
		if failed != nil {
			return 0
		}
		t, err := q.try(thrower, laydown)
		failed = err
		return t.off
	}
	best, nearest := math.NaN(), breakpointTrial{math.NaN(), math.NaN()}
	consider := func(t breakpointTrial) {
		if !(math.Abs(t.off) >= math.Abs(nearest.off)) && !math.IsNaN(t.off) {
			nearest = t
		}
	}
	for k, p := range list {
		consider(p)
		if k+1 == len(list) {
			break
		}
		r := list[k+1]
		if math.IsNaN(p.off) != math.IsNaN(r.off) {
			p, r = edgeOfBreakpoints(off, p, r)
			consider(p)
			consider(r)
		}
		if p.off*r.off <= 0 {
			found := root.Find(off, p.laydown, r.laydown, p.off, r.off, breakpointWidth)
			if !(math.Abs(studies.AngleOverArrows(q.Setup.Release, found, q.Arrows)) >= math.Abs(studies.AngleOverArrows(q.Setup.Release, best, q.Arrows))) {
				best = found
			}
		}
		if failed != nil {
			return physics.Release{}, failed
		}
	}
	if !math.IsNaN(best) {
		return studies.OverArrows(q.Setup.Release, best, q.Arrows), nil
	}
	return physics.Release{}, &NoBreakpointError{
		Arrows: q.Arrows, Breakpoint: q.Breakpoint,
		Nearest: q.Breakpoint + nearest.off, Laydown: nearest.laydown, Angle: studies.AngleOverArrows(q.Setup.Release, nearest.laydown, q.Arrows),
	}
}

// edgeOfBreakpoints locates, between two laydowns of which one has a breakpoint, where it begins or ceases to
// exist, and returns the part with breakpoints at both ends.
func edgeOfBreakpoints(off func(float64) float64, p, r breakpointTrial) (from, to breakpointTrial) {
	from, to = p, r
	for range 12 { // to 10⁻⁴ board
		m := breakpointTrial{laydown: (p.laydown + r.laydown) / 2}
		m.off = off(m.laydown)
		if math.IsNaN(m.off) == math.IsNaN(p.off) {
			p = m
		} else {
			r = m
		}
	}
	if math.IsNaN(p.off) {
		return r, to
	}
	return from, p
}

func (q BreakpointLine) try(thrower *physics.Thrower, laydown float64) (breakpointTrial, error) {
	t := breakpointTrial{laydown, math.NaN()}
	r := studies.OverArrows(q.Setup.Release, laydown, q.Arrows)
	shot, err := thrower.Throw(q.Setup.Lane, q.Setup.Ball, r, q.Settings)
	if err != nil {
		return t, fmt.Errorf("from laydown %.6g at a launch angle of %.6g°: %w", laydown, r.Angle/units.Degree, err)
	}
	if at := shot.Events.Breakpoint; at != nil {
		t.off = at.Board - q.Breakpoint
	}
	return t, nil
}
