package aim

import (
	"math"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/studies"
)

// Room is the deviation of one quantity alone up to which the ball still ends in the pocket. It is 0 if the
// line itself does not end there, and NaN if no end was found within the range searched.
type Room struct {
	// Right and Left are boards at the arrows from the bowler's view, from the same laydown: Right is toward
	// a right-hander's ball side, Left toward a left-hander's. Up to ten boards are searched.
	Right, Left float64

	Slower, Faster float64 // m/s, up to 2.5
	Less, More     float64 // rad/s of rev rate, up to 21
}

// The range searched, the number of steps in it, and the number of bisections of the last step, to 10⁻⁴ of
// the range or a thousandth of a board.
const (
	mostMissedBoards = 10.0 // boards
	mostMissedSpeed  = 2.5  // m/s
	mostMissedRevs   = 21.0 // rad/s
	roomSteps        = 40
	roomHalvings     = 8
)

func (s *lineSearch) room(r physics.Release) (Room, error) {
	var found Room
	arrows := studies.BoardAtArrows(r)
	toBallSide, toOffSide := &found.Right, &found.Left
	if r.Hand == ball.Left {
		toBallSide, toOffSide = toOffSide, toBallSide
	}
	misses := []struct {
		to *float64

		most  float64
		by    func(r *physics.Release, miss float64)
		bound float64 // beyond it there is no such release; +Inf without a bound
	}{
		{toBallSide, mostMissedBoards, func(r *physics.Release, miss float64) { r.Angle = studies.AngleOverArrows(*r, r.Laydown, arrows-miss) }, math.Inf(1)},
		{toOffSide, mostMissedBoards, func(r *physics.Release, miss float64) { r.Angle = studies.AngleOverArrows(*r, r.Laydown, arrows+miss) }, math.Inf(1)},
		{&found.Slower, mostMissedSpeed, func(r *physics.Release, miss float64) { r.Speed -= miss }, r.Speed - studies.LeastSpeed},
		{&found.Faster, mostMissedSpeed, func(r *physics.Release, miss float64) { r.Speed += miss }, math.Inf(1)},
		{&found.Less, mostMissedRevs, func(r *physics.Release, miss float64) { r.RevRate -= miss }, r.RevRate},
		{&found.More, mostMissedRevs, func(r *physics.Release, miss float64) { r.RevRate += miss }, math.Inf(1)},
	}
	thrown := make([]int, len(misses))
	err := s.parallel(len(misses), 0, func(thrower *physics.Thrower, i int) error {
		m := misses[i]
		hits := func(miss float64) (bool, error) {
			other := r
			m.by(&other, miss)
			thrown[i]++
			shot, err := s.throw(thrower, other)
			return shot.Summary.Pocket, err
		}
		var err error
		*m.to, err = farthestHit(min(m.most, max(m.bound, 0)), hits)
		return err
	})
	for _, n := range thrown {
		s.thrown += n
	}
	return found, err
}

// farthestHit returns the miss up to which all shots hit, NaN if all do.
func farthestHit(most float64, hits func(float64) (bool, error)) (float64, error) {
	good := math.NaN()
	for i := range roomSteps + 1 {
		miss := most * float64(i) / roomSteps
		hit, err := hits(miss)
		if err != nil {
			return 0, err
		}
		if hit {
			good = miss
			continue
		}
		if math.IsNaN(good) {
			return 0, nil
		}
		for bad := miss; bad-good > most/roomSteps/(1<<roomHalvings); {
			middle := (good + bad) / 2
			if hit, err = hits(middle); err != nil {
				return 0, err
			}
			if hit {
				good = middle
			} else {
				bad = middle
			}
		}
		return good, nil
	}
	return math.NaN(), nil
}
