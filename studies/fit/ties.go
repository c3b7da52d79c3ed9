package fit

import (
	"math"
	"slices"

	"lanesim/internal/linear"
	"lanesim/internal/portable"
	"lanesim/lane"
	"lanesim/studies"
	"lanesim/units"
)

const (
	// Tied is the correlation of errors above which the data hardly distinguish two parameters: each one's
	// error is then over three times that with the other known.
	Tied = 0.95

	// weakDirection is the eigenvalue of the correlations below which a combination of settings is hardly
	// determined.
	weakDirection = 1 - Tied

	// partOfDirection is the component of such a combination above which a setting is named as part of it.
	partOfDirection = 0.3

	// pastOil is the distance in m past the oil that a track must reach to show dry friction.
	pastOil = 3 * units.Foot
)

// ReleaseTie is a pair of parameters that the tracks of some shots hardly distinguish: a shot's own parameter
// and another of these or, if With is [studies.VariedCount], a setting.
type ReleaseTie struct {
	Number, With studies.Varied
	Setting      FrictionSetting
	Shots        int
}

// limits adds to a result what the tracks do not determine.
func (x *fitter) limits(r *Result, v inverted, ok bool) {
	r.Singular = !ok && len(x.active) > 0
	r.Weak = x.direction(r.Correlations)
	if ok {
		r.Ties = x.tiedReleases(v)
	}
	r.ShortOfOilEnd = x.Lane.Friction.Law == lane.Mixed && oiled(x.Lane) && x.farthest() < x.Lane.Oil.Length()+pastOil && len(x.active) > 0
}

// atLimit reports whether a setting ended at a limit of the search.
func (x *fitter) atLimit(i int) bool {
	value := portable.Exp(x.at.shared[i])
	return value <= leastFriction*(1+settledGain) || value >= frictionSettings[x.active[i]].most*(1-settledGain)
}

func (x *fitter) farthest() float64 {
	d := 0.0
	for _, s := range x.shots {
		d = max(d, s.Points[len(s.Points)-1].Distance)
	}
	return d
}

// direction lists the settings of a combination that the tracks hardly determine; nil if there is none.
func (x *fitter) direction(correlations [][]float64) []FrictionSetting {
	n := len(correlations)
	if n < 2 {
		return nil
	}
	m := linear.New(n, n)
	for i, row := range correlations {
		copy(m.Row(i), row)
	}
	values, vectors := linear.Eigen(m)
	if !(values[0] < weakDirection) {
		return nil
	}
	var list []FrictionSetting
	for i, s := range x.active {
		if math.Abs(vectors.At(i, 0)) > partOfDirection {
			list = append(list, s)
		}
	}
	return list
}

// tiedReleases lists the shots' own parameters, except those of the line, that the tracks hardly distinguish
// from each other or from the friction.
func (x *fitter) tiedReleases(v inverted) []ReleaseTie {
	var all []ReleaseTie
	note := func(tie ReleaseTie, covariance, a, b float64) {
		if math.Abs(covariance) <= Tied*math.Sqrt(a*b) {
			return
		}
		i := slices.IndexFunc(all, func(t ReleaseTie) bool { t.Shots = 0; return t == tie })
		if i < 0 {
			i, all = len(all), append(all, tie)
		}
		all[i].Shots++
	}
	for i := range x.shots {
		s := &x.shots[i]
		m := v.local[i]
		for j, varied := range s.varied {
			for k := range j {
				if varied == studies.VariedAngle {
					continue // laydown and angle are always tied far down the lane
				}
				note(ReleaseTie{Number: s.varied[k], With: varied}, m.At(j, k), m.At(j, j), m.At(k, k))
			}
			for k, setting := range x.active {
				note(ReleaseTie{Number: varied, With: studies.VariedCount, Setting: setting}, v.cross[i].At(j, k), m.At(j, j), v.shared.At(k, k))
			}
		}
	}
	return all
}
