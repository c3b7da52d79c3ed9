package studies

import (
	"math"
	"math/bits"
)

// Mechanism names what makes two shots differ.
//
// Each shot is computed three times: in full; without oil on the track (its
// cover remembers none); and, still without, with the ball's inertia made equal
// in all directions, m k² with its RG k about the spin axis at release. With D
// the difference b − a under a model,
//
//	oil on the track     D(full) − D(no oil on the track)
//	axis migration       D(no oil on the track) − D(equal inertia)
//	RG about the axis    ½ [E(a, b) − E(a, a) + E(b, b) − E(b, a)]
//	other                D(equal inertia) − RG about the axis
//
// where E(x, y) is the shot of equal inertia with the layout, the drilling and
// the RGs of y's ball and everything else of x. The four add up to D(full), each
// changes its sign where a and b change places, and where the deliveries differ
// in the layout alone E(a, b) is E(b, b) and E(b, a) is E(a, a), so that `other`
// is nothing. With a mass centre beside the middle the third share also holds
// where the layout puts that.
type Mechanism string

// The mechanisms.
const (
	OilOnTrack      Mechanism = "oil_on_track"
	AxisMigration   Mechanism = "axis_migration"
	RGAboutAxis     Mechanism = "rg_about_axis"
	OtherMechanisms Mechanism = "other"
)

// Mechanisms lists the mechanisms in the order in which they are reported.
func Mechanisms() []Mechanism {
	return []Mechanism{OilOnTrack, AxisMigration, RGAboutAxis, OtherMechanisms}
}

// mechanisms shares the difference out by mechanism.
func (p plan) mechanisms(a, b variants) []Cause {
	full := b.full.readings.minus(a.full.readings)
	clean := b.clean.readings.minus(a.clean.readings)
	equal := b.centred.readings.minus(a.centred.readings)
	onA := p.swappedA.readings.minus(a.centred.readings)
	onB := b.centred.readings.minus(p.swappedB.readings)
	rg := onA.plus(onB).times(0.5)
	shares := []Cause{
		{string(OilOnTrack), full.minus(clean)},
		{string(AxisMigration), clean.minus(equal)},
		{string(RGAboutAxis), rg},
		{string(OtherMechanisms), equal.minus(rg)},
	}
	used := []*toss{a.full, b.full, a.clean, b.clean, a.centred, b.centred, p.swappedA, p.swappedB}
	return existing(shares, used)
}

// existing takes away numbers that would compare what cannot be compared: a
// share exists if all shots by which it is found have the event.
func existing(shares []Cause, used []*toss) []Cause {
	sum := Change{}
	for _, t := range used {
		sum = sum.plus(t.readings)
	}
	for i := range shares {
		shares[i].Change = shares[i].each(sum, func(x, there float64) float64 {
			if math.IsNaN(there) {
				return there
			}
			return x
		})
	}
	return shares
}

// inputs shares the difference out by input: Shapley values over the orders in
// which the inputs that differ can be swapped,
//
//	φᵢ = Σ_S |S|! (n − |S| − 1)! / n! [v(S ∪ i) − v(S)]
//
// where v(S) is the shot with the inputs S of b and the others of a (Shapley,
// "A value for n-person games", 1953). They add up to v(all) − v(none) = b − a.
func (p plan) inputs() ([]Cause, error) {
	n := len(p.differ)
	all := uint(len(p.mixes) - 1)
	var shares []Cause
	for i := range n {
		bit := uint(1) << i
		step := func(s uint) Change { return p.mixes[s|bit].readings.minus(p.mixes[s].readings) }
		var sum Change
		for s := uint(0); s <= all; s++ {
			// S and the rest without i have equal weights. Taken together they
			// are the same pair when a and b change places, so that the sum
			// changes nothing but its sign.
			rest := all &^ bit &^ s
			switch {
			case s&bit != 0 || rest < s:
				continue
			case rest == s:
				sum = sum.plus(step(s).times(weight(n, s)))
			default:
				sum = sum.plus(step(s).plus(step(rest)).times(weight(n, s)))
			}
		}
		shares = append(shares, Cause{string(p.differ[i]), sum})
	}
	for _, t := range p.mixes {
		if t.impossible != nil {
			return existing(shares, p.mixes), t.impossible
		}
	}
	return existing(shares, p.mixes), nil
}

// weight is |S|! (n − |S| − 1)! / n! = 1 / (n C(n − 1, |S|)).
func weight(n int, s uint) float64 {
	choose := 1
	for k := 1; k <= bits.OnesCount(s); k++ {
		choose = choose * (n - k) / k
	}
	return 1 / float64(n*choose)
}
