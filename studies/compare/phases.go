package compare

import (
	"context"
	"fmt"
	"math"
	"strings"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/studies"
)

// phasedShot is a delivery to be thrown at all phases, with its results.
type phasedShot struct {
	studies.Undrilled

	given  bool // a delivery of the study, not a mixed one
	kept   bool // keep the shots
	traced bool // with path and track
	finer  bool // at a tighter tolerance

	// equal is set for a ball without film memory and with equal moments, m k² with the RG k about the spin
	// axis at release.
	equal bool

	ball       ball.Ball
	shots      []physics.Shot
	readings   []readings // one for each phase, or one alone if the phase has no influence
	impossible error      // why the ball is impossible
}

// shotList is a list of shots that several workers throw.
type shotList struct{ shots []*phasedShot }

func (b *shotList) add(t *phasedShot) *phasedShot {
	b.shots = append(b.shots, t)
	return t
}

// trackAngle is the turning in rad between points of a track: at 24 in a turn, the distance to the previous
// turn changes little between points.
const trackAngle = math.Pi / 12

// phase returns phase k of the release in rad.
func phase(k int) float64 { return 2 * math.Pi / Phases * float64(k) }

// phasesOf returns the number of phases at which a ball must be thrown: one if its moments are equal and its
// mass centre is in the middle.
func phasesOf(b ball.Ball) int {
	if b.Moments[0] == b.Moments[1] && b.Moments[1] == b.Moments[2] && b.Offset == [3]float64{} {
		return 1
	}
	return Phases
}

// run drills the balls, throws all shots and does the trials with assumed values.
func (b *shotList) run(ctx context.Context, c Study, trials []*trialSet) error {
	type job struct {
		shot  *phasedShot
		phase int
	}
	var jobs []job
	for _, t := range b.shots {
		if err := t.drill(); err != nil {
			return err
		}
		for k := range t.readings {
			jobs = append(jobs, job{t, k})
		}
	}
	return studies.InParallel(ctx, c.Workers, len(jobs)+len(trials), c.Progress, func(thrower *physics.Thrower, i int) error {
		if i < len(jobs) {
			return jobs[i].shot.throw(thrower, c.Settings, jobs[i].phase)
		}
		return trials[i-len(jobs)].run(thrower, c)
	})
}

func (t *phasedShot) drill() error {
	b, err := t.Drill()
	switch {
	case err != nil && t.given:
		return err
	case err != nil:
		first, _, _ := strings.Cut(err.Error(), "\n")
		t.impossible = fmt.Errorf("no ball can have what a mixed one would need: %s", first)
		return nil
	}
	if t.equal {
		b = equalMoments(b)
	}
	t.ball, t.readings = b, make([]readings, phasesOf(b))
	if t.kept {
		t.shots = make([]physics.Shot, len(t.readings))
	}
	return nil
}

func (t *phasedShot) throw(thrower *physics.Thrower, s physics.Settings, k int) error {
	if t.traced {
		s.TrackSpacing = trackAngle
	} else {
		s.PathSpacing, s.TrackSpacing = -1, 0
	}
	if t.finer {
		s.Tolerance /= finer
	}
	r := t.Release
	r.Phase = phase(k)
	shot, err := thrower.Throw(t.Lane, t.ball, r, s)
	switch {
	case err != nil && t.given:
		return fmt.Errorf("%s on %s: %w", t.Specification.Name, t.Lane.Name, err)
	case err != nil:
		return fmt.Errorf("a mixed ball on the lane: %w", err)
	}
	t.readings[k] = readingsOf(shot, r)
	if t.kept {
		t.shots[k] = shot
	}
	return nil
}

func (t *phasedShot) reading(k int) readings { return t.readings[k%len(t.readings)] }

func (t *phasedShot) mean() Change {
	var sum Change
	for _, r := range t.readings {
		sum = sum.plus(r.Change)
	}
	return sum.times(1 / float64(len(t.readings)))
}

// equalMoments returns the ball with moments m k² about every axis, k being its RG about the PAP, and without
// film memory. The choice of body axes is then free: they are along the PAP and the tangent to the fingers,
// so that balls that roll alike are equal to the last bit.
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
