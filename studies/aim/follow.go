package aim

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"lanesim/physics"
	"lanesim/units"
)

// Branch is a launch angle that reaches the middle of the pocket, with the slope of the entry board there. On
// crowned oil a ball may have three such angles. While values of lane, ball and release change, each moves,
// and two of them may meet and end.
//
// A study finds the line of its first ball with [Pocket.Run], makes it a branch with [Pocket.Branch], and
// follows the branch to other values with [Branch.Follow]:
//
//	found, err := aim.Run(ctx)
//	branch, err := aim.Branch(thrower, found.Angle())
//	followed, err := branch.Follow(thrower, func(share float64) (Aim, error) {
//		... // the aim with values this share of the way from the old ones to the new
//	})
//
// With aim.Phases = 12 the entry board is the mean over twelve phases.
type Branch struct {
	Angle float64 // rad
	Slope float64 // boards per rad
}

// FollowResult is the branch after the values have changed.
type FollowResult struct {
	Branch

	// Changed is set if the branch ended on the way and this is the next one in that direction.
	Changed bool
}

// LostLineError means that a branch ended while values changed, and that there is no other one. Board is the
// middle of the pocket.
type LostLineError struct{ Board float64 }

func (e *LostLineError) Error() string {
	return fmt.Sprintf("the line to board %.4g at the pins ends on the way to these values, and there is no other beyond", e.Board)
}

const (
	// followedWithin times the tolerance is the default of Pocket.Within for a branch, in boards: about half
	// of the error of the entry board at that tolerance.
	followedWithin = 50

	// branchStep is the distance in degrees between trials that detects turning points of the entry board.
	branchStep = 0.1

	// leastBase is the smallest distance over which a slope is taken. noise, times the accuracy of the line,
	// is the change of the entry board that may be due to errors of the shots.
	leastBase = branchStep / 4
	noise     = 4

	// widestMove is the largest move of a branch in one step of the values, in degrees; leastShare is the
	// smallest step.
	widestMove = 0.5
	leastShare = 1.0 / 64

	// mostTries bounds the throws of a search by secants.
	mostTries = 12
)

// Branch returns the branch at a launch angle in rad. The error is that of
// [physics.Throw].
func (a Pocket) Branch(thrower *physics.Thrower, angle float64) (Branch, error) {
	f := follower{curve: a.curve(), thrower: thrower}
	b := Branch{angle, f.slope(angle/units.Degree) / units.Degree}
	return b, f.err
}

// Follow returns the branch after values have changed. to returns the aim for values interpolated from the
// old, share 0, to the new, share 1; if values cannot be interpolated it may always return the new aim.
//
// Each step starts at the launch angle extrapolated from the previous steps and finds the pocket by secants.
// It is accepted if the entry board neither turns nor ends in a gutter on the way, which is at most half a
// degree; otherwise the step is halved, down to a sixty-fourth. The first try is a single step. If none is
// accepted, the angle is moved with the new values in tenths of a degree in the direction of the branch's
// pocket. If the entry board turns on the way, the branch has ended, and the result is Changed.
//
// The result depends only on the branch and the aims, so it is the same in any order of computation.
//
// The error is a [*LostLineError], that of to, or that of [physics.Throw].
func (b Branch) Follow(thrower *physics.Thrower, to func(share float64) (Pocket, error)) (FollowResult, error) {
	at, slope := b.Angle/units.Degree, b.Slope*units.Degree
	last, err := to(1)
	if err != nil {
		return FollowResult{}, err
	}
	share, step, rate := 0.0, 1.0, 0.0
	for share < 1 {
		next, aim := min(share+step, 1), last
		if next < 1 {
			if aim, err = to(next); err != nil {
				return FollowResult{}, err
			}
		}
		f := follower{curve: aim.followed(), thrower: thrower}
		t, found := f.secant(at+rate*(next-share), slope)
		held := found && f.monotonic(slope)
		if held {
			newSlope := f.slope(t.angle)
			if held = newSlope*slope > 0; held {
				slope, rate = newSlope, (t.angle-at)/(next-share)
				at, share, step = t.angle, next, 2*step
			}
		}
		if f.err != nil {
			return FollowResult{}, f.err
		}
		if held {
			continue
		}
		if step /= 2; step < leastShare {
			break
		}
	}
	if share == 1 {
		return FollowResult{Branch: Branch{at * units.Degree, slope / units.Degree}}, nil
	}
	f := follower{curve: last.followed(), thrower: thrower}
	t, found := f.walk(at, slope)
	kept := found && f.monotonic(slope)
	if found {
		before := slope
		slope = f.slope(t.angle)
		kept = kept && slope*before > 0
	}
	switch {
	case f.err != nil:
		return FollowResult{}, f.err
	case !found:
		return FollowResult{}, &LostLineError{f.target}
	}
	return FollowResult{Branch{t.angle * units.Degree, slope / units.Degree}, !kept}, nil
}

