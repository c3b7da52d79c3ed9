package studies

import (
	"math"
	"slices"

	"lanesim/ball"
	"lanesim/internal/portable"
	"lanesim/lane"
)

// AssumedValue is a constant of lanes or balls that is not well known, with the range in which it may lie.
// The range is assumed, too.
type AssumedValue struct {
	// Key is the scenario's field of the value.
	Key string

	// Low and High are the ends of the range, in SI.
	Low, High float64

	// Uniform is set if the value is distributed uniformly between the ends; otherwise its logarithm is.
	Uniform bool
}

// assumedValues lists the values of lanes before those of balls; laneSlots and ballSlots have the same order.
var assumedValues = [...]AssumedValue{
	{Key: "lane.friction.film", Low: 0.012, High: 0.04},
	{Key: "lane.friction.dry", Low: 0.15, High: 0.30},
	{Key: "lane.friction.entrained", Low: 0.2, High: 1},
	{Key: "lane.roughness", Low: 0.05e-6, High: 0.8e-6},
	{Key: "ball.film_memory.pick_up", Low: 0.01, High: 0.25},
	{Key: "ball.film_memory.give_back", Low: 0.01, High: 0.8},
	{Key: "ball.film_memory.contact_width", Low: 3e-3, High: 12e-3},
	{Key: "ball.contact_radius", Low: 0, High: 4e-3, Uniform: true},
}

// AssumedValues lists the assumed values with which conclusions are tried.
func AssumedValues() []AssumedValue { return slices.Clone(assumedValues[:]) }

// At returns the value at a share of the range, from 0 to 1.
func (v AssumedValue) At(share float64) float64 {
	if v.Uniform {
		return v.Low + (v.High-v.Low)*share
	}
	return v.Low * portable.Pow(v.High/v.Low, share)
}

// DefaultAssumedSets is the number of sets of assumed values with which
// conclusions are tried.
const DefaultAssumedSets = 24

// AssumedSet is a choice of all assumed values, in the order of [AssumedValues]
// and in SI.
type AssumedSet [len(assumedValues)]float64

// AssumedSets returns n sets that fill the ranges evenly: points 1 … n of the Halton sequence (Halton, Numer.
// Math. 2, 84, 1960) with the first prime numbers as bases.
func AssumedSets(n int) []AssumedSet {
	sets := make([]AssumedSet, n)
	for j, v := range assumedValues {
		sequence := NewHalton(j, 0)
		for k := range sets {
			sets[k][j] = v.At(sequence.At(uint64(k + 1)))
		}
	}
	return sets
}

// slot is the place of an assumed value in a lane or ball.
type slot struct {
	value *float64
	kept  bool // the value is measured or has no influence
	most  float64
}

const (
	laneValues = 4
	ballValues = len(assumedValues) - laneValues
)

func laneSlots(l *lane.Lane) [laneValues]slot {
	f, m := &l.Friction, l.Measured
	other := f.Law != lane.Mixed
	return [...]slot{
		{&f.Film, m.Film || other, math.Inf(1)},
		{&f.Dry, m.Dry || other, math.Inf(1)},
		{&f.Entrained, m.Entrained || other, 1},
		{&l.Roughness, m.Roughness || other, math.Inf(1)},
	}
}

func ballSlots(b *ball.Ball) [ballValues]slot {
	f, m := &b.Memory, b.Measured
	return [...]slot{
		{&f.PickUp, m.PickUp, 1},
		{&f.GiveBack, m.GiveBack, 1},
		{&f.ContactWidth, m.ContactWidth, math.Inf(1)},
		{&b.ContactRadius, m.ContactRadius, math.Inf(1)},
	}
}

// Lanes puts the set's values into lanes. Measured values stay. Where lanes differ in a value, the first gets
// the set's and the others keep their ratio to it; a share is at most 1.
func (a AssumedSet) Lanes(lanes ...*lane.Lane) {
	var slots [][laneValues]slot
	for _, l := range lanes {
		slots = append(slots, laneSlots(l))
	}
	for j := range laneValues {
		a.apply(j, func(i int) slot { return slots[i][j] }, len(slots))
	}
}

// Balls puts the set's values into balls, as Lanes does into lanes. A value of 0, which turns pivot friction
// or the exchange of oil off, stays.
func (a AssumedSet) Balls(balls ...*ball.Ball) {
	var slots [][ballValues]slot
	for _, b := range balls {
		slots = append(slots, ballSlots(b))
	}
	for j := range ballValues {
		a.apply(laneValues+j, func(i int) slot { return slots[i][j] }, len(slots))
	}
}

// Pointers returns pointers to a part of each element of a list, for [AssumedSet.Lanes] and
// [AssumedSet.Balls].
func Pointers[T, U any](list []T, part func(*T) *U) []*U {
	all := make([]*U, len(list))
	for i := range list {
		all[i] = part(&list[i])
	}
	return all
}

// apply puts the set's j-th value into n slots.
func (a AssumedSet) apply(j int, at func(int) slot, n int) {
	first := 0.0
	for i := range n {
		s := at(i)
		switch own := *s.value; {
		case s.kept || own == 0:
		case first == 0 || own == first:
			first, *s.value = own, a[j]
		default:
			*s.value = min(a[j]*(own/first), s.most)
		}
	}
}

// Between returns the setup with assumed values interpolated: share 0 gives those of from, share 1 its own.
func (s Setup) Between(from Setup, share float64) Setup {
	slots := func(s *Setup) []slot {
		l, b := laneSlots(&s.Lane), ballSlots(&s.Ball)
		return append(l[:], b[:]...)
	}
	old := slots(&from)
	for j, v := range slots(&s) {
		*v.value = assumedValues[j].between(*old[j].value, *v.value, share)
	}
	return s
}

// between interpolates the value: share 0 gives from, share 1 gives to.
func (v AssumedValue) between(from, to, share float64) float64 {
	if v.Uniform || from <= 0 || to <= 0 {
		return from + share*(to-from)
	}
	return from * portable.Pow(to/from, share)
}
