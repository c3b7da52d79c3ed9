package ball

import (
	"errors"
	"math"
	"testing"

	"lanesim/internal/vector"
	"lanesim/units"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// Spans and bridge lie between the edges of the holes, the centre of the grip
// half the mean span from the edge of the thumb hole, and the centre line runs
// from the thumb to the middle between the fingers.
func TestPlaces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawGrip(t)
		hand := rapid.SampledFrom([]Hand{Right, Left}).Draw(t, "hand")
		holes := placed(t, g, hand, radius27)
		gap := func(a, b DrilledHole) float64 {
			return vector.Angle(a.Mouth, b.Mouth)*radius27 - (a.Diameter+b.Diameter)/2
		}
		middle, ring := holes[0], holes[1]
		if off := math.Abs(gap(middle, ring) - g.Bridge); off > 1e-15 {
			t.Fatalf("the bridge is %g m off", off)
		}
		if (ring.Mouth.Y > middle.Mouth.Y) != (hand == Right) {
			t.Fatalf("%s hand: middle finger at %v, ring finger at %v", hand, middle.Mouth, ring.Mouth)
		}
		between := r3.Add(middle.Mouth, ring.Mouth)
		if off := math.Abs(between.Y); off > 1e-14 || g.Thumb == nil && between.Z != 0 {
			t.Fatalf("the middle between the fingers is at %v", between)
		}
		if g.Thumb == nil {
			return
		}
		thumb := holes[2]
		if off := math.Abs(gap(middle, thumb)-g.MiddleSpan) + math.Abs(gap(ring, thumb)-g.RingSpan); off > 1e-14 {
			t.Fatalf("the spans are %g m off", off)
		}
		if want := (g.MiddleSpan + g.RingSpan) / 4; math.Abs(vector.Angle(thumb.Mouth, r3.Vec{X: 1})*radius27-thumb.Diameter/2-want) > 1e-14 || !(thumb.Mouth.Z < 0) || math.Abs(thumb.Mouth.Y) > 1e-15 {
			t.Fatalf("the thumb is at %v", thumb.Mouth)
		}
	})
}

// A hole's axis misses the ball's centre by the pitch, on the given side.
func TestPitch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawGrip(t)
		g.Ring.Forward = rapid.Float64Range(-0.5, 0.5).Draw(t, "ring forward in") * units.Inch
		hand := rapid.SampledFrom([]Hand{Right, Left}).Draw(t, "hand")
		side := map[Hand]float64{Right: 1, Left: -1}[hand]
		holes := placed(t, g, hand, radius27)
		for _, h := range holes {
			mouth := r3.Scale(radius27, h.Mouth)
			nearest := r3.Sub(mouth, r3.Scale(r3.Dot(mouth, h.Axis), h.Axis))
			if off := math.Abs(r3.Norm(nearest) - math.Hypot(h.Forward, h.Lateral)); off > 1e-15 {
				t.Fatalf("the %s hole's axis misses by %g m, %g off", h.Name, r3.Norm(nearest), off)
			}
			toThumb := -1.0
			if h.Name == "thumb" {
				toThumb = 1
			}
			forward, lateral := toThumb*nearest.Z, side*nearest.Y
			// A pitch of half an inch tilts the directions by 7°, the place
			// of the hole by up to 37°.
			if math.Abs(h.Forward) > 0.1*units.Inch && math.Abs(h.Lateral) < math.Abs(h.Forward)/4 && math.Signbit(forward) != math.Signbit(h.Forward) {
				t.Fatalf("the %s hole with %g m forward misses at %v", h.Name, h.Forward, nearest)
			}
			if math.Abs(h.Lateral) > 0.1*units.Inch && math.Abs(h.Forward) < math.Abs(h.Lateral)/4 && math.Signbit(lateral) != math.Signbit(h.Lateral) {
				t.Fatalf("the %s hole with %g m lateral misses at %v", h.Name, h.Lateral, nearest)
			}
			if math.Abs(r3.Norm(h.Axis)-1) > 1e-15 || !(r3.Dot(h.Axis, h.Mouth) < 0) {
				t.Fatalf("the %s hole has the axis %v", h.Name, h.Axis)
			}
		}
	})
}

