package fit

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/units"
)

// Tolerance is the default tolerance of the shots of a fit.
const Tolerance = 1e-5

// channel is a kind of readings of a track.
type channel int

const (
	boardChannel channel = iota
	speedChannel
	timeChannel
	channelCount
)

// of returns the channel's part of a scatter.
func (c channel) of(s *Scatter) *float64 {
	return [channelCount]*float64{&s.Boards, &s.Speed, &s.Time}[c]
}

// usualScatter is assumed at first, and where the tracks do not determine the scatter: a board, 0.3 mph, a
// frame of a usual camera.
var usualScatter = Scatter{Boards: 1, Speed: 0.3 * units.MPH, Time: 1.0 / 30}

// finestScatter is the lower limit of the estimated scatter: the numerical error of the shots and, for
// speeds, of a straight line between the points of a path where the friction jumps.
var finestScatter = Scatter{Boards: 1e-3, Speed: 2e-3, Time: 1e-4}

// observation is one reading of a track.
type observation struct {
	channel channel
	point   int
	value   float64
}

// fitShot is a shot of the fit. Its own parameters are the quantities in varied in their order and, last, the
// start of its clock.
type fitShot struct {
	TrackedShot
	lane         lane.Lane
	ofCover      bool // the cover is fitted
	varied       []studies.Varied
	clock        bool
	observations []observation
}

// size returns the number of the shot's own parameters.
func (s *fitShot) size() int {
	if s.clock {
		return len(s.varied) + 1
	}
	return len(s.varied)
}

// laneBeyond is the length in m of the lane of a fit beyond the farthest point, so that the path has points
// on both sides of it.
const laneBeyond = units.Foot

func newFitShot(t TrackedShot, l lane.Lane, free []studies.Varied, knownSpeed bool) fitShot {
	s := fitShot{TrackedShot: t, lane: l, varied: []studies.Varied{studies.VariedLaydown, studies.VariedAngle}}
	// A shot of a poor first guess would end in a gutter before the end of the track.
	s.lane.Edgeless = true
	s.lane.Length = 0
	speeds, times := 0, 0
	for i, p := range t.Points {
		s.lane.Length = max(s.lane.Length, p.Distance+laneBeyond)
		s.observations = append(s.observations, observation{boardChannel, i, p.Board})
		if isFinite(p.Speed) {
			s.observations = append(s.observations, observation{speedChannel, i, p.Speed})
			speeds++
		}
		if isFinite(p.Time) {
			times++
		}
	}
	if times > 1 {
		s.clock = true
		for i, p := range t.Points {
			if isFinite(p.Time) {
				s.observations = append(s.observations, observation{timeChannel, i, p.Time})
			}
		}
	}
	for _, v := range studies.AllVaried() {
		measured := v == studies.VariedSpeed && !knownSpeed && (speeds > 0 || times > 1)
		if (measured || slices.Contains(free, v)) && !slices.Contains(s.varied, v) {
			s.varied = append(s.varied, v)
		}
	}
	return s
}

func isFinite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// differenceSteps are the steps to either side for numerical derivatives. Curvature and numerical error
// together are less than 1 % of the change at 55 ft: the largest of 20 slow shots with film on the track,
// found by doubling the steps, was 0.7 %. At the tolerance of a fit computed boards are smooth to 10⁻⁷ board
// over far smaller steps; where the number of the integration's steps changes they jump by more.
var differenceSteps = [studies.VariedCount]float64{
	studies.VariedLaydown: 0.1, studies.VariedAngle: 0.05 * units.Degree, studies.VariedSpeed: 0.05,
	studies.VariedRevRate: 0.5, studies.VariedAxisRotation: 1 * units.Degree, studies.VariedAxisTilt: 1 * units.Degree,
	studies.VariedPhase: 1 * units.Degree,
}

// logStep is the step of the logarithm of a friction setting.
const logStep = 0.02

