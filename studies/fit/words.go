package fit

import (
	"fmt"
	"math"
	"strings"

	"lanesim/input"
	"lanesim/internal/linear"
	"lanesim/internal/portable"
	"lanesim/lane"
	"lanesim/studies"
	"lanesim/units"
)

const (
	// tiedTogether is the correlation of errors from which on the data hardly
	// tell two numbers apart: each one's error is over three times what it
	// would be if the other were known.
	tiedTogether = 0.95

	// weakDirection is the eigenvalue of the correlations under which settings
	// are tied together in a direction of several.
	weakDirection = 1 - tiedTogether

	// partOfDirection is the share of a direction from which on a setting is
	// named as part of it.
	partOfDirection = 0.3

	// pastOil is how far past the oil a track must reach to tell dry friction
	// by the motion there.
	pastOil = 3 * units.Foot
)

// warnings tell what the tracks cannot tell, and what stands out.
func (x *fitter) warnings(r Result, v inverted, ok bool) []string {
	var all []string
	add := func(format string, values ...any) { all = append(all, fmt.Sprintf(format, values...)) }
	for _, s := range r.Settings {
		if s.Held != "" {
			add("%s is not told by the tracks, and was kept at %.4g: %s", s.Setting.Words(), s.Value, s.Held)
		}
	}
	if !ok && len(x.active) > 0 {
		add("the tracks do not tell %s and the shots' releases apart: no errors can be given", input.List(x.words()))
	}
	tied := false
	for i := range r.Correlations {
		for j := range i {
			if c := r.Correlations[i][j]; math.Abs(c) > tiedTogether {
				tied = true
				add("the tracks hardly tell %s from %s (correlation of their errors %.3f): %s",
					x.active[j].Words(), x.active[i].Words(), c, sense(c))
			}
		}
	}
	if names := x.direction(r.Correlations); !tied && names != nil {
		add("the tracks hardly tell %s apart: taken together they can change much without the tracks changing", input.List(names))
	}
	all = append(all, x.tiedReleases(v, ok)...)
	if farthest := x.farthest(); x.Lane.Friction.Law == lane.Mixed && oiled(x.Lane) && farthest < x.Lane.Oil.Length()+pastOil && len(x.active) > 0 {
		add("no track reaches well past the oil, which ends at %.1f ft: film and dry friction can be told apart only by what the oil leaves dry", x.Lane.Oil.Length()/units.Foot)
	}
	for i, s := range x.active {
		value := portable.Exp(x.at.shared[i])
		if value <= leastFriction*(1+settledGain) || value >= frictionSettings[s].most*(1-settledGain) {
			add("%s ended at the limit of what is searched, %.4g", s.Words(), value)
		}
	}
	for c, name := range []string{"boards", "speeds", "times"} {
		if r.Assumed[c] {
			add("the scatter of the %s cannot be estimated from so few: it is assumed to be the usual %s", name,
				[]string{"1 board", "0.3 mph", "1/30 s"}[c])
		}
	}
	for i, s := range r.Shots {
		if s.Outlier {
			add("shot %q fits worse than the others: its readings are %.2g boards off (root mean square)", x.shots[i].Shot, s.RMS.Boards)
			continue
		}
		var at []string
		for k, p := range s.Residuals {
			if p.Outlier {
				at = append(at, fmt.Sprintf("%.4g ft", x.shots[i].Points[k].Distance/units.Foot))
			}
		}
		if at != nil {
			add("shot %q: what was read at %s is more than %g times the scatter off", x.shots[i].Shot, input.List(at), outlierPoint)
		}
	}
	if r.Failed > 0 {
		add("%d of %d repeated fits did not settle and are left out", r.Failed, r.Failed+r.Repetitions)
	}
	return all
}

// sense says which changes cancel.
func sense(correlation float64) string {
	if correlation > 0 {
		return "more of both fits nearly as well"
	}
	return "more of one and less of the other fits nearly as well"
}

func (x *fitter) words() []string {
	words := make([]string, len(x.active))
	for i, s := range x.active {
		words[i] = s.Words()
	}
	return words
}

func (x *fitter) farthest() float64 {
	d := 0.0
	for _, s := range x.shots {
		d = max(d, s.Points[len(s.Points)-1].Distance)
	}
	return d
}

// direction names the settings of a combination that the tracks hardly tell; nil
// if there is none.
func (x *fitter) direction(correlations [][]float64) []string {
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
	var names []string
	for i, s := range x.active {
		if math.Abs(vectors.At(i, 0)) > partOfDirection {
			names = append(names, s.Words())
		}
	}
	return names
}

// tiedReleases tells of numbers that shots have for themselves beyond their line
// and that the tracks hardly tell from each other or from the friction.
func (x *fitter) tiedReleases(v inverted, ok bool) []string {
	if !ok {
		return nil
	}
	type pair struct{ a, b string }
	var order []pair
	count := map[pair]int{}
	note := func(p pair, covariance, a, b float64) {
		if math.Abs(covariance) <= tiedTogether*math.Sqrt(a*b) {
			return
		}
		if count[p] == 0 {
			order = append(order, p)
		}
		count[p]++
	}
	for i := range x.shots {
		s := &x.shots[i]
		m := v.local[i]
		for j, varied := range s.varied {
			name := strings.ReplaceAll(varied.String(), "_", " ")
			for k := range j {
				if varied == studies.VariedAngle {
					continue // of a line far down the lane, laydown and angle always are
				}
				note(pair{strings.ReplaceAll(s.varied[k].String(), "_", " "), name}, m.At(j, k), m.At(j, j), m.At(k, k))
			}
			for k, setting := range x.active {
				note(pair{name, setting.Words()}, v.cross[i].At(j, k), m.At(j, j), v.shared.At(k, k))
			}
		}
	}
	var all []string
	for _, p := range order {
		all = append(all, fmt.Sprintf("the tracks hardly tell %s from %s in %d of %d shots", p.a, p.b, count[p], len(x.shots)))
	}
	return all
}
