package ball

import (
	"math"
	"math/rand/v2"
	"testing"

	"lanesim/internal/vector"
	"lanesim/units"

	"gonum.org/v1/gonum/spatial/r3"
)

func of[T any](v T) *T { return &v }

// boxed is an asymmetric ball with a box.
func boxed(top, pinOut float64) Specification {
	s := asymmetric()
	s.Box = &Box{TopWeight: units.Given(top), PinOut: units.Given(pinOut)}
	return s
}

// An ounce at the surface is an ounce of static weight toward it.
func TestAnOunceAtTheSurface(t *testing.T) {
	s := boxed(units.Ounce, 0)
	s.Box.PinOut, s.Box.CG = units.Optional{}, &PAP{Over: 2 * units.Inch, Up: -1 * units.Inch}
	for _, hand := range []Hand{Right, Left} {
		undrilled, _ := NewGrip(Undrilled)
		b, d, err := s.Drill(DefaultPAP(), hand, undrilled)
		if err != nil || !d.WeightsKnown {
			t.Fatal(err)
		}
		radius := s.Diameter / 2
		up, over := 1*units.Inch/radius, 2*units.Inch/radius
		want := StaticWeights{Side: math.Cos(up) * math.Sin(over), FingerThumb: -math.Sin(up), Top: math.Cos(up) * math.Cos(over)}
		if hand == Left {
			want.Side = -want.Side
		}
		got := d.After.Static
		for _, e := range []float64{got.Side/units.Ounce - want.Side, got.FingerThumb/units.Ounce - want.FingerThumb, got.Top/units.Ounce - want.Top} {
			if math.Abs(e) > 1e-12 {
				t.Errorf("%s hand: %+v oz, want %+v", hand, got, want)
			}
		}
		// The moment of the whole ball about its middle is that of the ounce.
		if moment := b.Mass * math.Sqrt(dot(b.Offset, b.Offset)); math.Abs(moment-units.Ounce*radius) > 1e-12*moment {
			t.Errorf("moment of %g kg m, want %g", moment, units.Ounce*radius)
		}
	}
}

// A straight hole's moment by the textbook: with z₀ where its bottom is,
// ∫z dm = ρ π (r² (R² − z₀²)/2 − r⁴/4), its mass ρ (2π/3 (R³ − (R² − r²)^(3/2)) − π r² z₀).
func TestAHoleTakesItsMassTimesItsDistance(t *testing.T) {
	s := boxed(3*units.Ounce, 2*units.Inch)
	g := DefaultGrip()
	for _, h := range []*Hole{g.Middle, g.Ring, g.Thumb} {
		h.Forward, h.Lateral, h.Insert = 0, 0, nil
	}
	g.Bridge = 1.5 * units.Inch // so that they do not run into each other
	_, d := mustDrill(t, s, Right, g)
	R := d.Radius
	sum := d.Before.Static
	for i, h := range d.Holes {
		r, z0 := h.Diameter/2, R-h.Depth
		mass := g.ShellDensity * (2*math.Pi/3*(R*R*R-math.Pow(R*R-r*r, 1.5)) - math.Pi*r*r*z0)
		moment := g.ShellDensity * math.Pi * (r*r*(R*R-z0*z0)/2 - r*r*r*r/4)
		w := d.Weights[i]
		if math.Abs(w.Removed/mass-1) > 1e-9 || w.PutBack != 0 {
			t.Errorf("%s: %g kg out, want %g", h.Name, w.Removed, mass)
		}
		want := r3.Scale(-moment/R, h.Mouth)
		off := r3.Sub(r3.Vec{X: w.Change.Top, Y: w.Change.Side, Z: w.Change.FingerThumb}, want)
		if r3.Norm(off) > 1e-6*moment/R {
			t.Errorf("%s changes the weights by %+v, want %+v", h.Name, w.Change, want)
		}
		sum = sum.Plus(w.Change)
	}
	if math.Abs(sum.Side-d.After.Static.Side)+math.Abs(sum.FingerThumb-d.After.Static.FingerThumb)+math.Abs(sum.Top-d.After.Static.Top) > 1e-12 {
		t.Errorf("the parts add up to %+v, not %+v", sum, d.After.Static)
	}
}

