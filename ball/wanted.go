package ball

import (
	"errors"
	"math"

	"lanesim/internal/linear"
	"lanesim/units"
)

// Means is what a plan changes to reach finished weights.
type Means int

// The means.
const (
	ByDepths Means = iota
	ByPitches
)

// Plan is a grip that brings the finished weights as near as it can to those
// wanted.
type Plan struct {
	Means   Means
	Grip    Grip // with depths or pitches rounded to what a shop drills
	Weights StaticWeights

	// Missed is the largest difference in kg from what is wanted.
	Missed float64
}

// Limits of a plan, by common practice: gripping holes are drilled 1¾ to 3 in deep and
// pitched by at most half an inch. Given values beyond them are kept. The finger holes
// are not pitched toward each other, where their wall is thin. Depths and pitches are
// multiples of a step that a shop can drill.
const (
	shallowest = 1.75 * units.Inch
	deepest    = 3 * units.Inch
	mostTilted = 0.5 * units.Inch
	depthStep  = units.Inch / 32
	pitchStep  = units.Inch / 64
)

// adjustment is one length of a grip that a plan changes.
type adjustment struct {
	set       func(*Grip, float64)
	given, at float64
	from, to  float64
	step      float64
}

// PlanWeights finds the depths or pitches of the holes that bring the finished
// weights of the ball nearest to Box.Wanted with the least change: Gauss–Newton
// steps of the least length, kept within limits. It is an error if no weights are
// wanted, if the undrilled ball's weights are not known, or if the ball cannot be
// drilled.
func (s Specification) PlanWeights(p PAP, hand Hand, grip Grip, means Means) (Plan, error) {
	if s.Box == nil || s.Box.Wanted == nil {
		return Plan{}, errors.New("ball: no finished weights are wanted")
	}
	_, d, err := s.Drill(p, hand, grip)
	switch {
	case err != nil:
		return Plan{}, err
	case !d.WeightsKnown || s.balanceGiven():
		return Plan{}, errors.New("ball: the weights of the undrilled ball are not known")
	}
	wanted := []units.Optional{s.Box.Wanted.Side, s.Box.Wanted.FingerThumb, s.Box.Wanted.Top}
	before := d.Before.Static
	finished := func(g Grip) (StaticWeights, error) {
		holes, err := g.Place(hand, d.Radius)
		if err != nil {
			return StaticWeights{}, err
		}
		try := Drilling{Grip: g, Radius: d.Radius, Holes: holes}
		try.moments()
		w := before
		for _, h := range try.Weights {
			w = w.Plus(h.Change)
		}
		return w, nil
	}
	missing := func(w StaticWeights) []float64 {
		var r []float64
		for i, v := range []float64{w.Side, w.FingerThumb, w.Top} {
			if wanted[i].Given {
				r = append(r, wanted[i].Value-v)
			}
		}
		return r
	}
	adjustments := grip.adjustments(means, d.Radius)
	best := grip.clone()
	w, err := finished(best)
	for range 40 {
		if err != nil {
			return Plan{}, err
		}
		r := missing(w)
		var columns [][]float64
		if len(r) == 0 || len(adjustments) == 0 {
			break
		}
		for _, k := range adjustments {
			const nudge = 1e-5 // m
			g := best.clone()
			k.set(&g, k.at+nudge)
			moved, err := finished(g)
			if err != nil {
				return Plan{}, err
			}
			column := missing(moved)
			for i := range column {
				column[i] = (r[i] - column[i]) / nudge
			}
			columns = append(columns, column)
		}
		// An adjustment at its limit is held there, and the others make up for it.
		held := make([]bool, len(adjustments))
		var steps []float64
		for range adjustments {
			again := false
			steps = leastStep(columns, r)
			for i, k := range adjustments {
				if v := k.at + steps[i]; !held[i] && (k.at <= k.from && v < k.from || k.at >= k.to && v > k.to) {
					held[i], again = true, true
					columns[i] = make([]float64, len(r))
				}
			}
			if !again {
				break
			}
		}
		most := 0.0
		for i, step := range steps {
			k := adjustments[i]
			to := min(max(k.at+step, k.from), k.to)
			most = max(most, math.Abs(to-k.at))
			k.at = to
			k.set(&best, to)
		}
		w, err = finished(best)
		if most < 1e-7 {
			break
		}
	}
	for _, k := range adjustments {
		if k.at != k.given {
			k.set(&best, math.Round(k.at/k.step)*k.step)
		}
	}
	if w, err = finished(best); err != nil {
		return Plan{}, err
	}
	plan := Plan{Means: means, Grip: best, Weights: w}
	for _, v := range missing(w) {
		plan.Missed = max(plan.Missed, math.Abs(v))
	}
	return plan, nil
}

// clone copies the grip and its holes, so that one copy can change.
func (g Grip) clone() Grip {
	for _, h := range []**Hole{&g.Middle, &g.Ring, &g.Thumb} {
		if *h != nil {
			c := **h
			*h = &c
		}
	}
	return g
}

// adjustments lists what a plan may change.
func (g Grip) adjustments(means Means, radius float64) []*adjustment {
	var list []*adjustment
	for _, at := range []func(*Grip) *Hole{
		func(g *Grip) *Hole { return g.Middle }, func(g *Grip) *Hole { return g.Ring }, func(g *Grip) *Hole { return g.Thumb },
	} {
		h := at(&g)
		if h == nil {
			continue
		}
		if means == ByDepths {
			from := shallowest
			if h.Insert != nil {
				from = max(from, h.Insert.Length)
			}
			list = append(list, &adjustment{func(g *Grip, v float64) { at(g).Depth = v }, h.Depth, h.Depth, min(from, h.Depth), min(max(deepest, h.Depth), 0.95*radius), depthStep})
			continue
		}
		from, to := min(h.Lateral, -mostTilted), max(h.Lateral, mostTilted)
		switch h {
		case g.Middle:
			to = h.Lateral
		case g.Ring:
			from = h.Lateral
		}
		list = append(list,
			&adjustment{func(g *Grip, v float64) { at(g).Forward = v }, h.Forward, h.Forward, min(h.Forward, -mostTilted), max(h.Forward, mostTilted), pitchStep},
			&adjustment{func(g *Grip, v float64) { at(g).Lateral = v }, h.Lateral, h.Lateral, from, to, pitchStep})
	}
	return list
}

// leastStep returns the shortest x with A x = r in the sense of least squares,
// x = Aᵀ (A Aᵀ + ε)⁻¹ r, for the columns of A.
func leastStep(columns [][]float64, r []float64) []float64 {
	n := len(r)
	m := linear.New(n, n)
	trace := 0.0
	for i := range n {
		for j := range n {
			for _, c := range columns {
				m.Add(i, j, c[i]*c[j])
			}
		}
		trace += m.At(i, i)
	}
	const damping = 1e-6 // of the trace: leaves out directions that hardly change the weights
	for i := range n {
		m.Add(i, i, damping*trace)
	}
	step := make([]float64, len(columns))
	factor, ok := linear.Factor(m)
	if !ok {
		return step
	}
	y := factor.Solve(r)
	for k, c := range columns {
		step[k] = linear.Dot(c, y)
	}
	return step
}
