package aim

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"lanesim/physics"
	"lanesim/units"
)

// Branch is one of the crossings of the pocket: a launch angle, and how the entry
// board changes with it. On crowned oil a ball may have three; while values of
// lane, ball and release change, each moves, and two of them may meet and end.
//
// A study finds the line of its first ball with [Pocket.Run], makes a branch of it with
// [Pocket.Branch], and follows that to other values with [Branch.Follow]:
//
//	found, err := aim.Run(ctx)
//	branch, err := aim.Branch(thrower, found.Angle())
//	followed, err := branch.Follow(thrower, func(share float64) (Aim, error) {
//		... // the aim with values this share of the way from the old ones to the new
//	})
//
// With aim.Phases = 12 all of it is about the mean entry board over twelve phases.
type Branch struct {
	Angle float64 // rad
	Slope float64 // boards per rad
}

// FollowResult is where a branch leads.
type FollowResult struct {
	Branch

	// Changed says that the branch ended on the way and that this is another
	// one, the next in that direction.
	Changed bool
}

// LostLineError says that a branch ended while values changed, and that there is no
// other beyond. Board is the one at the pins that the line was to lead to.
type LostLineError struct{ Board float64 }

func (e *LostLineError) Error() string {
	return fmt.Sprintf("the line to board %.4g at the pins ends on the way to these values, and there is no other beyond", e.Board)
}

const (
	// followedWithin is how near to the middle of the pocket, in boards, a branch
	// is followed unless the aim says so, times the tolerance: about half of the
	// error that the tolerance allows.
	followedWithin = 50

	// branchStep is the distance in degrees between trials by which it is seen
	// whether the entry board turns.
	branchStep = 0.1

	// leastBase is the smallest such distance over which a slope is taken, and
	// noise how many times the accuracy of the line the entry board may seem to
	// turn by the error of the shots.
	leastBase = branchStep / 4
	noise     = 4

	// widestMove bounds in degrees how far a branch may move in one step of the
	// values; leastShare is the smallest step.
	widestMove = 0.5
	leastShare = 1.0 / 64

	// mostTries bounds the throws of a secant.
	mostTries = 12
)

// Branch returns the branch at a launch angle in rad. The error is that of
// [physics.Throw].
func (a Pocket) Branch(thrower *physics.Thrower, angle float64) (Branch, error) {
	f := follower{curve: a.curve(), thrower: thrower}
	b := Branch{angle, f.slope(angle/units.Degree) / units.Degree}
	return b, f.err
}

// Follow returns the branch after values have changed. To gives the aim at a share,
// from 0 to 1, of the way from the old values to the new; where there is nothing
// between it may return the new one always.
//
// Each step starts at the launch angle to which the steps before point, and goes to
// the pocket by the secant. It holds if the entry board neither turns nor ends in a
// gutter on the way there, which is at most half a degree; else the step is halved,
// down to a sixty-fourth. The first try is a single step. If none holds, the last angle
// is moved on with the new values, in tenths of a degree, to where the branch would have
// the pocket. If the entry board turns on the way, the branch has ended, and the result
// is Changed.
//
// What comes of it follows from the branch and the aims alone, so it is the same
// wherever and in whatever order it is computed.
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

// follower goes along one curve. Its angles are in degrees.
type follower struct {
	*curve
	thrower *physics.Thrower
	tried   []trial // sorted
	err     error
}

func (f *follower) at(degrees float64) (t trial) {
	if f.err == nil {
		t, f.err = f.throw(f.thrower, degrees, true)
		f.tried = merge(f.tried, t)
	}
	return t
}

// slope is the change of the entry board with the angle, from a trial near by if
// there is one. Where the ball leaves the lane on one side it is that on the other,
// and NaN if it does on both.
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
	before, after := f.at(degrees-branchStep/2), f.at(degrees+branchStep/2)
	if !before.pins {
		before = f.at(degrees)
	} else if !after.pins {
		after = f.at(degrees)
	}
	if !before.pins || !after.pins {
		return math.NaN()
	}
	return (after.off - before.off) / (after.angle - before.angle)
}

// secant goes from an angle to the pocket and reports whether it got there.
func (f *follower) secant(from, slope float64) (trial, bool) {
	t := f.at(from)
	for range mostTries {
		switch {
		case f.err != nil || !t.pins || math.Abs(t.angle) > widestAngle:
			return t, false
		case math.Abs(t.off) <= f.Within:
			return t, true
		}
		// One move is at most half of the widest, lest it passes over a turn.
		move := max(-widestMove/2, min(-t.off/slope, widestMove/2))
		if math.IsNaN(move) || math.Abs(t.angle+move-from) > widestMove {
			return t, false
		}
		before := t
		if t = f.at(t.angle + move); t.off != before.off {
			slope = (t.off - before.off) / (t.angle - before.angle)
		}
	}
	return t, false
}

// walk goes from an angle in small steps to where a slope says that the pocket is,
// until it is passed, and reports whether it was.
func (f *follower) walk(from, slope float64) (trial, bool) {
	t := f.at(from)
	step := math.Copysign(branchStep, -t.off/slope)
	for f.err == nil && t.pins && math.Abs(t.angle+step) <= widestAngle {
		before := t
		if t = f.at(t.angle + step); !t.pins || t.side() == before.side() {
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

// monotonic reports whether the entry board changes from trial to trial as a slope
// says, in steps of at most branchStep.
func (f *follower) monotonic(slope float64) bool {
	ends := f.tried
	for k := 1; k < len(ends); k++ {
		p, q := ends[k-1], ends[k]
		n := math.Ceil((q.angle - p.angle) / branchStep)
		for i := 1.0; i < n; i++ {
			f.at(p.angle + (q.angle-p.angle)*i/n)
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