// By default no two holes meet inside the ball.
func TestUsualHolesDoNotMeet(t *testing.T) {
	for _, kind := range GripKinds() {
		g := newGrip(t, kind)
		holes := placed(t, g, Right, Default().Diameter/2)
		d := Drilling{Grip: g, Radius: Default().Diameter / 2, Holes: holes}
		out, _ := d.moments()
		apart := 0.0
		for _, h := range holes {
			apart += h.cylinder(Default().Diameter/2, h.Diameter, h.Depth).moments(g.ShellDensity, nil).mass
		}
		if math.Abs(out.mass-apart) > 1e-15 {
			t.Errorf("%s: the holes share %g kg", kind, apart-out.mass)
		}
	}
	if _, err := NewGrip("claw"); err == nil {
		t.Error("a grip that there is not")
	}
}

func TestImpossibleGrips(t *testing.T) {
	for field, spoil := range map[string]func(*Grip){
		"middle":              func(g *Grip) { g.Ring = nil },
		"middle.diameter":     func(g *Grip) { g.Middle.Diameter = 0 },
		"ring.depth":          func(g *Grip) { g.Ring.Depth = 5 * units.Inch },
		"thumb.depth":         func(g *Grip) { g.Thumb.Depth = math.NaN() },
		"thumb.forward":       func(g *Grip) { g.Thumb.Lateral = 4 * units.Inch },
		"middle.insert.outer": func(g *Grip) { g.Middle.Insert.Outer = 1 * units.Inch },
		"middle.insert.inner": func(g *Grip) { g.Middle.Insert.Inner = 1 * units.Inch },
		"ring.insert.length":  func(g *Grip) { g.Ring.Insert.Length = 3 * units.Inch },
		"ring.insert.density": func(g *Grip) { g.Ring.Insert.Density = -1 },
		"bridge":              func(g *Grip) { g.Bridge = 12 * units.Inch },
		"span":                func(g *Grip) { g.RingSpan = 7 * units.Inch },
		"span.ring":           func(g *Grip) { g.RingSpan = -units.Inch },
		"shell_density":       func(g *Grip) { g.ShellDensity = 0 },
	} {
		g := DefaultGrip()
		spoil(&g)
		var wrong *GripError
		if _, _, err := asymmetric().Drill(DefaultPAP(), Right, g); !errors.As(err, &wrong) || wrong.Field != field || wrong.Rule == "" {
			t.Errorf("%v, want one about %s", err, field)
		}
	}
	// A shell a hundred times denser than any metal.
	g, s := DefaultGrip(), asymmetric()
	g.ShellDensity = 1e6
	if _, _, err := s.Drill(DefaultPAP(), Right, g); err == nil {
		t.Error("holes that take out more than there is")
	}
}

// The walls between the holes of the usual grips are at least the least clearance thick, on
// balls of all allowed sizes: a default gives no warning.
func TestUsualGripsLeaveWalls(t *testing.T) {
	for _, kind := range GripKinds() {
		for _, diameter := range []float64{8.5, 8.595} {
			g := newGrip(t, kind)
			radius := diameter / 2 * units.Inch
			holes := placed(t, g, Right, radius)
			if wall := ThinnestWall(holes, radius); !(wall >= DefaultClearances().Bottoms) {
				t.Errorf("%s, %g in: a wall of %.3f in", kind, diameter, wall/units.Inch)
			}
		}
	}
}

func newGrip(t rapid.TB, kind GripKind) Grip {
	t.Helper()
	g, err := NewGrip(kind)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// placed returns the holes of a grip on a ball of the radius.
func placed(t rapid.TB, g Grip, hand Hand, radius float64) []DrilledHole {
	t.Helper()
	holes, err := g.Place(hand, radius)
	if err != nil {
		t.Fatal(err)
	}
	return holes
}
