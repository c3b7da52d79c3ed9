package compare

import (
	"errors"
	"math"
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
// where the layout puts that. All are means over the phases.
type Mechanism string

// The mechanisms.
const (
	OilOnTrack      Mechanism = "oil_on_track"
	AxisMigration   Mechanism = "axis_migration"
	RGAboutAxis     Mechanism = "rg_about_axis"
	OtherMechanisms Mechanism = "other"
)

// causes shares the difference out by mechanism and by input. The error says which
// balls could not be made.
func (p plan) causes(a, b variants) (mechanisms, inputs []Cause, impossible error) {
	mechanisms, first := p.mechanisms(a, b)
	inputs, second := p.inputs()
	return mechanisms, inputs, errors.Join(first, second)
}

// mechanisms shares the difference out by mechanism. Where a ball with the other's
// layout and RGs cannot be made, the RG's share is that of one direction alone.
func (p plan) mechanisms(a, b variants) ([]Cause, error) {
	full := b.full.mean().minus(a.full.mean())
	clean := b.clean.mean().minus(a.clean.mean())
	equal := b.centred.mean().minus(a.centred.mean())
	var rg Change
	onA, onB := p.swappedA.impossible, p.swappedB.impossible
	if onA == nil {
		rg = rg.plus(p.swappedA.mean().minus(a.centred.mean()))
	}
	if onB == nil {
		rg = rg.plus(b.centred.mean().minus(p.swappedB.mean()))
	}
	if onA == nil && onB == nil {
		rg = rg.times(0.5)
	}
	return []Cause{
		{string(OilOnTrack), full.minus(clean)},
		{string(AxisMigration), clean.minus(equal)},
		{string(RGAboutAxis), rg},
		{string(OtherMechanisms), equal.minus(rg)},
	}, errors.Join(onA, onB)
}

// inputs shares the difference out by input: the mean effect of an input over the
// orders in which those that differ can be swapped,
//
//	φᵢ = Σ_S n(S) m(S ∪ i) / n(all) [v(S ∪ i) − v(S)]
//
// where v(S) is the shot with the inputs S of b and the others of a, n(S) the
// number of orders in which S can be swapped and m(S) that of the rest. With
// all balls possible that is n = |S|!, the Shapley value (Shapley, "A value for
// n-person games", 1953); orders by way of a ball that cannot be made are left
// out. The shares add up to v(all) − v(none) = b − a. Without any order left
// they are equal.
func (p plan) inputs() ([]Cause, error) {
	n := len(p.differ)
	all := uint(len(p.mixes) - 1)
	to, from := p.orders()
	var impossible []error
	values := make([]Change, len(p.mixes))
	for s, t := range p.mixes {
		if t.impossible != nil {
			impossible = append(impossible, t.impossible)
			continue
		}
		values[s] = t.mean()
	}
	var shares []Cause
	for i := range n {
		bit := uint(1) << i
		step := func(s uint) Change {
			orders := to[s] * from[s|bit]
			if orders == 0 {
				return Change{}
			}
			return values[s|bit].minus(values[s]).times(orders / to[all])
		}
		var sum Change
		for s := uint(0); s <= all; s++ {
			// S and the rest without i change places when a and b do. Taken
			// together they are the same pair, so that the sum changes nothing
			// but its sign.
			switch rest := all &^ bit &^ s; {
			case s&bit != 0 || rest < s:
			case rest == s:
				sum = sum.plus(step(s))
			default:
				sum = sum.plus(step(s).plus(step(rest)))
			}
		}
		if to[all] == 0 {
			sum = values[all].minus(values[0]).times(1 / float64(n))
		}
		shares = append(shares, Cause{string(p.differ[i]), sum})
	}
	return shares, errors.Join(impossible...)
}

// orders counts in how many orders the inputs of each mix can be swapped, and in
// how many those that remain, by way of balls that can be made.
func (p plan) orders() (to, from []float64) {
	size := len(p.mixes)
	to, from = make([]float64, size), make([]float64, size)
	to[0], from[size-1] = 1, 1
	for s := 1; s < size; s++ {
		rest := size - 1 - s
		for i := range p.differ {
			if bit := 1 << i; s&bit != 0 {
				to[s] += to[s^bit]
				from[rest] += from[rest|bit]
			}
		}
		if p.mixes[s].impossible != nil {
			to[s] = 0
		}
		if p.mixes[rest].impossible != nil {
			from[rest] = 0
		}
	}
	return to, from
}

// leastCauseShare is the share of a difference below which a cause does not matter.
const leastCauseShare = 0.05

// Matters reports whether a cause makes up so much of one of a pair's numbers that it
// deserves a word.
func (p Pair) Matters(c Cause, of func(Change) float64) bool {
	d := max(math.Abs(of(p.Difference)), of(noDifference))
	return math.Abs(of(c.Change)) > max(leastCauseShare*d, of(noDifference), of(p.Error))
}