// guess returns the first guess of a shot's parameters: the line is straight through its first points, the
// speed as measured.
func (s *fitShot) guess() []float64 {
	r := s.Setup.Release
	n := max(leastPoints, sort.Search(len(s.Points), func(i int) bool { return s.Points[i].Distance > straightStart }))
	p := s.Points[:min(n, len(s.Points))]
	var x, y, xx, xy float64
	for _, q := range p {
		x += q.Distance / float64(len(p))
		y += q.Board / float64(len(p))
	}
	for _, q := range p {
		xx += (q.Distance - x) * (q.Distance - x)
		xy += (q.Distance - x) * (q.Board - y)
	}
	slope := xy / xx
	r.Laydown = min(max(y+slope*(r.LaydownDistance-x), 1), lane.Boards)
	r.Angle = -math.Atan(slope * lane.BoardWidth)
	var first, last *TrackPoint
	speed := math.NaN()
	for i := range s.Points {
		q := &s.Points[i]
		if !isFinite(speed) && isFinite(q.Speed) {
			speed = q.Speed
		}
		if isFinite(q.Time) {
			if first == nil {
				first = q
			}
			last = q
		}
	}
	if s.clock && !isFinite(speed) {
		speed = (last.Distance - first.Distance) / (last.Time - first.Time)
	}
	if isFinite(speed) {
		r.Speed = speed
	}
	var values []float64
	for _, v := range s.varied {
		values = append(values, *v.Of(&r))
	}
	if s.clock {
		values = append(values, first.Time-(first.Distance-r.LaydownDistance)/r.Speed)
	}
	return values
}

// straightStart is the distance in m up to which the path is straight enough for a first guess.
const straightStart = 30 * units.Foot

// release returns the release with the shot's parameters.
func (s *fitShot) release(values []float64) physics.Release {
	r := s.Setup.Release
	for i, v := range s.varied {
		*v.Of(&r) = values[i]
	}
	return r
}

// allowed moves a shot's parameters to the nearest possible values.
func (s *fitShot) allowed(values []float64) {
	for i, v := range s.varied {
		switch v {
		case studies.VariedLaydown:
			values[i] = min(max(values[i], 1-besideLane), lane.Boards+besideLane)
		case studies.VariedAngle:
			values[i] = min(max(values[i], -steepestAngle), steepestAngle)
		case studies.VariedSpeed:
			values[i] = max(values[i], studies.LeastSpeed)
		case studies.VariedRevRate:
			values[i] = max(values[i], 0)
		case studies.VariedAxisTilt:
			values[i] = min(max(values[i], -studies.MostTilt), studies.MostTilt)
		}
	}
}

const (
	besideLane    = 5.0               // largest distance of a laydown beside the lane, in boards
	steepestAngle = 20 * units.Degree // largest launch angle
)

// throw computes the shot with its path.
func (s *fitShot) throw(t *physics.Thrower, with contact, values []float64, settings physics.Settings) (physics.Shot, error) {
	l, b := s.lane, s.Setup.Ball
	l.Friction = with.Friction
	if s.ofCover {
		b.Cover = with.cover
	}
	shot, err := t.Throw(l, b, s.release(values), settings)
	if err != nil {
		return shot, fmt.Errorf("shot %q: %w", s.Shot, err)
	}
	return shot, nil
}

// predict computes the readings; NaN where the ball does not reach.
func (s *fitShot) predict(t *physics.Thrower, with contact, values []float64, settings physics.Settings) ([]float64, error) {
	shot, err := s.throw(t, with, values, settings)
	if err != nil {
		return nil, err
	}
	clock := 0.0
	if s.clock {
		clock = values[len(values)-1]
	}
	out := make([]float64, len(s.observations))
	for i, o := range s.observations {
		x := s.Points[o.point].Distance
		switch o.channel {
		case boardChannel:
			out[i] = studies.BoardAt(shot.Path, x)
		case speedChannel:
			out[i] = alongPath(shot.Path, x, func(s physics.State) (float64, float64) { return s.Speed, math.NaN() })
		case timeChannel:
			out[i] = clock + alongPath(shot.Path, x, func(s physics.State) (float64, float64) {
				return s.Time, 1 / (s.Speed * math.Cos(s.Heading))
			})
		}
	}
	return out, nil
}

// alongPath interpolates a quantity of a path at a distance x in m, from its value and its slope by distance
// at the points: by cubics or, if the slope is NaN, linearly.
func alongPath(path []physics.State, x float64, of func(physics.State) (value, slope float64)) float64 {
	i := sort.Search(len(path), func(i int) bool { return path[i].Distance >= x })
	switch {
	case i == len(path) || i == 0 && path[0].Distance > x:
		return math.NaN()
	case path[i].Distance == x:
		v, _ := of(path[i])
		return v
	}
	a, slopeA := of(path[i-1])
	b, slopeB := of(path[i])
	h := path[i].Distance - path[i-1].Distance
	u := (x - path[i-1].Distance) / h
	v := 1 - u
	if math.IsNaN(slopeA) {
		return v*a + u*b
	}
	return v*v*(1+2*u)*a + u*u*(3-2*u)*b + h*u*v*(v*slopeA-u*slopeB)
}
