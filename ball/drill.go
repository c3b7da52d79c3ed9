package ball

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"lanesim/internal/vector"
)

// Drilling is the effect of drilling on a ball. Vectors are in grip axes; see
// [Frame].
type Drilling struct {
	Grip   Grip
	Hand   Hand
	PAP    PAP
	Radius float64 // m, of the ball

	Holes []DrilledHole

	// Weights has the masses of each hole. Where holes run into each other the
	// later one removes what the earlier ones left.
	Weights []HoleWeight

	// WeightsKnown is set if a balance or the box gives the static weights.
	// Without either the finished ball is assumed to be neutral.
	WeightsKnown bool

	// Removed is the mass in kg of the material drilled out, PutBack that of
	// the inserts.
	Removed, PutBack float64

	// Before is the ball undrilled, After the ball drilled.
	Before, After State

	// Shift is the displacement in m of the mass centre by drilling.
	Shift r3.Vec

	// PinMoved and PSAMoved are how far in m along the surface the low and
	// the high axis move. If two moments of the undrilled ball are equal, its
	// axes are arbitrary, and the holes may move them far.
	PinMoved, PSAMoved float64
}

// State holds the mass properties of a ball before or after drilling.
type State struct {
	Mass float64 // kg

	// Centre is the mass centre in m from the centre of the sphere, Static the
	// same as static weights.
	Centre r3.Vec
	Static StaticWeights

	// Inertia is the tensor about the mass centre in kg·m², Moments its
	// principal moments and RadiiOfGyration √(I/m) in m, low, intermediate
	// and high.
	Inertia         [3][3]float64
	Moments         [3]float64
	RadiiOfGyration [3]float64

	// Frame has the low axis as the pin and the high axis as the PSA.
	Frame Frame

	Measures Measures // of the layout about that frame
}

// Differential is high minus low RG in m.
func (s State) Differential() float64 { return s.RadiiOfGyration[2] - s.RadiiOfGyration[0] }

// IntermediateDifferential is high minus intermediate RG in m.
func (s State) IntermediateDifferential() float64 { return s.RadiiOfGyration[2] - s.RadiiOfGyration[1] }

// Drill returns the ball drilled for a bowler's PAP and hand, and what the
// drilling does.
//
// The specification's mass, RGs and axes are those of the undrilled ball; its
// offset or static weights are those of the finished one, zero for a neutral
// ball. The undrilled ball's mass centre d is taken to be the one that leads to
// them. If instead the box gives d, and no offset or static weights are given, the
// finished ball's mass centre d′ follows from d.
//
//	m′ = m − m_out + m_in,   m d = m′ d′ + Σ_out m c − Σ_in m c
//	I′ = I + m (d² 1 − d dᵀ) − I_out + I_in − m′ (d′² 1 − d′ d′ᵀ)
//
// with d the offset of the mass centre, primes for the finished ball, and
// I_out and I_in about the sphere's centre (parallel-axis theorem). The body
// axes of the returned ball are the principal axes of I′. An offset given
// along the axes of the layout is turned into them.
//
// Errors are those of [Specification.Prepare], a [*GripError], or holes that
// remove more mass than the ball has.
func (s Specification) Drill(p PAP, hand Hand, grip Grip) (Ball, Drilling, error) {
	b, err := s.Prepare(p, hand)
	if err != nil {
		return Ball{}, Drilling{}, err
	}
	holes, err := grip.Place(hand, b.Radius)
	if err != nil {
		return Ball{}, Drilling{}, err
	}
	d := Drilling{Grip: grip, Hand: hand, PAP: p, Radius: b.Radius, Holes: holes}
	out, in := d.moments()
	d.Removed, d.PutBack = out.mass, in.mass
	change := in.plus(-1, out)
	frame := s.frame(p, hand)
	d.Before = State{Mass: b.Mass, Moments: b.Moments, RadiiOfGyration: s.RadiiOfGyration(), Frame: frame}
	d.Before.Inertia = frame.tensor(b.Moments)
	d.After = State{Mass: b.Mass + change.mass}
	if !(d.After.Mass > 0) {
		return Ball{}, d, errors.New("ball: the holes take more mass than the ball has")
	}
	boxed := false
	if d.Before.Centre, boxed = s.undrilledCentre(frame, hand); boxed {
		d.After.Centre = r3.Scale(1/d.After.Mass, r3.Add(r3.Scale(b.Mass, d.Before.Centre), change.first))
	} else {
		d.After.Centre = s.finishedCentre(frame, d.After.Mass)
		d.Before.Centre = r3.Scale(1/b.Mass, r3.Sub(r3.Scale(d.After.Mass, d.After.Centre), change.first))
	}
	d.WeightsKnown = boxed || s.balanceGiven()
	d.Shift = r3.Sub(d.After.Centre, d.Before.Centre)
	if len(holes) == 0 {
		d.After.Inertia, d.After.Moments, d.After.RadiiOfGyration, d.After.Frame = d.Before.Inertia, d.Before.Moments, d.Before.RadiiOfGyration, frame
	} else if err := d.addInertia(change); err != nil {
		return Ball{}, d, err
	}
	d.finish()
	b.Mass, b.Moments = d.After.Mass, d.After.Moments
	f := d.After.Frame
	b.PAP, b.Fingers = f.Body(f.PAP), f.Body(f.Fingers)
	if len(holes) > 0 || boxed {
		b.Offset = f.Body(d.After.Centre)
	}
	return b, d, nil
}

