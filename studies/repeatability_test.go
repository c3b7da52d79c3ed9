package studies

import (
	"math"
	"testing"

	"lanesim/physics"

	"gonum.org/v1/gonum/stat"
)

// Ten thousand draws leave the mean within about 4/√n and the correlation
// within about 4/√n of what they come from.
const (
	manyDraws  = 10_000
	drawsError = 4.0 / 100
)

func TestDeliveriesHaveTheGivenDeviations(t *testing.T) {
	about := physics.Release{Laydown: 20, Angle: 0.04, Speed: 8, RevRate: 35, AxisRotation: 0.9, AxisTilt: 0.2}
	rep := Repeatability{Laydown: 0.5, Angle: 0.003, Speed: 0.1, RevRate: 1, AxisRotation: 0.03, AxisTilt: 0.02, Phase: 0.3,
		Correlations: []Correlation{{Between: [2]Varied{VariedLaydown, VariedAngle}, Is: 0.6}, {Between: [2]Varied{VariedRevRate, VariedSpeed}, Is: -0.4}}}
	d, err := rep.Deliverer(about)
	if err != nil {
		t.Fatal(err)
	}
	var all [VariedCount][]float64
	for k := range uint64(manyDraws) {
		r := d.Delivery(DrawDeviates(7, k))
		for i, x := range []float64{
			(r.Laydown - about.Laydown) / rep.Laydown, (r.Angle - about.Angle) / rep.Angle, (r.Speed - about.Speed) / rep.Speed,
			(r.RevRate - about.RevRate) / rep.RevRate, (r.AxisRotation - about.AxisRotation) / rep.AxisRotation, (r.AxisTilt - about.AxisTilt) / rep.AxisTilt,
			(r.Phase - about.Phase) / rep.Phase,
		} {
			all[i] = append(all[i], x)
		}
	}
	want := map[[2]Varied]float64{{VariedLaydown, VariedAngle}: 0.6, {VariedSpeed, VariedRevRate}: -0.4}
	for i := range all {
		mean, sd := stat.MeanStdDev(all[i], nil)
		if math.Abs(mean) > drawsError || math.Abs(sd-1) > drawsError {
			t.Errorf("%v: mean %.3f and standard deviation %.3f of what was asked, not 0 and 1", Varied(i), mean, sd)
		}
		for j := range i {
			c := stat.Correlation(all[j], all[i], nil)
			if w := want[[2]Varied{Varied(j), Varied(i)}]; math.Abs(c-w) > drawsError {
				t.Errorf("%v and %v: correlation %.3f, not %g", Varied(j), Varied(i), c, w)
			}
		}
	}
}

func TestDeliveriesFollowFromSeedAndNumberAlone(t *testing.T) {
	if DrawDeviates(1, 5) != DrawDeviates(1, 5) {
		t.Error("the same delivery was drawn differently")
	}
	seen := map[Deviates]bool{}
	for seed := range uint64(20) {
		for k := range uint64(20) {
			z := DrawDeviates(seed, k)
			if seen[z] {
				t.Fatalf("delivery %d of seed %d was drawn before", k, seed)
			}
			seen[z] = true
		}
	}
}

func TestMachinesDeliverAlike(t *testing.T) {
	about := physics.Release{Laydown: 20, Speed: 8, RevRate: 0, AxisRotation: 2}
	d, err := Repeatability{}.Deliverer(about)
	if err != nil {
		t.Fatal(err)
	}
	if r := d.Delivery(DrawDeviates(3, 9)); r != about {
		t.Errorf("delivered %+v, not %+v", r, about)
	}
}

func TestDeliveriesStayPossible(t *testing.T) {
	about := physics.Release{Laydown: 38, Speed: 2, RevRate: 1, AxisTilt: 1.4}
	d, err := Repeatability{Laydown: 20, Speed: 20, RevRate: 100, AxisTilt: 2}.Deliverer(about)
	if err != nil {
		t.Fatal(err)
	}
	for k := range uint64(1000) {
		r := d.Delivery(DrawDeviates(1, k))
		if r.Laydown < 1 || r.Laydown > 39 || r.Speed < LeastSpeed || r.RevRate < 0 || math.Abs(r.AxisTilt) > MostTilt {
			t.Fatalf("delivery %d is impossible: %+v", k, r)
		}
	}
}

func TestImpossibleCorrelationsAreRefused(t *testing.T) {
	pair := func(a, b Varied, is float64) Correlation { return Correlation{Between: [2]Varied{a, b}, Is: is} }
	for _, list := range [][]Correlation{
		{pair(VariedSpeed, VariedAngle, 1)},
		{pair(VariedSpeed, VariedAngle, 0.9), pair(VariedAngle, VariedLaydown, 0.9), pair(VariedSpeed, VariedLaydown, -0.9)},
	} {
		if _, err := (Repeatability{Correlations: list}).Deliverer(physics.Release{}); err != ErrCorrelations {
			t.Errorf("%v: error %v, not %v", list, err, ErrCorrelations)
		}
	}
}

// The share of deviates below one against the function in the library.
func TestShareBelow(t *testing.T) {
	for z := -5.0; z <= 5; z += 0.01 {
		if want := math.Erfc(-z/math.Sqrt2) / 2; math.Abs(shareBelow(z)-want) > 1e-7 {
			t.Errorf("%g below %g, want %g", shareBelow(z), z, want)
		}
	}
}

func TestSamplerDrawsTheDeviatesOfDeliveries(t *testing.T) {
	d := NewSampler()
	for k := range uint64(50) {
		if d.Deviates(k%3, k) != DrawDeviates(k%3, k) {
			t.Fatalf("delivery %d is drawn otherwise", k)
		}
	}
	if n := testing.AllocsPerRun(100, func() { d.Deviates(1, 2) }); n != 0 {
		t.Errorf("%g allocations for a delivery", n)
	}
}

func BenchmarkDeviates(b *testing.B) {
	b.ReportAllocs()
	sigmas := Repeatability{Laydown: 1, Angle: 0.005, Speed: 0.2, RevRate: 1.5, AxisRotation: 0.07, AxisTilt: 0.03}
	d, err := sigmas.Deliverer(physics.Release{Speed: 8, Laydown: 20})
	if err != nil {
		b.Fatal(err)
	}
	draws := NewSampler()
	for k := range b.N {
		d.Delivery(draws.Deviates(1, uint64(k)))
	}
}
