package jacobi

import (
	"errors"
	"math"
)

// FreeTop is a torque-free body with three different moments I₁ < I₂ < I₃
// whose spin lies between its first and third axes at time 0, with
// L² > 2E I₂:
//
//	ω₁ = A cn τ,  ω₂ = B sn τ,  ω₃ = C dn τ,  τ = ω_p t
//	ω_p² = (I₃−I₂)(L²−2E I₁)/(I₁I₂I₃)
//	m = (I₂−I₁)(2E I₃−L²)/((I₃−I₂)(L²−2E I₁))
//
// (Landau & Lifshitz, Mechanics, §37).
type FreeTop struct {
	Rate      float64    // ω_p, rad/s
	Parameter float64    // m
	Amplitude [3]float64 // A, B, C, rad/s
}

// NewFreeTop returns the motion of a body with the moments, increasing, and
// the spin components about the first and the third axis at time 0, both
// positive, in rad/s.
func NewFreeTop(moments [3]float64, first, third float64) (FreeTop, error) {
	i1, i2, i3 := moments[0], moments[1], moments[2]
	energy2 := i1*first*first + i3*third*third
	momentum2 := i1*i1*first*first + i3*i3*third*third
	if !(i1 < i2 && i2 < i3 && momentum2 > energy2*i2) {
		return FreeTop{}, errors.New("jacobi: the body does not turn about its third axis")
	}
	return FreeTop{
		Rate:      math.Sqrt((i3 - i2) * (momentum2 - energy2*i1) / (i1 * i2 * i3)),
		Parameter: (i2 - i1) * (energy2*i3 - momentum2) / ((i3 - i2) * (momentum2 - energy2*i1)),
		Amplitude: [3]float64{
			math.Sqrt((energy2*i3 - momentum2) / (i1 * (i3 - i1))),
			math.Sqrt((energy2*i3 - momentum2) / (i2 * (i3 - i2))),
			math.Sqrt((momentum2 - energy2*i1) / (i3 * (i3 - i1))),
		},
	}, nil
}

// Period is the time in s after which the spin is the same in body axes.
func (f FreeTop) Period() float64 { return 4 * quarterPeriod(f.Parameter) / f.Rate }

// Spin returns the spin in body axes, in rad/s, at a time in s.
func (f FreeTop) Spin(time float64) [3]float64 {
	sn, cn, dn := SnCnDn(f.Rate*time, f.Parameter)
	return [3]float64{f.Amplitude[0] * cn, f.Amplitude[1] * sn, f.Amplitude[2] * dn}
}
