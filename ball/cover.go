package ball

import (
	"math"
	"slices"
)

// Cover is what the outside of a ball is made of, as the lane feels it. The
// zero Cover is [Reactive].
//
// The chemistry of the cover is named as the first factor of ball motion, its
// roughness as the next (press release of the governing body's ball motion
// study, 2008, second-hand). Roughness is no part of the cover: any cover can be
// sanded or polished.
type Cover struct {
	Name string // of a preset; empty for any other cover

	// Dry and Film are the dimensionless friction coefficients of a dry contact
	// and of one on a full film. A lane's friction is what [Reactive] meets on it;
	// another cover meets it times the ratio of its numbers to those of Reactive.
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

// CoverNamed returns the preset of a name, false if there is none.
func CoverNamed(name string) (Cover, bool) {
	covers := Covers()
	i := slices.IndexFunc(covers, func(c Cover) bool { return c.Name == name })
	if i < 0 {
		return Cover{}, false
	}
	return covers[i], true
}

// Ratios returns what a lane's friction in a dry contact and on a full film is
// multiplied by for this cover: 1 and 1 for [Reactive].
func (c Cover) Ratios() (dry, film float64) {
	if c == (Cover{}) {
		return 1, 1
	}
	return c.Dry / Reactive.Dry, c.Film / Reactive.Film
}
