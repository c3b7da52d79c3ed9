package compare_test

import (
	"math"
	"testing"

	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/compare"
	"lanesim/studies/internal/usual"
	"lanesim/units"
)

// The entry with a missed line is the mean of shots thrown with it, and the smoother shot is the one whose
// entries lie closer together.
func TestMisses(t *testing.T) {
	steady := laid(t, 3.4, 0.03)
	wild := steady
	wild.Lane = usual.Crowned(t, 42, 27, 1.5)
	deliveries := []studies.Undrilled{steady, wild}
	result := compared(t, steady, wild, steady)
	for i, d := range deliveries {
		b, _, err := d.Specification.Drill(d.PAP, d.Release.Hand, d.Grip)
		if err != nil {
			t.Fatal(err)
		}
		entry := func(by float64) float64 {
			sum := 0.0
			for k := range compare.Phases {
				r := d.Release
				aimed := math.Tan(r.Angle) - by*0.0254*41.5/39/(15*units.Foot)
				r.Angle, r.Phase = math.Atan(aimed), 2*math.Pi*float64(k)/compare.Phases
				shot := usual.Throw(t, physics.NewThrower(), d.Lane, b, r, studies.ForManyShots(physics.Settings{}))
				sum += shot.EntryBoard()
			}
			return sum / compare.Phases
		}
		got := result.Shots[i].Misses
		for _, v := range []struct{ got, by float64 }{{got.Outside, -1}, {got.Inside, 1}} {
			if want := entry(v.by); math.Abs(v.got-want) > 0.02 {
				t.Errorf("shot %d: missed by %g it enters on board %v, not %v", i, v.by, v.got, want)
			}
		}
	}
	near, far := result.Shots[0], result.Shots[1]
	if r, s := near.Misses.Range(near.Shot.EntryBoard()), far.Misses.Range(far.Shot.EntryBoard()); !(r+1 < s) {
		t.Fatalf("entries %v boards apart on the house pattern and %v on the flat one", r, s)
	}
	for pair, want := range []int{1, 0, -1} { // steady and wild, steady and itself, wild and steady
		if got := result.Smoother(result.Pairs[pair]); got != want {
			t.Errorf("pair %d: the smoother is %d, not %d", pair, got, want)
		}
	}
}

// A miss into the gutter has no entry, and then neither shot is the smoother.
func TestMissesIntoTheGutter(t *testing.T) {
	d, other := laid(t, 3.4, 0.03), laid(t, 6, 0.03)
	d.Release = studies.OverArrows(d.Release, 5, 2.5) // over the dry boards, which turn it across the lane
	result := compared(t, d, other)
	if m := result.Shots[0].Misses; !math.IsNaN(m.Inside) || !math.IsNaN(m.Range(17.5)) || result.Smoother(result.Pairs[0]) != 0 {
		t.Errorf("%+v", m)
	}
}
