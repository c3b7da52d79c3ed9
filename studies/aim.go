// Package studies answers questions that take many shots.
package studies

import (
	"fmt"
	"math"
	"slices"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
)

const (
	// widestAngle bounds the launch angles in degrees among which AtPocket
	// looks.
	widestAngle = 6.0

	// ringWidth is the step of the search in degrees: three boards at the
	// pins for a ball that goes straight, less than what it takes to get from
	// one side of a pattern's edge to the other.
	ringWidth = 0.25

	// looseTolerance is that of the first look at an angle: it puts the ball
	// within a few hundredths of a board. Angles at which it comes within
	// looseMargin of the pocket are looked at with the settings' own.
	looseTolerance = 1e-4
	looseMargin    = 0.5 // boards
)

// NoPocketError says that no launch angle within ±6° brings the ball to the
// middle of the pocket.
type NoPocketError struct {
	// Board is the middle of the pocket.
	Board float64

	// Nearest is the board nearest to it at which the ball was found to
	// arrive at the pins, and Angle the launch angle in rad for it; NaN if it
	// never stayed on the lane.
	Nearest, Angle float64
}

func (e *NoPocketError) Error() string {
	if math.IsNaN(e.Nearest) {
		return fmt.Sprintf("no launch angle within ±%g° reaches board %.4g at the pins: the ball never stays on the lane", widestAngle, e.Board)
	}
	return fmt.Sprintf("no launch angle within ±%g° reaches board %.4g at the pins: the nearest board reached is %.4g, at %.4g°",
		widestAngle, e.Board, e.Nearest, e.Angle/ball.Degree)
}

// AtPocket returns the release with the launch angle for which the ball stays
// on the lane and enters in the middle of the pocket window: the root with the
// smallest |angle| within ±6°. The release's own angle does not matter.
//
// The entry board as computed is no smooth function of the angle: its adaptive
// steps make it jump by some of the error that the tolerance allows. The entry
// board of the result is within 10⁻⁶ board of the middle where the jumps leave
// a root, else as near as one of them lets it come.
//
// The error is a [*NoPocketError] if there is no such angle, and that of
// [physics.Throw] if a shot breaks down.
func AtPocket(l lane.Lane, b ball.Ball, r physics.Release, s physics.Settings) (physics.Release, error) {
	pocket := s.Pocket
	if pocket == (physics.Window{}) {
		pocket = physics.DefaultPocket
	}
	s.PathSpacing, s.ExchangeSpacing = -1, -1
	a := &aim{
		thrower: physics.NewThrower(), lane: l, ball: b, release: r, settings: s,
		board: (pocket.Min + pocket.Max) / 2,
		grid:  map[int]trial{}, known: map[float64]trial{}, nearest: math.NaN(),
	}
	root, found := a.search()
	switch {
	case a.err != nil:
		return r, a.err
	case !found:
		return r, &NoPocketError{Board: a.board, Nearest: a.nearest, Angle: a.nearestAngle * ball.Degree}
	}
	r.Angle = root.angle * ball.Degree
	return r, nil
}

// aim is a search for the pocket. Its angles are in degrees.
type aim struct {
	thrower  *physics.Thrower
	lane     lane.Lane
	ball     ball.Ball
	release  physics.Release
	settings physics.Settings
	board    float64
	err      error // of the first shot that broke down

	grid                  map[int]trial     // by multiple of ringWidth
	known                 map[float64]trial // firm ones by angle, as runs overlap
	nearest, nearestAngle float64
}

// search looks from straight down the lane outward, ring by ring.
func (a *aim) search() (best trial, found bool) {
	rings := int(widestAngle / ringWidth)
	for ring := 0; ring < rings && a.err == nil; ring++ {
		for _, root := range slices.Concat(a.between(ring, rings), a.between(-ring-1, rings)) {
			if !found || math.Abs(root.angle) < math.Abs(best.angle) {
				best, found = root, true
			}
		}
		// A root that was found by looking ahead may have another before it.
		if found && math.Abs(best.angle) <= float64(ring+1)*ringWidth {
			break
		}
	}
	return best, found
}

// between returns roots between the i-th multiple of ringWidth and the next,
// and perhaps some beside.
func (a *aim) between(i, last int) []trial {
	from, to := max(i-1, -last), min(i+2, last)
	var list []trial
	for k := from; k <= to; k++ {
		list = append(list, a.at(k))
	}
	if dull(list) {
		return nil
	}
	return a.roots(a.refine(list))
}

// at returns the trial at a multiple of ringWidth.
func (a *aim) at(i int) trial {
	t, ok := a.grid[i]
	if !ok {
		t = a.try(float64(i) * ringWidth)
		a.grid[i] = t
	}
	return t
}

// try looks at an angle, firmly if the ball comes near the pocket.
func (a *aim) try(degrees float64) trial {
	t := a.throw(degrees, false)
	if t.pins && math.Abs(t.off) < looseMargin {
		t = a.throw(degrees, true)
	}
	return t
}

// throw tries an angle, firmly with the settings' own tolerance.
func (a *aim) throw(degrees float64, firm bool) (t trial) {
	t = trial{angle: degrees}
	if a.err != nil {
		return t
	}
	if firm {
		if t, ok := a.known[degrees]; ok {
			return t
		}
		defer func() { a.known[degrees] = t }()
	}
	r, s := a.release, a.settings
	s.EndOnly = true
	r.Angle = degrees * ball.Degree
	if !firm {
		s.Tolerance = max(s.Tolerance, looseTolerance)
	}
	shot, err := a.thrower.Throw(a.lane, a.ball, r, s)
	if err != nil {
		a.err = fmt.Errorf("at a launch angle of %.6g°: %w", degrees, err)
		return t
	}
	switch e := shot.Events; {
	case e.Pins != nil:
		t.pins, t.off, t.reached = true, e.Pins.Board-a.board, e.Pins.Distance
		if !(math.Abs(t.off) >= math.Abs(a.nearest-a.board)) {
			a.nearest, a.nearestAngle = e.Pins.Board, degrees
		}
	case e.Gutter != nil:
		t.off, t.reached = e.Gutter.Board-a.board, e.Gutter.Distance
	}
	return t
}
