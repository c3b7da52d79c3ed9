package physics_test

import (
	"math"
	"sort"

	"lanesim/lane"
)

// referenceGrip is the friction along one step.
type referenceGrip struct {
	Turned, Distance, Mu [2]float64 // rad, m and μ at its ends
	Sum                  float64    // ∫μ dθ from the release to its start
}

// read returns where the friction is read: the first distance at which the mean
// of μ from half a turn before to half a turn after exceeds the film's by a
// tenth of what a dry contact has more; NaN if nowhere. A ball that hardly turns
// has no mean: μ itself counts.
func (r *reference) read() float64 {
	film, dry := r.coefficients()
	threshold := film + 0.1*(dry-film)
	if r.lane.Friction.Law != lane.Mixed || len(r.grip) == 0 {
		return math.NaN()
	}
	end := r.grip[len(r.grip)-1].Turned[1]
	sum := func(turned float64) float64 {
		i := max(0, sort.Search(len(r.grip), func(i int) bool { return r.grip[i].Turned[0] > turned })-1)
		g := &r.grip[i]
		span := g.Turned[1] - g.Turned[0]
		if span == 0 {
			return g.Sum
		}
		share := (turned - g.Turned[0]) / span
		return g.Sum + span*share*(g.Mu[0]+share/2*(g.Mu[1]-g.Mu[0]))
	}
	mean := func(turned, mu float64) float64 {
		from, to := max(0, turned-math.Pi), min(end, turned+math.Pi)
		if to-from < 1e-3 {
			return mu
		}
		return (sum(to) - sum(from)) / (to - from)
	}
	before := math.Inf(1)
	for i := range r.grip {
		g := &r.grip[i]
		for k := range g.Turned {
			over := mean(g.Turned[k], g.Mu[k]) - threshold
			if over > 0 {
				if k == 0 || before >= 0 {
					return g.Distance[k]
				}
				return g.Distance[0] + before/(before-over)*(g.Distance[1]-g.Distance[0])
			}
			before = over
		}
	}
	return math.NaN()
}