func (a Pocket) followed() *curve {
	if a.Within == 0 {
		a.Within = followedWithin * cmp.Or(a.Settings.Tolerance, physics.DefaultTolerance)
	}
	return a.curve()
}

// follower follows one curve. Its angles are in degrees.
type follower struct {
	*curve
	thrower *physics.Thrower
	tried   []trial // sorted
	err     error
}

func (f *follower) throwAt(degrees float64) (t trial) {
	if f.err == nil {
		t, f.err = f.throw(f.thrower, degrees, true)
		f.tried = merge(f.tried, t)
	}
	return t
}

// slope returns the slope of the entry board in boards per degree, from a trial near by if there is one. If
// the ball leaves the lane on one side it uses the other side; it returns NaN if both sides leave the lane.
func (f *follower) slope(degrees float64) float64 {
	i := slices.IndexFunc(f.tried, func(t trial) bool { return t.angle == degrees })
	for _, j := range []int{i - 1, i + 1} {
		if i < 0 || j < 0 || j >= len(f.tried) {
			continue
		}
		t, u := f.tried[i], f.tried[j]
		if d := math.Abs(t.angle - u.angle); u.pins && d >= leastBase && d <= branchStep {
			return (t.off - u.off) / (t.angle - u.angle)
		}
	}
	before, after := f.throwAt(degrees-branchStep/2), f.throwAt(degrees+branchStep/2)
	if !before.pins {
		before = f.throwAt(degrees)
	} else if !after.pins {
		after = f.throwAt(degrees)
	}
	if !before.pins || !after.pins {
		return math.NaN()
	}
	return (after.off - before.off) / (after.angle - before.angle)
}

// secant searches the pocket from an angle by secants, and reports whether it was found.
func (f *follower) secant(from, slope float64) (trial, bool) {
	t := f.throwAt(from)
	for range mostTries {
		switch {
		case f.err != nil || !t.pins || math.Abs(t.angle) > widestAngle:
			return t, false
		case math.Abs(t.off) <= f.Within:
			return t, true
		}
		// One move is at most half of the widest, so that it does not skip a turning point.
		move := max(-widestMove/2, min(-t.off/slope, widestMove/2))
		if math.IsNaN(move) || math.Abs(t.angle+move-from) > widestMove {
			return t, false
		}
		before := t
		if t = f.throwAt(t.angle + move); t.off != before.off {
			slope = (t.off - before.off) / (t.angle - before.angle)
		}
	}
	return t, false
}

// walk goes from an angle in small steps in the direction of the pocket, given by a slope, until it has
// passed it, and reports whether it did.
func (f *follower) walk(from, slope float64) (trial, bool) {
	t := f.throwAt(from)
	step := math.Copysign(branchStep, -t.off/slope)
	for f.err == nil && t.pins && math.Abs(t.angle+step) <= widestAngle {
		before := t
		if t = f.throwAt(t.angle + step); !t.pins || t.side() == before.side() {
			continue
		}
		if step < 0 {
			before, t = t, before
		}
		s := search{curve: f.curve, thrower: f.thrower}
		roots := s.roots(before, t)
		if f.err = s.err; len(roots) == 0 {
			break
		}
		f.tried = merge(f.tried, roots[0])
		return roots[0], f.err == nil
	}
	return t, false
}

// monotonic reports whether the entry board changes with the sign of a slope from trial to trial, in steps of
// at most branchStep.
func (f *follower) monotonic(slope float64) bool {
	ends := f.tried
	for k := 1; k < len(ends); k++ {
		p, q := ends[k-1], ends[k]
		n := math.Ceil((q.angle - p.angle) / branchStep)
		for i := 1.0; i < n; i++ {
			f.throwAt(p.angle + (q.angle-p.angle)*i/n)
		}
	}
	for k := 1; k < len(f.tried); k++ {
		p, q := f.tried[k-1], f.tried[k]
		if !p.pins || !q.pins || (q.off-p.off)*slope < 0 && math.Abs(q.off-p.off) > noise*f.Within {
			return false
		}
	}
	return f.err == nil
}
