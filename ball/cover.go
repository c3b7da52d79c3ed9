package ball

import (
	"math"
	"slices"
)

// Cover is the material of a ball's outside: its friction and how it soaks up
// oil. The zero Cover is [Reactive].
//
// A study names the chemistry of the cover as the first factor of ball motion and
// its roughness as the next (press release of the governing body's ball motion
// study, 2008, second-hand). Roughness is not part of Cover: any cover can be
// sanded or polished.
type Cover struct {
	Name string // of a preset; empty for any other cover

	// Dry and Film are the dimensionless friction coefficients of a dry contact
	// and of one on a full film. A lane's friction is that of [Reactive] on it; for
	// another cover it is multiplied by the ratio of its coefficient to Reactive's.
	Dry, Film float64

	// SoakIn is the time in s in which the cover soaks up all but 1/e of the
	// film on it; +Inf for a cover that soaks up nothing.
	SoakIn float64
}

// The presets. Their numbers are assumed; that plastic hooks least, then
// urethane, then reactive is common practice.
var (
	Plastic  = Cover{Name: "plastic", Dry: 0.10, Film: 0.018, SoakIn: math.Inf(1)}
	Urethane = Cover{Name: "urethane", Dry: 0.16, Film: 0.021, SoakIn: 60}
	Reactive = Cover{Name: "reactive", Dry: 0.20, Film: 0.022, SoakIn: 20}
)

// Covers lists the presets, from the least hook to the most.
func Covers() []Cover { return []Cover{Plastic, Urethane, Reactive} }

// CoverNamed returns the preset with a name, false if there is none.
func CoverNamed(name string) (Cover, bool) {
	covers := Covers()
	i := slices.IndexFunc(covers, func(c Cover) bool { return c.Name == name })
	if i < 0 {
		return Cover{}, false
	}
	return covers[i], true
}

// Ratios returns the factors by which this cover multiplies a lane's friction in a
// dry contact and on a full film: 1 and 1 for [Reactive].
func (c Cover) Ratios() (dry, film float64) {
	if c == (Cover{}) {
		return 1, 1
	}
	return c.Dry / Reactive.Dry, c.Film / Reactive.Film
}