// Pitched holes with inserts, cut into cubes of 1/50, 1/100 and 1/200 in: the sums converge
// to the closed form, to within 0.05 % with the finest. The cubes cut by a wall leave an
// error like that of a lattice in a circle, which falls unevenly.
func TestHolesByCubes(t *testing.T) {
	s := boxed(3*units.Ounce, 2*units.Inch)
	g := DefaultGrip()
	g.Thumb.Forward, g.Thumb.Lateral = -0.25*units.Inch, 0.125*units.Inch
	g.Middle.Forward = 0.25 * units.Inch
	_, d := mustDrill(t, s, Right, g)
	for i, h := range d.Holes {
		c := d.Weights[i].Change
		want := r3.Vec{X: c.Top, Y: c.Side, Z: c.FingerThumb}
		var off []float64
		for _, parts := range []float64{50, 100, 200} {
			off = append(off, r3.Norm(r3.Sub(want, byCubes(h, g.ShellDensity, d.Radius, units.Inch/parts)))/r3.Norm(want))
		}
		t.Logf("%s: off by %.2e, %.2e, %.2e", h.Name, off[0], off[1], off[2])
		if off[0] > 0.01 || off[2] > 5e-4 || off[2] >= off[0] {
			t.Errorf("%s: %v kg, by cubes off by %v", h.Name, want, off)
		}
	}
}

// byCubes sums the change of the static weights by a hole over cubes.
func byCubes(h DrilledHole, shell, radius, cube float64) r3.Vec {
	var sum r3.Vec
	e1 := perpendicular(h.Axis)
	e2 := r3.Cross(h.Axis, e1)
	top := r3.Scale(radius, h.Mouth)
	n := int(h.Diameter/2/cube) + 2
	for i := -n; i <= n; i++ {
		for j := -n; j <= n; j++ {
			u, v := (float64(i)+0.31)*cube, (float64(j)+0.47)*cube
			across := math.Sqrt(u*u + v*v)
			if across > h.Diameter/2 {
				continue
			}
			line := r3.Add(top, r3.Add(r3.Scale(u, e1), r3.Scale(v, e2)))
			for z := -0.4*units.Inch + cube/2; z <= h.Depth; z += cube {
				p := r3.Add(line, r3.Scale(z, h.Axis))
				if r3.Dot(p, p) > radius*radius {
					continue
				}
				m := -shell
				if h.Insert != nil && z <= h.Insert.Length && across > h.Insert.Inner/2 {
					m += h.Insert.Density
				}
				sum = r3.Add(sum, r3.Scale(m*cube*cube*cube/radius, p))
			}
		}
	}
	return sum
}

// Hands mirror.
func TestFinishedWeightsMirror(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 20 {
		s := boxed(r.Float64()*4*units.Ounce, r.Float64()*4*units.Inch)
		s.Box.CGAngle = (r.Float64() - 0.5) * units.Degree * 40
		_, right := mustDrill(t, s, Right, DefaultGrip())
		_, left := mustDrill(t, s, Left, DefaultGrip())
		a, b := right.After.Static, left.After.Static
		if math.Abs(a.Side+b.Side)+math.Abs(a.FingerThumb-b.FingerThumb)+math.Abs(a.Top-b.Top) > 1e-13*units.Ounce*100 {
			t.Errorf("%+v and %+v", a, b)
		}
	}
}

