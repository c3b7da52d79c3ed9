package oilring_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"lanesim/ball"
	"lanesim/ball/oilring"
	"lanesim/units"
)

// ringRadius is the radius in m of a ball of the trade's common size.
const ringRadius = 8.58 * units.Inch / 2

// ringAt returns n points of the ring of a PAP and a tilt, evenly spread over
// an arc in rad from a start: the circle PAP·p = −sin β.
func ringAt(pap ball.PAP, tilt, start, arc float64, n int) []ball.SurfacePoint {
	axis := ball.SurfacePoint(pap).Direction(ringRadius)
	first := r3.Unit(r3.Cross(axis, r3.Vec{X: 0.1, Y: -0.3, Z: 1}))
	second := r3.Cross(axis, first)
	points := make([]ball.SurfacePoint, n)
	for i := range points {
		sin, cos := math.Sincos(start + arc*float64(i)/float64(n))
		around := r3.Add(r3.Scale(cos, first), r3.Scale(sin, second))
		v := r3.Add(r3.Scale(-math.Sin(tilt), axis), r3.Scale(math.Cos(tilt), around))
		points[i] = ball.SurfacePointOf(v, ringRadius)
	}
	return points
}

// misread moves every point by a normal error with the standard deviation
// sigma in m along each of two tangents.
func misread(points []ball.SurfacePoint, sigma float64, random *rand.Rand) []ball.SurfacePoint {
	out := make([]ball.SurfacePoint, len(points))
	for i, p := range points {
		v := p.Direction(ringRadius)
		off := r3.Vec{X: random.NormFloat64(), Y: random.NormFloat64(), Z: random.NormFloat64()}
		off = r3.Sub(off, r3.Scale(r3.Dot(off, v), v))
		out[i] = ball.SurfacePointOf(r3.Add(v, r3.Scale(sigma/ringRadius, off)), ringRadius)
	}
	return out
}

func TestSurfacePointsGoThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := ball.SurfacePoint{
			Over: rapid.Float64Range(-3, 3).Draw(t, "over") * ringRadius,
			Up:   rapid.Float64Range(-1.5, 1.5).Draw(t, "up") * ringRadius,
		}
		back := ball.SurfacePointOf(p.Direction(ringRadius), ringRadius)
		// At 86° up rounding is magnified 1/cos = 14 times.
		const bound = 1e-14
		if math.Abs(back.Over-p.Over) > bound || math.Abs(back.Up-p.Up) > bound {
			t.Errorf("%v came back as %v", p, back)
		}
	})
}

// A PAP's direction is the one that the layout gives it, for either hand.
func TestSurfacePointIsALayoutsPAP(t *testing.T) {
	pap := ball.PAP{Over: 4.75 * units.Inch, Up: -0.75 * units.Inch}
	for _, hand := range []ball.Hand{ball.Right, ball.Left} {
		want := ball.Layout{}.Frame(pap, hand, ringRadius).PAP
		if hand == ball.Left {
			want.Y = -want.Y
		}
		if got := ball.SurfacePoint(pap).Direction(ringRadius); r3.Norm(r3.Sub(got, want)) > 1e-15 {
			t.Errorf("%v: %v, want %v", hand, got, want)
		}
	}
}

func TestExactRingGivesItsAxisBack(t *testing.T) {
	worst := 0.0
	rapid.Check(t, func(t *rapid.T) {
		pap := ball.PAP{
			Over: rapid.Float64Range(0.5, 6).Draw(t, "over") * units.Inch,
			Up:   rapid.Float64Range(-3, 3).Draw(t, "up") * units.Inch,
		}
		tilt := rapid.Float64Range(-60, 80).Draw(t, "tilt") * units.Degree
		arc := rapid.Float64Range(120, 360).Draw(t, "arc") * units.Degree
		n := rapid.IntRange(3, 12).Draw(t, "points")
		ring, err := oilring.Fit(ringAt(pap, tilt, rapid.Float64Range(0, 6).Draw(t, "start"), arc, n), ringRadius, 1e-5)
		if err != nil {
			t.Fatal(err)
		}
		off := max(math.Abs(ring.PAP.Over-pap.Over), math.Abs(ring.PAP.Up-pap.Up), math.Abs(ring.Tilt-tilt)*ringRadius, ring.Residual)
		worst = max(worst, off)
		// Rounding of 1e-16 m, magnified by arcs of a small ring, and the
		// fit's last step.
		if off > 1e-12 {
			t.Errorf("over %g up %g m tilt %g: got %+v", pap.Over, pap.Up, tilt, ring)
		}
		if slices.Contains(ring.Warnings, oilring.OffCircle) {
			t.Errorf("exact points warned of: %v", ring.Warnings)
		}
	})
	t.Logf("off by at most %.2g m", worst)
}

