package studies

import (
	"errors"
	"math"

	"lanesim/internal/linear"
	"lanesim/internal/portable"
	"lanesim/lane"
	"lanesim/physics"
)

// Varied is a quantity in which a bowler's deliveries deviate.
type Varied int

// The quantities that deviate, in the order of [Deviates].
const (
	VariedLaydown Varied = iota
	VariedAngle
	VariedSpeed
	VariedRevRate
	VariedAxisRotation
	VariedAxisTilt
	VariedPhase

	VariedCount
)

var variedNames = [VariedCount]string{"laydown", "angle", "speed", "rev_rate", "axis_rotation", "axis_tilt", "phase"}

// String returns the name of the scenario's field.
func (v Varied) String() string { return variedNames[v] }

// Of returns a pointer to the quantity in a release.
func (v Varied) Of(r *physics.Release) *float64 {
	return [VariedCount]*float64{&r.Laydown, &r.Angle, &r.Speed, &r.RevRate, &r.AxisRotation, &r.AxisTilt, &r.Phase}[v]
}

// AllVaried returns the quantities that deviate, in the order of [Deviates].
func AllVaried() []Varied {
	list := make([]Varied, VariedCount)
	for i := range list {
		list[i] = Varied(i)
	}
	return list
}

// Repeatability is the scatter of a bowler's deliveries: standard deviations about the release, and their
// correlations. With the zero value all deliveries are alike, as of a machine.
type Repeatability struct {
	Laydown      float64 // boards
	Angle        float64 // rad
	Speed        float64 // m/s
	RevRate      float64 // rad/s
	AxisRotation float64 // rad
	AxisTilt     float64 // rad
	Phase        float64 // rad

	// EvenPhase draws the phase evenly from the whole turn, since bowlers do not control how the core points.
	// Phase is then ignored.
	EvenPhase bool

	// Correlations of pairs of deviations; all others are 0.
	Correlations []Correlation
}

// Correlation is the correlation of two deviations, from −1 to 1.
type Correlation struct {
	Between [2]Varied
	Is      float64 // dimensionless
}

// Deviates are independent standard normal numbers from which the deviations of one delivery follow.
type Deviates [VariedCount]float64

// DrawDeviates returns the deviates of delivery k of a study with a seed.
func DrawDeviates(seed, k uint64) Deviates {
	return NewSampler().Deviates(seed, k)
}

// Deliverer makes deliveries with deviations from a release.
type Deliverer struct {
	about physics.Release
	even  bool                              // the phase is drawn evenly, unless its deviation was removed
	by    [VariedCount][VariedCount]float64 // lower triangle
}

// ErrCorrelations means that the correlations contradict each other: no random numbers have them.
var ErrCorrelations = errors.New("studies: there are no deviations with these correlations: their matrix is not positive definite")

// Deliverer returns a deliverer about a release. The error is [ErrCorrelations].
func (r Repeatability) Deliverer(about physics.Release) (Deliverer, error) {
	d := Deliverer{about: about, even: r.EvenPhase}
	sigmas := r.Sigmas()
	if len(r.Correlations) == 0 {
		for i, s := range sigmas {
			d.by[i][i] = s
		}
		return d, nil
	}
	c := linear.New(int(VariedCount), int(VariedCount))
	for i := range int(VariedCount) {
		c.Set(i, i, 1)
	}
	for _, one := range r.Correlations {
		i, j := int(one.Between[0]), int(one.Between[1])
		c.Set(i, j, one.Is)
		c.Set(j, i, one.Is)
	}
	// z ↦ L z has the correlations C = L Lᵀ.
	l, ok := linear.Factor(c)
	if !ok {
		return Deliverer{}, ErrCorrelations
	}
	for i, s := range sigmas {
		for j := range i + 1 {
			d.by[i][j] = s * l.At(i, j)
		}
	}
	return d, nil
}

// Deviations returns the deviations of a delivery in SI units and boards, in the order of Deviates.
func (d Deliverer) Deviations(z Deviates) [VariedCount]float64 {
	var x [VariedCount]float64
	for i := range x {
		for j := range i + 1 {
			x[i] += d.by[i][j] * z[j]
		}
	}
	if i := VariedPhase; d.even && d.by[i][i] != 0 {
		// The share of deviates below this one is uniformly distributed.
		x[i] = 2 * math.Pi * (shareBelow(z[i]) - 0.5)
	}
	return x
}

// shareBelow returns the normal distribution function within 10⁻⁷, by formula 7.1.26 of Abramowitz and
// Stegun, Handbook of Mathematical Functions, for erf (z/√2).
func shareBelow(z float64) float64 {
	x := math.Abs(z) / math.Sqrt2
	t := 1 / (1 + 0.3275911*x)
	p := t * (0.254829592 + t*(-0.284496736+t*(1.421413741+t*(-1.453152027+t*1.061405429))))
	beyond := p * portable.Exp(-x*x) / 2
	if z < 0 {
		return beyond
	}
	return 1 - beyond
}

// LeastSpeed is the speed to which slower draws are raised: a ball just reaches the pins with it. MostTilt is
// the largest axis tilt: an upright axis has no axis rotation.
const (
	LeastSpeed = 1.0                  // m/s
	MostTilt   = 89 * math.Pi / 180.0 // rad
)

// Delivery returns the release with the deviations of z. Impossible values become the nearest possible ones:
// a laydown beside the lane its edge board, a negative rev rate 0.
func (d Deliverer) Delivery(z Deviates) physics.Release {
	x := d.Deviations(z)
	r := d.about
	r.Laydown = min(max(r.Laydown+x[VariedLaydown], 1), lane.Boards)
	r.Angle += x[VariedAngle]
	r.Speed = max(r.Speed+x[VariedSpeed], min(LeastSpeed, r.Speed))
	r.RevRate = max(r.RevRate+x[VariedRevRate], 0)
	r.AxisRotation += x[VariedAxisRotation]
	r.AxisTilt = min(max(r.AxisTilt+x[VariedAxisTilt], -MostTilt), MostTilt)
	r.Phase += x[VariedPhase]
	return r
}

// Sigmas returns the standard deviations in the order of Deviates.
func (r Repeatability) Sigmas() [VariedCount]float64 {
	phase := r.Phase
	if r.EvenPhase {
		phase = 2 * math.Pi / math.Sqrt(12)
	}
	return [VariedCount]float64{r.Laydown, r.Angle, r.Speed, r.RevRate, r.AxisRotation, r.AxisTilt, phase}
}

// Deviating lists the quantities in which deliveries deviate.
func (r Repeatability) Deviating() (list []Varied) {
	for i, sigma := range r.Sigmas() {
		if sigma != 0 {
			list = append(list, Varied(i))
		}
	}
	return list
}

// Deviated returns the release with deviations x, in the order of Deviates.
func Deviated(r physics.Release, x [VariedCount]float64) physics.Release {
	d := Deliverer{about: r}
	var z Deviates
	for i := range x {
		if x[i] != 0 {
			d.by[i][i], z[i] = x[i], 1
		}
	}
	return d.Delivery(z)
}

// Counts reports which deviates have an effect.
func (d Deliverer) Counts() (list [VariedCount]bool) {
	for j := range list {
		for i := range list {
			list[j] = list[j] || d.by[i][j] != 0
		}
	}
	return list
}

// About returns the deliverer about another release.
func (d Deliverer) About(to physics.Release) Deliverer {
	d.about = to
	return d
}

// Without returns the deliverer without the deviation of one quantity.
func (d Deliverer) Without(v Varied) Deliverer {
	d.by[v] = [VariedCount]float64{}
	return d
}