func TestUnknownWeightsStayUnknown(t *testing.T) {
	s := boxed(3*units.Ounce, 2*units.Inch)
	s.Box.PinOut = units.Optional{}
	_, d, err := s.Drill(DefaultPAP(), Right, DefaultGrip())
	if err != nil || d.WeightsKnown {
		t.Errorf("known without the mark's place: %v", err)
	}
}

// The plan reaches the wanted weights within its limits; its grip, when drilled, gives the
// weights that it states.
func TestPlanWeights(t *testing.T) {
	s := boxed(3*units.Ounce, 2.5*units.Inch)
	s.Layout = &Layout{DrillingAngle: 70 * units.Degree, PinToPAP: 4.5 * units.Inch, VALAngle: 40 * units.Degree}
	_, d := mustDrill(t, s, Right, DefaultGrip())
	for _, means := range []Means{ByDepths, ByPitches} {
		want := StaticWeights{Side: d.After.Static.Side, FingerThumb: d.After.Static.FingerThumb + 0.04*units.Ounce, Top: d.After.Static.Top - 0.04*units.Ounce}
		s.Box.Wanted = &WantedWeights{FingerThumb: units.Given(want.FingerThumb), Top: units.Given(want.Top)}
		if means == ByPitches {
			s.Box.Wanted = &WantedWeights{FingerThumb: units.Given(want.FingerThumb)}
		}
		p, err := s.PlanWeights(DefaultPAP(), Right, DefaultGrip(), means)
		if err != nil {
			t.Fatal(err)
		}
		_, again := mustDrill(t, s, Right, p.Grip)
		t.Logf("missed by %.4f oz", p.Missed/units.Ounce)
		if off := math.Abs(again.After.Static.FingerThumb - p.Weights.FingerThumb); off > 1e-9 || p.Missed > 0.03*units.Ounce {
			t.Errorf("%d: %+v, drilled %+v, wanted %+v", means, p.Weights, again.After.Static, want)
		}
		s.Box.Wanted.Top = units.Given(9 * units.Ounce) // beyond reach
		p, err = s.PlanWeights(DefaultPAP(), Right, DefaultGrip(), means)
		if err != nil || p.Missed < units.Ounce {
			t.Errorf("%d: reached what cannot be: %+v, %v", means, p, err)
		}
		for i, h := range []*Hole{p.Grip.Middle, p.Grip.Ring, p.Grip.Thumb} {
			was := []*Hole{DefaultGrip().Middle, DefaultGrip().Ring, DefaultGrip().Thumb}[i]
			const rounding = 1e-12
			if h.Depth < shallowest-rounding || h.Depth > deepest+rounding || max(math.Abs(h.Forward), math.Abs(h.Lateral)) > mostTilted+rounding ||
				i < 2 && math.Abs(h.Lateral) < math.Abs(was.Lateral)-rounding {
				t.Errorf("%d: hole %+v is beyond the limits", means, *h)
			}
		}
	}
	s.Box.TopWeight = units.Optional{}
	if _, err := s.PlanWeights(DefaultPAP(), Right, DefaultGrip(), ByDepths); err == nil {
		t.Error("a plan for unknown weights")
	}
}

// The edge of a straight hole is a circle about its mouth: R asin(r/R) from it.
func TestToEdge(t *testing.T) {
	const R = 4.29 * units.Inch
	g := DefaultGrip()
	g.Thumb.Insert = nil
	holes := placed(t, g, Right, R)
	thumb := holes[2]
	out, in := r3.Vec{X: 1}, r3.Unit(r3.Add(thumb.Mouth, r3.Vec{X: 0.01, Y: 0.02}))
	for _, p := range []r3.Vec{out, in, {Y: 1}, {Z: 1}} {
		want := R * (vector.Angle(p, thumb.Mouth) - math.Asin(thumb.Diameter/2/R))
		if got := thumb.ToEdge(p, R); math.Abs(got-want) > 1e-8 {
			t.Errorf("%v: %g m, want %g", p, got, want)
		}
	}
	// A great circle through the mouth crosses the hole; one beside it passes at
	// the distance of the nearest point.
	var through, beside []r3.Vec
	for i := range 121 {
		sin, cos := math.Sincos(float64(i) * 3 * units.Degree)
		through = append(through, r3.Add(r3.Scale(cos, thumb.Mouth), r3.Scale(sin, r3.Vec{Y: 1})))
		beside = append(beside, r3.Vec{X: cos, Y: sin})
	}
	if d := thumb.TrackToEdge(through, R); d >= 0 {
		t.Errorf("a track over the hole is %g m from it", d)
	}
	want := R * (math.Asin(-thumb.Mouth.Z) - math.Asin(thumb.Diameter/2/R))
	if d := thumb.TrackToEdge(beside, R); math.Abs(d-want) > 1e-6 {
		t.Errorf("the midline is %g m from the thumb hole, want %g", d, want)
	}
}

