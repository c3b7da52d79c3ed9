package ball

import (
	"errors"
	"fmt"
	"math"

	"lanesim/units"
)

// Specification is a ball as it is bought and laid out. Values that drilling
// changes are those of the undrilled ball.
type Specification struct {
	Name string

	Weight   float64 // kg, gross
	Diameter float64 // m

	// RG is the low radius of gyration in m, about the pin. Differential is
	// high minus low RG, IntermediateDifferential high minus intermediate
	// RG, both in m: k_high = k_low + differential,
	// k_int = k_high − intermediate differential.
	RG, Differential, IntermediateDifferential float64

	// Cover is the material of the outside.
	Cover Cover

	// Roughness is the Ra in m of the cover after its last finish. FinishWear
	// changes it over the games bowled since.
	Roughness        float64
	GamesSinceFinish float64
	FinishWear       FinishWear

	// Layout may be nil for equal moments; the pin is then at the PAP and the PSA
	// below it, which matters only for an offset.
	Layout *Layout

	// Offset is the centre of mass in m from the centre of the sphere along
	// pin, intermediate (PSA × pin) and PSA axes. It is that of the finished
	// ball: a ball without offset is drilled to be neutral.
	Offset [3]float64

	// Static, if not nil, gives the offset by static weights instead.
	Static *StaticWeights

	// Box is what the box says about the undrilled ball, nil if unknown.
	Box *Box

	ContactRadius float64 // m; 0 turns pivot friction off

	// Memory is how the cover carries oil; a soak-in time of 0 is the cover's own.
	Memory FilmMemory

	Measured Measured
}

// StaticWeights describes an offset of the centre of mass by its imbalance along
// three directions of the grip, each in kg: the mass that would have the same
// moment if it sat on the ball's surface, w R = m d.
type StaticWeights struct {
	// Side is positive to the right of the grip, seen with the fingers up,
	// FingerThumb toward the fingers, Top toward the grip.
	Side, FingerThumb, Top float64
}

// DefaultRoughness is the assumed Ra in m of a cover.
const DefaultRoughness = 25 * units.Microinch

// Default returns a ball of the trade's common size with equal moments.
func Default() Specification {
	memory := DefaultFilmMemory()
	memory.SoakIn = 0
	return Specification{
		Weight:        15 * units.Pound,
		Diameter:      8.58 * units.Inch,
		RG:            2.50 * units.Inch,
		Cover:         Reactive,
		Roughness:     DefaultRoughness,
		FinishWear:    DefaultFinishWear(),
		ContactRadius: DefaultContactRadius,
		Memory:        memory,
	}
}

// SoakIn returns the soak-in time in s: that of the film memory or, if it is 0
// there, the cover's.
func (s Specification) SoakIn() float64 {
	switch {
	case s.Memory.SoakIn != 0:
		return s.Memory.SoakIn
	case s.Cover == Cover{}:
		return Reactive.SoakIn
	}
	return s.Cover.SoakIn
}

// RadiiOfGyration returns the undrilled RGs in m about pin, intermediate axis
// and PSA.
func (s Specification) RadiiOfGyration() [3]float64 {
	high := s.RG + s.Differential
	return [3]float64{s.RG, high - s.IntermediateDifferential, high}
}

// Prepare returns the undrilled ball, laid out for a bowler's PAP and hand.
//
// It is an error if a mass property is not positive and finite, if no body
// can have the moments (each is at most the sum of the other two), or if
// moments differ and no layout says where they lie.
func (s Specification) Prepare(p PAP, hand Hand) (Ball, error) {
	radius := s.Diameter / 2
	k := s.RadiiOfGyration()
	for _, v := range []float64{s.Weight, s.Diameter, k[0], k[1], k[2]} {
		if !(v > 0) || math.IsInf(v, 0) {
			return Ball{}, errors.New("ball: weight, diameter and radii of gyration must be positive and finite")
		}
	}
	var moments [3]float64
	for i := range k {
		moments[i] = s.Weight * k[i] * k[i]
	}
	if moments[2] > moments[0]+moments[1] {
		return Ball{}, fmt.Errorf("ball: no body has radii of gyration %.4g, %.4g and %.4g in: each moment is at most the sum of the other two",
			k[0]/units.Inch, k[1]/units.Inch, k[2]/units.Inch)
	}
	if s.Layout == nil && s.Differential != 0 {
		return Ball{}, errors.New("ball: moments differ, so a layout must say where pin and PSA lie")
	}
	f := s.frame(p, hand)
	offset := s.Offset
	if s.Static != nil {
		offset = f.Body(s.Static.centre(s.Weight, radius))
	}
	memory := s.Memory
	memory.SoakIn = s.SoakIn()
	return Ball{
		Name:          s.Name,
		Radius:        radius,
		Mass:          s.Weight,
		Moments:       moments,
		Offset:        offset,
		PAP:           f.Body(f.PAP),
		Fingers:       f.Body(f.Fingers),
		Cover:         s.Cover,
		Roughness:     s.FinishWear.Worn(s.Roughness, s.GamesSinceFinish),
		ContactRadius: s.ContactRadius,
		Memory:        memory,
		Measured:      s.Measured,
	}, nil
}

// frame is the frame of the undrilled ball.
func (s Specification) frame(p PAP, hand Hand) Frame {
	layout := Layout{}
	if s.Layout != nil {
		layout = *s.Layout
	}
	return layout.Frame(p, hand, s.Diameter/2)
}
