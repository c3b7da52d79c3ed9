package ball

import (
	"math"
	"testing"

	"lanesim/internal/vector"
	"lanesim/units"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// asymmetric is a ball with three different moments.
func asymmetric() Specification {
	s := Default()
	s.RG, s.Differential, s.IntermediateDifferential = 2.49*units.Inch, 0.048*units.Inch, 0.012*units.Inch
	s.Layout = &Layout{DrillingAngle: 60 * units.Degree, PinToPAP: 5 * units.Inch, VALAngle: 40 * units.Degree}
	return s
}

func drawBall(t *rapid.T) Specification {
	s := Default()
	s.Weight = rapid.Float64Range(8, 16).Draw(t, "lb") * units.Pound
	s.RG = rapid.Float64Range(2.46, 2.8).Draw(t, "rg in") * units.Inch
	s.Differential = rapid.Float64Range(0.01, 0.06).Draw(t, "differential in") * units.Inch
	s.IntermediateDifferential = rapid.Float64Range(0.05, 0.95).Draw(t, "intermediate share") * s.Differential
	s.Layout = &Layout{
		DrillingAngle: rapid.Float64Range(-180, 180).Draw(t, "drilling angle deg") * units.Degree,
		PinToPAP:      rapid.Float64Range(0, 6.75).Draw(t, "pin to PAP in") * units.Inch,
		VALAngle:      rapid.Float64Range(-180, 180).Draw(t, "VAL angle deg") * units.Degree,
	}
	return s
}

func drawPAP(t *rapid.T) PAP {
	return PAP{Over: rapid.Float64Range(3, 6).Draw(t, "over in") * units.Inch, Up: rapid.Float64Range(-1.5, 1.5).Draw(t, "up in") * units.Inch}
}

func drawGrip(t *rapid.T) Grip {
	g := newGrip(t, rapid.SampledFrom([]GripKind{Fingertip, Conventional, Thumbless}).Draw(t, "grip"))
	g.RingSpan += rapid.Float64Range(-0.25, 0.25).Draw(t, "ring span in") * units.Inch
	g.Middle.Forward = rapid.Float64Range(-0.5, 0.5).Draw(t, "middle forward in") * units.Inch
	if g.Thumb != nil {
		g.Thumb.Lateral = rapid.Float64Range(-0.5, 0.5).Draw(t, "thumb lateral in") * units.Inch
		g.Thumb.Diameter = rapid.Float64Range(0.9, 1.1).Draw(t, "thumb in") * units.Inch
	}
	return g
}

// mustDrill drills a ball for the usual PAP, drilledFor for any.
func mustDrill(t rapid.TB, s Specification, hand Hand, g Grip) (Ball, Drilling) {
	t.Helper()
	return drilledFor(t, s, DefaultPAP(), hand, g)
}

func drilledFor(t rapid.TB, s Specification, p PAP, hand Hand, g Grip) (Ball, Drilling) {
	t.Helper()
	b, d, err := s.Drill(p, hand, g)
	if err != nil {
		t.Fatal(err)
	}
	return b, d
}

// About 3½ oz of material is removed for a fingertip grip (common practice);
// inserts put some of it back.
func TestFingertipRemovesThreeAndAHalfOunces(t *testing.T) {
	b, d := mustDrill(t, asymmetric(), Right, DefaultGrip())
	if got := d.Removed / units.Ounce; math.Abs(got-3.5) > 0.25 {
		t.Errorf("%g oz removed, want about 3½", got)
	}
	if lost := asymmetric().Weight - b.Mass; math.Abs(lost-(d.Removed-d.PutBack)) > 1e-15 || !(d.PutBack > 0) {
		t.Errorf("%g kg lost: %g removed, %g put back", lost, d.Removed, d.PutBack)
	}
}

// RGs move by up to about 5 % on drilling (governing-body engineer, as
// published), the low one of the usual grips by under 1 %.
func TestDrillingMovesRGsALittle(t *testing.T) {
	worst := 0.0
	rapid.Check(t, func(t *rapid.T) {
		s := drawBall(t)
		_, d := drilledFor(t, s, drawPAP(t), Right, drawGrip(t))
		for i, k := range d.After.RadiiOfGyration {
			worst = max(worst, math.Abs(k/d.Before.RadiiOfGyration[i]-1))
		}
		if worst > 0.05 || d.After.RadiiOfGyration == d.Before.RadiiOfGyration {
			t.Fatalf("RGs go from %v to %v m", d.Before.RadiiOfGyration, d.After.RadiiOfGyration)
		}
	})
	t.Logf("up to %.2g %%", 100*worst)
	_, d := mustDrill(t, asymmetric(), Right, DefaultGrip())
	if change := d.After.Differential()/d.Before.Differential() - 1; math.Abs(change) > 0.05 {
		t.Errorf("the differential of a usual ball moves by %.2g %%", 100*change)
	}
}

// Without holes the ball is the undrilled one, bit for bit, and it is the limit of
// shallower and shallower holes.
func TestUndrilledLimit(t *testing.T) {
	s := asymmetric()
	want, err := s.Prepare(DefaultPAP(), Right)
	if err != nil {
		t.Fatal(err)
	}
	none := newGrip(t, Undrilled)
	got, d := mustDrill(t, s, Right, none)
	if diff := cmp.Diff(want, got); diff != "" || d.Removed != 0 || d.PinMoved != 0 {
		t.Errorf("undrilled (-want +got):\n%s", diff)
	}
	last := math.Inf(1)
	for _, depth := range []float64{1, 0.1, 0.01, 1e-3} {
		g := DefaultGrip()
		for _, h := range []*Hole{g.Middle, g.Ring, g.Thumb} {
			h.Depth, h.Diameter, h.Insert = depth*units.Inch, depth*units.Inch, nil
		}
		b, d := mustDrill(t, s, Right, g)
		off := d.PinMoved + d.PSAMoved
		for i, m := range b.Moments {
			off += math.Abs(m - want.Moments[i])
		}
		if !(off < last/100) {
			t.Errorf("holes of %g in: %g off, after %g", depth, off, last)
		}
		last = off
	}
}

// The tensor of the finished ball, with the holes filled again about the sphere's centre,
// is that of the undrilled ball.
func TestDrillingBackwards(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawBall(t)
		s.Static = &StaticWeights{Side: rapid.Float64Range(-3, 3).Draw(t, "side oz") * units.Ounce, Top: units.Ounce}
		hand := rapid.SampledFrom([]Hand{Right, Left}).Draw(t, "hand")
		g := drawGrip(t)
		g.Middle.Forward = 0 // so that no two holes meet
		b, d := drilledFor(t, s, drawPAP(t), hand, g)
		var filled massMoments // of what the holes and inserts changed
		for _, h := range d.Holes {
			filled = filled.plus(1, slow(h.cylinder(d.Radius, h.Diameter, h.Depth), d.Grip.ShellDensity))
			if i := h.Insert; i != nil {
				filled = filled.plus(-1, slow(h.cylinder(d.Radius, h.Diameter, i.Length), i.Density))
				filled = filled.plus(1, slow(h.cylinder(d.Radius, i.Inner, i.Length), i.Density))
			}
		}
		if got := b.Mass + filled.mass; math.Abs(got-s.Weight) > 1e-9*s.Weight {
			t.Fatalf("mass is %v kg, want %v", got, s.Weight)
		}
		centre := r3.Scale(1/s.Weight, r3.Add(r3.Scale(b.Mass, d.After.Frame.grip(b.Offset)), filled.first))
		if off := r3.Norm(r3.Sub(centre, d.Before.Centre)); off > 1e-12 {
			t.Fatalf("mass centre of the undrilled ball is %v, want %v", d.Before.Centre, centre)
		}
		tensor, mine, shift, holes := d.After.Frame.tensor(b.Moments), pointInertia(b.Mass, d.After.Centre), pointInertia(s.Weight, centre), filled.inertia()
		frame := s.Layout.Frame(d.PAP, hand, d.Radius)
		want := frame.tensor([3]float64{s.Weight * s.RG * s.RG, s.Weight * math.Pow(s.RadiiOfGyration()[1], 2), s.Weight * math.Pow(s.RG+s.Differential, 2)})
		for i := range 3 {
			for j := range 3 {
				if got := tensor[i][j] + mine[i][j] + holes[i][j] - shift[i][j]; math.Abs(got-want[i][j]) > 1e-10*want[0][0] {
					t.Fatalf("undrilled tensor [%d][%d] is %v, want %v", i, j, got, want[i][j])
				}
			}
		}
	})
}