// The wall between holes against a search over points of one of them: for usual grips,
// and for holes that cross each other above their bottoms, which lie apart.
func TestWallBetweenHoles(t *testing.T) {
	const R = 4.29 * units.Inch
	crossing := DefaultGrip()
	crossing.Middle.Lateral, crossing.Ring.Lateral = 1.2*units.Inch, -1.2*units.Inch
	crossing.Middle.Depth, crossing.Ring.Depth = 3.6*units.Inch, 3.6*units.Inch
	uneven := DefaultGrip() // the middle finger's hole ends beside the ring finger's
	uneven.Middle.Depth, uneven.Ring.Depth = 1.5*units.Inch, 3*units.Inch
	for name, g := range map[string]Grip{"usual": DefaultGrip(), "crossing": crossing, "uneven": uneven} {
		holes := placed(t, g, Right, R)
		for i, a := range holes {
			for _, b := range holes[:i] {
				got, best := WallBetween(a, b, R), math.Inf(1)
				e1 := perpendicular(a.Axis)
				e2 := r3.Cross(a.Axis, e1)
				for k := range 240 {
					sin, cos := math.Sincos(2 * math.Pi * float64(k) / 240)
					out := r3.Add(r3.Scale(cos, e1), r3.Scale(sin, e2))
					for _, share := range []float64{0, 0.5, 1} {
						for deep := range 61 {
							p := r3.Add(r3.Scale(R, a.Mouth), r3.Add(r3.Scale(a.Depth*float64(deep)/60, a.Axis), r3.Scale(share*a.Diameter/2, out)))
							best = min(best, r3.Norm(r3.Sub(p, b.nearestInside(p, R))))
						}
					}
				}
				if got > best+1e-7 || got < best-0.2e-3 {
					t.Errorf("%s, %s and %s: %g m, by points %g", name, a.Name, b.Name, got, best)
				}
				if back := WallBetween(b, a, R); math.Abs(back-got) > 1e-7 {
					t.Errorf("%s, %s and %s: %g m and %g", name, a.Name, b.Name, got, back)
				}
			}
		}
		if fingers := WallBetween(holes[0], holes[1], R); name == "crossing" && fingers > 1e-6 {
			t.Errorf("crossing holes are %g m apart", fingers)
		}
	}
}

// An insert of 3/4 in in a hole of 31/32 in takes 7/64 in from the span.
func TestFittedSpan(t *testing.T) {
	g := DefaultGrip()
	g.Thumb.Diameter, g.Thumb.Insert = 1.25*units.Inch, of(DefaultThumbInsert())
	middle, ring := g.Fitted()
	if want := (4.5 + 7.0/64 + 0.125) * units.Inch; math.Abs(middle-want) > 1e-15 || middle != ring {
		t.Errorf("fitted spans %g and %g m, want %g", middle, ring, want)
	}
	g.Thumb = nil
	if middle, ring = g.Fitted(); middle != 0 || ring != 0 {
		t.Error("spans without a thumb hole")
	}
}
