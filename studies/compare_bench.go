package studies

import (
	"context"
	"fmt"
	"math"

	"lanesim/ball"
	"lanesim/physics"
)

// toss is a shot to be thrown and what came of it.
type toss struct {
	Delivery

	given  bool // of a delivery as given, not a mixed one
	traced bool // keeps path and track
	finer  bool // at a tighter tolerance

	// equal takes the oil off the track and makes the ball's moments equal:
	// m k² in all directions, with its RG k about the spin axis at release.
	equal bool

	shot       physics.Shot
	readings   Change
	impossible error // why there is no such ball
}

// bench is a list of shots that several workers throw.
type bench struct{ tosses []*toss }

func (b *bench) add(t *toss) *toss {
	b.tosses = append(b.tosses, t)
	return t
}

// trackAngle is the turning between points of a track: 24 in a turn, between
// which the track's distance to the turn before changes little.
const trackAngle = math.Pi / 12

// run throws all shots.
func (b *bench) run(ctx context.Context, c Comparison) error {
	return inParallel(ctx, c.Workers, len(b.tosses), c.Progress, func(thrower *physics.Thrower, i int) error {
		return b.tosses[i].throw(thrower, c.Settings)
	})
}

// AimEach returns the releases of the deliveries with each one's own launch
// angle to the middle of the pocket, as [AtPocket] finds it. Workers and
// progress are those of a [Comparison]. The error names the ball and the lane.
func AimEach(ctx context.Context, list []Delivery, s physics.Settings, workers int, progress func(done, total int)) ([]physics.Release, error) {
	releases := make([]physics.Release, len(list))
	err := inParallel(ctx, workers, len(list), progress, func(_ *physics.Thrower, i int) error {
		d := list[i]
		b, _, err := d.Ball.Drill(d.PAP, d.Release.Hand, d.Grip)
		if err == nil {
			releases[i], err = AtPocket(d.Lane, b, d.Release, s)
		}
		if err != nil {
			return fmt.Errorf("%s on %s: %w", d.Ball.Name, d.Lane.Name, err)
		}
		return nil
	})
	return releases, err
}

func (t *toss) throw(thrower *physics.Thrower, s physics.Settings) error {
	b, _, err := t.Ball.Drill(t.PAP, t.Release.Hand, t.Grip)
	switch {
	case err != nil && t.given:
		return err
	case err != nil:
		t.readings, t.impossible = nothing, fmt.Errorf("no ball can have what a mixed one would need: %w", err)
		return nil
	}
	if t.equal {
		b = equalMoments(b)
	}
	s.ExchangeSpacing = -1
	if t.traced {
		s.TrackSpacing = trackAngle
	} else {
		s.PathSpacing, s.TrackSpacing = -1, 0
	}
	if t.finer {
		if s.Tolerance == 0 {
			s.Tolerance = physics.DefaultTolerance
		}
		s.Tolerance /= finer
	}
	if t.shot, err = thrower.Throw(t.Lane, b, t.Release, s); err != nil {
		return fmt.Errorf("%s on %s: %w", t.Ball.Name, t.Lane.Name, err)
	}
	t.readings = read(t.shot)
	return nil
}

// equalMoments returns the ball with moments m k² about every axis, k being its
// RG about the PAP, and with a cover that remembers no oil. Its body axes are
// then a choice: they are taken along the PAP and the tangent to the fingers, so
// that balls which roll alike are equal to the last bit.
func equalMoments(b ball.Ball) ball.Ball {
	k := b.RG(b.PAP)
	i := b.Mass * k * k
	across := [3]float64{
		b.PAP[1]*b.Fingers[2] - b.PAP[2]*b.Fingers[1],
		b.PAP[2]*b.Fingers[0] - b.PAP[0]*b.Fingers[2],
		b.PAP[0]*b.Fingers[1] - b.PAP[1]*b.Fingers[0],
	}
	var offset [3]float64
	for a, axis := range [3][3]float64{b.PAP, b.Fingers, across} {
		for j := range axis {
			offset[a] += axis[j] * b.Offset[j]
		}
	}
	b.Moments, b.Offset = [3]float64{i, i, i}, offset
	b.PAP, b.Fingers = [3]float64{1, 0, 0}, [3]float64{0, 1, 0}
	b.Memory.Off = true
	return b
}
