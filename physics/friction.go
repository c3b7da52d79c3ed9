package physics

import (
	"fmt"
	"math"
	"sync"

	"lanesim/ball"
	"lanesim/internal/portable"
	"lanesim/lane"
)

// frictionLaw gives the dimensionless friction coefficient of a contact between
// a ball and a lane.
//
// The coefficient may jump only at the distances that edges returns.
type frictionLaw interface {
	// coefficient returns μ for a film of thickness gap in m, within the stretch of lane with the given
	// index.
	coefficient(gap float64, stretch int) float64

	// edges returns the increasing distances in m at which the coefficient jumps for any film; stretch i lies
	// before edges[i].
	edges() []float64

	// limits returns the coefficients on a full film and on dry boards; ok is false if the law does not
	// depend on the film.
	limits() (film, dry float64, ok bool)
}

// FrictionOf returns the settings of a lane's friction law for a cover. Under the mixed law it multiplies the
// coefficients of dry boards and of a full film, which the lane gives for a reactive cover, by the ratios of
// the cover's numbers to the reactive cover's. Under the other laws the cover has no influence.
func FrictionOf(f lane.Friction, c ball.Cover) lane.Friction {
	if f.Law == lane.Mixed {
		dry, film := c.Ratios()
		f.Dry *= dry
		f.Film *= film
	}
	return f
}

// newFrictionLaw builds the lane's law for a ball.
func newFrictionLaw(l *lane.Lane, b *ball.Ball) (frictionLaw, error) {
	f := FrictionOf(l.Friction, b.Cover)
	switch f.Law {
	case lane.Constant:
		return constantLaw{f.Mu}, nil
	case lane.Zones:
		if len(f.Zones) == 0 {
			return nil, fmt.Errorf("physics: the zones law has no zones")
		}
		return zonesLaw(f.Zones), nil
	case lane.Mixed:
		return newMixedLaw(f, portable.Hypot(l.Roughness, b.Roughness)), nil
	}
	return nil, fmt.Errorf("physics: unknown friction law %q", f.Law)
}

// constantLaw is one coefficient everywhere, as in textbooks.
type constantLaw struct{ mu float64 }

func (c constantLaw) coefficient(float64, int) float64 { return c.mu }
func (c constantLaw) edges() []float64                 { return nil }
func (c constantLaw) limits() (_, _ float64, ok bool)  { return c.mu, c.mu, false }

// zonesLaw is a coefficient for each stretch of lane, as in Frohlich, "What
// makes bowling balls hook?", Am. J. Phys. 72 (2004) 1170.
type zonesLaw []lane.Zone

func (z zonesLaw) coefficient(_ float64, stretch int) float64 {
	return z[min(stretch, len(z)-1)].Mu
}

func (z zonesLaw) edges() []float64 {
	var e []float64
	for _, zone := range z[:len(z)-1] {
		e = append(e, zone.To)
	}
	return e
}

func (z zonesLaw) limits() (_, _ float64, ok bool) { return 0, 0, false }

// mixedLaw is mixed lubrication: touching asperities carry the share φ(λ) of the load, the film carries the
// rest,
//
//	μ = μ_film + (μ_dry − μ_film) φ(λ),   φ(λ) = (1 − λ/4)^6.804 for λ < 4, else 0
//
// with the film ratio λ = κ_e H / σ, H the film in the gap, κ_e the share of it that is entrained and σ the
// composite roughness √(Ra_ball² + Ra_lane²). φ is the usual fit to the asperity integral of Greenwood &
// Tripp (from memory: Patir & Cheng; Hu, Cheng, Arai et al. 1994). The theory's σ is an RMS roughness; here
// Ra is used for it. μ does not depend on the sliding speed.
type mixedLaw struct {
	film, dry float64
	perGap    float64 // λ/(4H) in 1/m
	peaks     *peakTable
}

func newMixedLaw(f lane.Friction, roughness float64) mixedLaw {
	m := mixedLaw{film: f.Film, dry: f.Dry, perGap: math.Inf(1), peaks: peaks()}
	if roughness > 0 {
		m.perGap = f.Entrained / (4 * roughness)
	}
	return m
}

func (m mixedLaw) coefficient(gap float64, _ int) float64 {
	if !(gap > 0) {
		return m.dry
	}
	r := 1 - gap*m.perGap
	if !(r > 0) {
		return m.film
	}
	return m.film + (m.dry-m.film)*m.peaks.phi(r)
}

func (m mixedLaw) edges() []float64 { return nil }

func (m mixedLaw) limits() (film, dry float64, ok bool) { return m.film, m.dry, true }

// peakExponent is the exponent of the fit to the asperity integral.
const peakExponent = 6.804

// peakCells is the number of cells in the table of φ. A cubic in each, with
// exact values and slopes at its ends, deviates by no more than h⁴/384 times the
// fourth derivative, 720 h⁴/384 = 1.7e-12.
const peakCells = 1024

// peakTable tabulates φ over r = 1 − λ/4, with its slopes times the cell's width. Computing the power would
// take longer than the rest of an evaluation.
type peakTable [peakCells + 1]struct{ value, slope float64 }

var peaks = sync.OnceValue(func() *peakTable {
	t := new(peakTable)
	for i := range t {
		r := float64(i) / peakCells
		t[i].value = portable.Pow(r, peakExponent)
		t[i].slope = peakExponent * portable.Pow(r, peakExponent-1) / peakCells
	}
	return t
})

// phi returns φ for r from 0 to 1.
func (t *peakTable) phi(r float64) float64 {
	u := r * peakCells
	i := min(int(u), peakCells-1)
	u -= float64(i)
	a, b := t[i], t[i+1]
	chord := b.value - a.value
	return a.value + u*(a.slope+u*(3*chord-2*a.slope-b.slope+u*(a.slope+b.slope-2*chord)))
}