// Body axes are the principal axes, right-handed, low to high, and point to
// the side of the undrilled ones.
func TestBodyAxesOfADrilledBall(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawBall(t)
		b, d := drilledFor(t, s, drawPAP(t), Right, drawGrip(t))
		f := d.After.Frame
		if !(b.Moments[0] <= b.Moments[1] && b.Moments[1] <= b.Moments[2]) {
			t.Fatalf("moments %v", b.Moments)
		}
		if off := r3.Norm(r3.Sub(f.Intermediate, r3.Cross(f.PSA, f.Pin))); off > 1e-14 || math.Abs(r3.Dot(f.Pin, f.PSA)) > 1e-12 {
			t.Fatalf("axes %+v", f)
		}
		if r3.Dot(f.Pin, d.Before.Frame.Pin) < -undecided || r3.Dot(f.PSA, d.Before.Frame.PSA) < -undecided {
			t.Fatalf("axes point the other way: %+v after %+v", f, d.Before.Frame)
		}
		for i, v := range [2]r3.Vec{f.PAP, f.Fingers} {
			body := [2][3]float64{b.PAP, b.Fingers}[i]
			if off := r3.Norm(r3.Sub(f.grip(body), v)); off > 1e-12 {
				t.Fatalf("%v in body axes is %v", v, body)
			}
		}
		for i := range 3 {
			for j := range 3 {
				if off := f.tensor(b.Moments)[i][j] - d.After.Inertia[i][j]; math.Abs(off) > 1e-13*b.Moments[2] {
					t.Fatalf("axes do not make the tensor diagonal: %g", off)
				}
			}
		}
	})
}