// Rings with points misread by 1 mm: the truth lies within one and two standard
// deviations as often as a normal error does, 68.3 and 95.4 % of the time.
func TestRingUncertaintyIsHonest(t *testing.T) {
	const trials = 2000
	for _, c := range []struct {
		name    string
		tilt    float64 // degrees
		arc     float64 // degrees
		n       int
		warning bool // of a short arc
	}{
		{"three points", 13, 360, 3, false},
		{"six points", 13, 360, 6, false},
		{"spinner", 60, 360, 8, false},
		{"negative tilt", -8, 360, 5, false},
		{"half a ring", 15, 180, 8, false},
		{"short arc", 15, 70, 8, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			random := rand.New(rand.NewPCG(7, 11))
			pap, tilt := ball.PAP{Over: 4.9 * units.Inch, Up: 0.6 * units.Inch}, c.tilt*units.Degree
			points := ringAt(pap, tilt, 1, c.arc*units.Degree, c.n)
			var within [3][2]int
			var mean [3]float64
			warned := 0
			for range trials {
				ring, err := oilring.Fit(misread(points, 1e-3, random), ringRadius, 0)
				if err != nil {
					t.Fatal(err)
				}
				if slices.Contains(ring.Warnings, oilring.PoorSpread) {
					warned++
				}
				for i, v := range [3][2]float64{
					{ring.PAP.Over - pap.Over, ring.OverError()},
					{ring.PAP.Up - pap.Up, ring.UpError()},
					{ring.Tilt - tilt, ring.TiltError()},
				} {
					mean[i] += v[1] / trials
					if math.Abs(v[0]) < v[1] {
						within[i][0]++
					}
					if math.Abs(v[0]) < 2*v[1] {
						within[i][1]++
					}
				}
			}
			t.Logf("mean ±: over %.2f mm, up %.2f mm, tilt %.2f°; warned %d times", mean[0]*1e3, mean[1]*1e3, mean[2]/units.Degree, warned)
			for i, name := range []string{"over", "up", "tilt"} {
				for k, want := range []float64{0.6827, 0.9545} {
					share := float64(within[i][k]) / trials
					t.Logf("%s within %dσ: %.1f %%", name, k+1, 100*share)
					// Four standard deviations of a count, and 1 % for the departure from a
					// normal distribution.
					if math.Abs(share-want) > 4*math.Sqrt(want*(1-want)/trials)+0.01 {
						t.Errorf("%s within %dσ %.1f %% of the time, want %.1f", name, k+1, 100*share, 100*want)
					}
				}
			}
			if (warned == trials) != c.warning || (warned > 0) != c.warning {
				t.Errorf("warned of poor spread %d times of %d", warned, trials)
			}
		})
	}
}

// Evenly spread points: σ_axis = σ √(2/n) and σ_tilt = σ/√n, and the PAP's
// errors are those of the axis.
func TestRingUncertaintyInClosedForm(t *testing.T) {
	const n, sigma = 12, 0.8e-3
	pap := ball.PAP{Over: 5 * units.Inch, Up: 1 * units.Inch}
	ring, err := oilring.Fit(ringAt(pap, 0.2, 0.3, 2*math.Pi, n), ringRadius, sigma)
	if err != nil {
		t.Fatal(err)
	}
	axis := sigma * math.Sqrt(2.0/n)
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"tilt", ring.TiltError(), sigma / ringRadius / math.Sqrt(n)},
		{"up", ring.UpError(), axis},
		{"over", ring.OverError(), axis / math.Cos(pap.Up/ringRadius)},
	} {
		if math.Abs(c.got/c.want-1) > 1e-9 {
			t.Errorf("%s ± %g, want %g", c.name, c.got, c.want)
		}
	}
}

// The opposite points of a ring's have the same axis and lie on the other side
// of its equator, so that the tilt has the other sign.
func TestRingSideDecidesTheTiltsSign(t *testing.T) {
	pap, tilt := ball.PAP{Over: 5 * units.Inch, Up: 0.5 * units.Inch}, 15*units.Degree
	points := ringAt(pap, tilt, 0, 2*math.Pi, 6)
	through := make([]ball.SurfacePoint, len(points))
	for i, p := range points {
		through[i] = ball.SurfacePointOf(r3.Scale(-1, p.Direction(ringRadius)), ringRadius)
	}
	near, err := oilring.Fit(through, ringRadius, 0)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(near.Tilt+tilt) > 1e-9 || math.Abs(near.PAP.Over-pap.Over) > 1e-9 {
		t.Errorf("a ring on the PAP's side: %+v", near)
	}
}