// addInertia computes the inertia of the drilled ball and its principal axes.
func (d *Drilling) addInertia(change massMoments) error {
	before, finished, added := pointInertia(d.Before.Mass, d.Before.Centre), pointInertia(d.After.Mass, d.After.Centre), change.inertia()
	for i := range 3 {
		for j := range 3 {
			d.After.Inertia[i][j] = d.Before.Inertia[i][j] + before[i][j] + added[i][j] - finished[i][j]
		}
	}
	var err error
	d.After.Moments, d.After.Frame, err = d.Before.Frame.principal(d.After.Inertia)
	for i, m := range d.After.Moments {
		d.After.RadiiOfGyration[i] = math.Sqrt(m / d.After.Mass)
	}
	return err
}

// finish computes static weights, measures and the displacements of the axes.
func (d *Drilling) finish() {
	for _, s := range []*State{&d.Before, &d.After} {
		w := r3.Scale(s.Mass/d.Radius, s.Centre)
		s.Static = StaticWeights{Side: w.Y, FingerThumb: w.Z, Top: w.X}
		s.Measures = s.Frame.measures(d.Hand, d.Radius, d.Holes)
	}
	d.PinMoved = vector.Angle(d.Before.Frame.Pin, d.After.Frame.Pin) * d.Radius
	d.PSAMoved = vector.Angle(d.Before.Frame.PSA, d.After.Frame.PSA) * d.Radius
}

// finishedCentre is the mass centre specified for the finished ball, in grip
// axes.
func (s Specification) finishedCentre(f Frame, mass float64) r3.Vec {
	if s.Static != nil {
		return s.Static.centre(mass, s.Diameter/2)
	}
	return f.grip(s.Offset)
}

// centre is the mass centre in grip axes with these static weights, d = w R / m.
func (w StaticWeights) centre(mass, radius float64) r3.Vec {
	return r3.Scale(radius/mass, r3.Vec{X: w.Top, Y: w.Side, Z: w.FingerThumb})
}

// moments returns the moments of the material that the holes remove and of their
// inserts, and fills in Weights.
func (d *Drilling) moments() (out, in massMoments) {
	var done []cylinder
	for _, h := range d.Holes {
		c := h.cylinder(d.Radius, h.Diameter, h.Depth)
		removed, added := c.moments(d.Grip.ShellDensity, done), massMoments{}
		done = append(done, c)
		add := func(factor, diameter float64) {
			part := h.cylinder(d.Radius, diameter, h.Insert.Length).moments(h.Insert.Density, nil)
			added, in = added.plus(factor, part), in.plus(factor, part)
		}
		if i := h.Insert; i != nil {
			add(1, i.outer(h.Hole))
			if i.Inner > 0 {
				add(-1, i.Inner)
			}
		}
		d.Weights = append(d.Weights, HoleWeight{h.Name, removed.mass, added.mass, static(r3.Sub(added.first, removed.first), d.Radius)})
		out = out.plus(1, removed)
	}
	return out, in
}

// tensor returns the inertia tensor in grip axes for principal moments along the
// body axes.
func (f Frame) tensor(moments [3]float64) (t [3][3]float64) {
	for a, v := range []r3.Vec{f.Pin, f.Intermediate, f.PSA} {
		e := [3]float64{v.X, v.Y, v.Z}
		for i := range e {
			for j := range e {
				t[i][j] += moments[a] * e[i] * e[j]
			}
		}
	}
	return t
}

// pointInertia returns the inertia tensor about the origin of a point mass.
func pointInertia(mass float64, at r3.Vec) [3][3]float64 {
	x := [3]float64{at.X, at.Y, at.Z}
	var m massMoments
	for i := range x {
		for j := range x {
			m.second[i][j] = mass * x[i] * x[j]
		}
	}
	return m.inertia()
}