// A left-hander's drilled ball is the mirror image of a right-hander's with
// the mirrored layout and balance.
func TestDrillingMirrors(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, p, g := drawBall(t), drawPAP(t), drawGrip(t)
		mirrored := s
		if rapid.Bool().Draw(t, "static") {
			s.Static = &StaticWeights{Side: units.Ounce, FingerThumb: -0.5 * units.Ounce, Top: 2 * units.Ounce}
			mirrored.Static = &StaticWeights{Side: -units.Ounce, FingerThumb: -0.5 * units.Ounce, Top: 2 * units.Ounce}
		} else {
			s.Offset, mirrored.Offset = [3]float64{1e-3, -2e-3, 3e-3}, [3]float64{1e-3, 2e-3, 3e-3}
		}
		right, d := drilledFor(t, s, p, Right, g)
		left, e := drilledFor(t, mirrored, p, Left, g)
		image := left.Mirror()
		for i := range 3 {
			off := math.Abs(image.Offset[i]-right.Offset[i])/1e-3 + math.Abs(image.PAP[i]-right.PAP[i]) +
				math.Abs(image.Fingers[i]-right.Fingers[i]) + math.Abs(image.Moments[i]/right.Moments[i]-1)
			if off > 1e-8 { // axes of moments that differ by 1e-6 turn by roundings of 1e-15 over that
				t.Fatalf("right %+v, left mirrored %+v", right, image)
			}
		}
		for i, h := range d.Holes {
			want := r3.Vec{X: h.Mouth.X, Y: -h.Mouth.Y, Z: h.Mouth.Z}
			if off := r3.Norm(r3.Sub(e.Holes[i].Mouth, want)); off > 1e-15 {
				t.Fatalf("left %s hole at %v, want %v", h.Name, e.Holes[i].Mouth, want)
			}
		}
		if math.Abs(d.PSAMoved-e.PSAMoved) > 1e-8 {
			t.Fatalf("PSA moves by %v and %v m", d.PSAMoved, e.PSAMoved)
		}
	})
}

// A neutral ball stays neutral; an offset and static weights are those of the
// finished ball, w R = m d.
func TestBalanceOfTheFinishedBall(t *testing.T) {
	s := asymmetric()
	b, d := mustDrill(t, s, Right, DefaultGrip())
	if b.Offset != [3]float64{} || d.After.Static != (StaticWeights{}) {
		t.Errorf("a neutral ball has the offset %v", b.Offset)
	}
	// The holes are on top of the grip, so the undrilled ball was top-heavy.
	if top := d.Before.Static.Top / units.Ounce; !(top > 1 && top < 3.5) {
		t.Errorf("the undrilled ball has %g oz of top weight", top)
	}
	s.Offset = [3]float64{1e-3, 2e-3, -1e-3}
	b, d = mustDrill(t, s, Right, DefaultGrip())
	want := d.Before.Frame.grip(s.Offset)
	if off := r3.Norm(r3.Sub(d.After.Frame.grip(b.Offset), want)); off > 1e-15 || b.Offset == s.Offset {
		t.Errorf("offset %v lies %g m from where it was asked", b.Offset, off)
	}
	s.Static = &StaticWeights{Side: 2 * units.Ounce}
	b, d = mustDrill(t, s, Right, DefaultGrip())
	if got, want := d.After.Centre, (r3.Vec{Y: 2 * units.Ounce * b.Radius / b.Mass}); r3.Norm(r3.Sub(got, want)) > 1e-15 {
		t.Errorf("mass centre %v, want %v", got, want)
	}
	if got := d.After.Static.Side / units.Ounce; math.Abs(got-2) > 1e-12 {
		t.Errorf("side weight %g oz, want 2", got)
	}
}

// Where moments are equal the axes of the layout are kept.
func TestEqualMomentsKeepTheAxes(t *testing.T) {
	f := asymmetric().frame(DefaultPAP(), Right)
	turned := f
	turned.Intermediate = r3.Unit(r3.Add(r3.Scale(0.8, f.Intermediate), r3.Scale(0.6, f.PSA)))
	turned.PSA = r3.Cross(f.Pin, turned.Intermediate)
	for _, moments := range [][3]float64{{1, 1, 1}, {1, 1.1, 1.1}, {1, 1, 1.1}} {
		from := f
		if moments[0] != moments[1] {
			from = turned // the tensor is the same
		}
		got, g, err := f.principal(from.tensor(moments))
		if err != nil {
			t.Fatal(err)
		}
		if off := vector.Angle(g.Pin, f.Pin) + vector.Angle(g.PSA, f.PSA); off > 1e-7 {
			t.Errorf("moments %v: axes move by %g rad", got, off)
		}
	}
	if _, _, err := f.principal(f.tensor([3]float64{1, 1, 2.1})); err == nil {
		t.Error("a body with a moment above the sum of the others")
	}
}
