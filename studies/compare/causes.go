package compare

import (
	"errors"
	"math"
)

// Mechanism is a physical cause of the difference between two shots.
//
// Each shot is computed with three models: in full; without oil on the track; and without oil on the track
// and with equal moments of inertia, m k² with the RG k about the spin axis at release. With D the difference
// b − a under a model,
//
//	oil on the track     D(full) − D(no oil on the track)
//	axis migration       D(no oil on the track) − D(equal inertia)
//	RG about the axis    ½ [E(a, b) − E(a, a) + E(b, b) − E(b, a)]
//	other                D(equal inertia) − RG about the axis
//
// where E(x, y) is the shot of equal inertia with the layout, the drilling and the RGs of y's ball and
// everything else of x. The four add up to D(full), and each changes its sign if a and b are exchanged. If
// the deliveries differ only in the layout, E(a, b) is E(b, b) and E(b, a) is E(a, a), so that `other` is
// zero. The third share includes the effect of a mass centre that the layout moves. All are means over the
// phases.
type Mechanism string

// The mechanisms.
const (
	OilOnTrack      Mechanism = "oil_on_track"
	AxisMigration   Mechanism = "axis_migration"
	RGAboutAxis     Mechanism = "rg_about_axis"
	OtherMechanisms Mechanism = "other"
)

// causes divides the difference by mechanism and by input. The error names balls that are impossible.
func (p plan) causes(a, b variants) (mechanisms, inputs []Cause, impossible error) {
	mechanisms, first := p.mechanisms(a, b)
	inputs, second := p.inputs()
	return mechanisms, inputs, errors.Join(first, second)
}

// mechanisms divides the difference by mechanism. If one of the balls with the other's layout and RGs is
// impossible, the share of the RG is that of one exchange.
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

// inputs divides the difference by input: the mean effect of an input over the orders in which the differing
// inputs can be swapped,
//
//	φᵢ = Σ_S n(S) m(S ∪ i) / n(all) [v(S ∪ i) − v(S)]
//
// where v(S) is the shot with the inputs S of b and the others of a, n(S) the number of orders in which S can
// be swapped and m(S) that of the rest. If all balls are possible, n = |S|! and this is the Shapley value
// (Shapley, "A value for n-person games", 1953); orders through an impossible ball are left out. The shares
// add up to v(all) − v(none) = b − a. If no order is left they are equal.
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
			// If a and b are exchanged, so are S and the rest without i. Adding them as a pair makes the sum
			// change only its sign.
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

// orders counts the orders in which the inputs of each mix can be swapped, and those for the remaining
// inputs, through possible balls.
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

// leastCauseShare is the share of a difference below which a cause is not mentioned.
const leastCauseShare = 0.05

// Matters reports whether a cause is large enough, in one of a pair's numbers, to be mentioned.
func (p Pair) Matters(c Cause, of func(Change) float64) bool {
	d := max(math.Abs(of(p.Difference)), of(noDifference))
	return math.Abs(of(c.Change)) > max(leastCauseShare*d, of(noDifference), of(p.Error))
}
