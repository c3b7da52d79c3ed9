package studies

import (
	"math"
	"reflect"
	"testing"

	"lanesim/ball"
	"lanesim/lane"

	"pgregory.net/rapid"
)

// Points of the sequence worked out by hand: 1 is 1/b in every base, and the
// digits of 6 and of 24 are mirrored at the point.
func TestAssumedSetsAreHaltonPoints(t *testing.T) {
	shares := map[int][8]float64{
		1: {1. / 2, 1. / 3, 1. / 5, 1. / 7, 1. / 11, 1. / 13, 1. / 17, 1. / 19},
		6: {3. / 8, 2. / 9, 6. / 25, 6. / 7, 6. / 11, 6. / 13, 6. / 17, 6. / 19}, // 110₂, 20₃, 11₅
		// 11000₂, 220₃, 44₅, 33₇, 22₁₁; then 1·13 + 11, 1·17 + 7 and 1·19 + 5.
		24: {3. / 32, 8. / 27, 24. / 25, 24. / 49, 24. / 121, 144. / 169, 120. / 289, 96. / 361},
	}
	sets := AssumedSets(DefaultAssumedSets)
	if len(sets) != 24 {
		t.Fatalf("%d sets", len(sets))
	}
	for k, share := range shares {
		for j, v := range AssumedValues() {
			want := v.Low * math.Exp(share[j]*math.Log(v.High/v.Low))
			if v.Uniform {
				want = v.Low + share[j]*(v.High-v.Low)
			}
			if got := sets[k-1][j]; math.Abs(got-want) > 1e-12*v.High {
				t.Errorf("set %d: %s is %v, not %v", k, v.Key, got, want)
			}
		}
	}
}

func TestAssumedValuesStayInTheirRanges(t *testing.T) {
	low, high := [8]float64{}, [8]float64{}
	for k, set := range AssumedSets(1000) {
		for j, v := range AssumedValues() {
			if !(set[j] >= v.Low && set[j] <= v.High) {
				t.Errorf("%s is %v", v.Key, set[j])
			}
			if k == 0 {
				low[j], high[j] = set[j], set[j]
			}
			low[j], high[j] = min(low[j], set[j]), max(high[j], set[j])
		}
	}
	for j, v := range AssumedValues() {
		if v.At(0) != v.Low || math.Abs(v.At(1)-v.High) > 1e-15*v.High {
			t.Errorf("%s runs from %v to %v", v.Key, v.At(0), v.At(1))
		}
		if low[j] > v.At(0.01) || high[j] < v.At(0.98) {
			t.Errorf("1000 sets of %s lie in %v to %v alone", v.Key, low[j], high[j])
		}
	}
}

// The defaults lie inside the ranges.
func TestDefaultsAreInTheRanges(t *testing.T) {
	l, b := lane.Default(), ball.Default()
	drilled, err := b.Prepare(ball.DefaultPAP(), ball.Right)
	if err != nil {
		t.Fatal(err)
	}
	ls, bs := laneSlots(&l), ballSlots(&drilled)
	for j, s := range append(ls[:], bs[:]...) {
		if v := AssumedValues()[j]; !(*s.value > v.Low && *s.value < v.High) {
			t.Errorf("%s is %v by default", v.Key, *s.value)
		}
	}
}

func TestSetsAreAppliedToAllButWhatIsMeasuredOrOff(t *testing.T) {
	set := AssumedSets(7)[6]
	a, b, c, fixed := lane.Default(), lane.Default(), lane.Default(), lane.Default()
	a.Measured = lane.Measured{Film: true}
	a.Friction.Film, b.Friction.Film, c.Friction.Film = 0.03, 0.02, 0.04
	c.Friction.Entrained = 1
	fixed.Friction = lane.Friction{Law: lane.Constant, Mu: 0.1, Film: 0.5}
	set.Lanes(&a, &b, &c, &fixed)
	for _, x := range []struct {
		name      string
		got, want float64
	}{
		{"measured film", a.Friction.Film, 0.03},
		{"first film", b.Friction.Film, set[0]},
		{"film of twice the first's", c.Friction.Film, 2 * set[0]},
		{"dry", a.Friction.Dry, set[1]},
		{"dry again", c.Friction.Dry, set[1]},
		{"share that ends at 1", c.Friction.Entrained, min(1, 2*set[2])},
		{"roughness", b.Roughness, set[3]},
		{"roughness without an influence", fixed.Roughness, lane.DefaultRoughness},
		{"film of another law", fixed.Friction.Film, 0.5},
	} {
		if x.got != x.want {
			t.Errorf("%s: %v, not %v", x.name, x.got, x.want)
		}
	}

	d, err := ball.Default().Prepare(ball.DefaultPAP(), ball.Right)
	if err != nil {
		t.Fatal(err)
	}
	e := d
	d.ContactRadius, e.Memory.GiveBack = 0, 0.5*d.Memory.GiveBack
	e.Measured.PickUp = true
	drilled := e
	pickUp := e.Memory.PickUp
	set.Balls(&d, &e)
	set.Balls(&drilled)
	for _, x := range []struct {
		name      string
		got, want float64
	}{
		{"pick-up", d.Memory.PickUp, set[4]},
		{"measured pick-up", e.Memory.PickUp, pickUp},
		{"measured pick-up, drilled", drilled.Memory.PickUp, pickUp},
		{"give-back", d.Memory.GiveBack, set[5]},
		{"half the give-back", e.Memory.GiveBack, set[5] / 2},
		{"give-back of one ball alone", drilled.Memory.GiveBack, set[5]},
		{"contact width", e.Memory.ContactWidth, set[6]},
		{"pivot friction that is off", d.ContactRadius, 0},
		{"contact radius", e.ContactRadius, set[7]},
	} {
		if x.got != x.want {
			t.Errorf("%s: %v, not %v", x.name, x.got, x.want)
		}
	}
}

// Lanes that are alike stay alike to the last bit.
func TestAppliedSetsKeepLikeLanesAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := lane.Default()
		a.Friction.Film = rapid.Float64Range(0.001, 0.2).Draw(t, "film")
		b := a
		AssumedSets(24)[rapid.IntRange(0, 23).Draw(t, "set")].Lanes(&a, &b)
		if !reflect.DeepEqual(a, b) {
			t.Fatalf("%+v\n%+v", a, b)
		}
	})
}
