package ball

import (
	"errors"
	"math"
	"strings"
	"testing"

	"lanesim/internal/vector"
	"lanesim/units"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// A 27 in ball, on which 6¾ in are 90°.
const radius27 = 27 * units.Inch / (2 * math.Pi)

// The conversions follow from cos(PSA–PAP) = sin d cos α and
// sin(pin–VAL) = sin d sin β; derived, to the four decimals given.
func TestLayoutConversions(t *testing.T) {
	for _, c := range []struct{ drilling, pinToPAP, val, psaToPAP, pinToVAL float64 }{
		{45, 4.5, 45, 3.9179, 2.8321},
		{65, 4, 30, 5.2638, 1.7733},
		{30, 3.375, 20, 3.9179, 1.0497},
	} {
		l := Layout{DrillingAngle: c.drilling * units.Degree, PinToPAP: c.pinToPAP * units.Inch, VALAngle: c.val * units.Degree}
		d := l.Distances(radius27)
		for _, p := range [][2]float64{{d.PSAToPAP / units.Inch, c.psaToPAP}, {d.PinToVAL / units.Inch, c.pinToVAL}, {d.PinToPAP / units.Inch, c.pinToPAP}} {
			if math.Abs(p[0]-p[1]) > 0.5e-4 {
				t.Errorf("%v×%v×%v: %.5f in, want %.4f", c.drilling, c.pinToPAP, c.val, p[0], p[1])
			}
		}
		if d.Below {
			t.Errorf("%v×%v×%v: the pin is below", c.drilling, c.pinToPAP, c.val)
		}
	}
}

// layoutError is the largest difference of two layouts in rad.
func layoutError(a, b Layout) float64 {
	return max(math.Abs(a.DrillingAngle-b.DrillingAngle), math.Abs(a.VALAngle-b.VALAngle), math.Abs(a.PinToPAP-b.PinToPAP)/radius27)
}

// Angles follow from distances to 1e-9, with the pin above or below and near or far, and to
// 1e-7 at the ends of the ranges, where a distance has only half the digits; only there is
// a caution.
func TestLayoutsReadBack(t *testing.T) {
	var worst [2]float64
	angle := func(t *rapid.T, name string) (float64, bool) {
		if rapid.Bool().Draw(t, name+" at the end") {
			end := rapid.SampledFrom([]float64{0, 90, 180}).Draw(t, name+" end")
			off := rapid.SampledFrom([]float64{-1e-7, 0, 1e-9, 1e-4}).Draw(t, name+" off")
			return min(max(end+off, 0), 180) * units.Degree, true
		}
		return rapid.Float64Range(3, 177).Draw(t, name) * units.Degree, false
	}
	rapid.Check(t, func(t *rapid.T) {
		var l Layout
		var end [2]bool
		l.DrillingAngle, end[0] = angle(t, "drilling angle")
		l.VALAngle, end[1] = angle(t, "VAL angle")
		// Within 3° of 90° the VAL angle, too, has only half the digits.
		near := end[0] || end[1] || math.Abs(l.VALAngle/units.Degree-90) < 3
		least := 0.01 // deg; the distances' rounding, 5e-16, over sin d sin α is below 1e-10
		if near {
			least = 6
		}
		l.PinToPAP = rapid.Float64Range(least, 180-least).Draw(t, "pin to PAP") * units.Degree * radius27
		d := l.Distances(radius27)
		back, err := d.Layout(radius27)
		if err != nil {
			t.Fatal(err)
		}
		bound, k := 1e-9, 0
		if near {
			bound, k = 1e-7, 1
		}
		off := layoutError(back, l)
		worst[k] = max(worst[k], off)
		if off > bound {
			t.Fatalf("%+v comes back %g rad off: %+v, %+v", l, off, d, back)
		}
		if caution := d.Caution(radius27); caution == "" && off > 1e-9 {
			t.Fatalf("%+v is %g rad off: caution %q", l, off, caution)
		}
	})
	t.Logf("off by up to %.2g rad, at the ends %.2g rad", worst[0], worst[1])
}

// At the ends themselves the conversion returns a caution.
func TestCautionAtTheEnds(t *testing.T) {
	for _, c := range []struct {
		l    Layout
		word string
	}{
		{Layout{0, 4 * units.Inch, 40 * units.Degree}, "as near to"},
		{Layout{math.Pi, 4 * units.Inch, 40 * units.Degree}, "as near to"},
		{Layout{1, 4 * units.Inch, math.Pi / 2}, "from the VAL"},
		{Layout{1, 1e-3 * units.Inch, 1}, "hardly determine"},
		{Layout{1, 4 * units.Inch, 1}, ""},
		{Layout{1, 4 * units.Inch, 0}, ""},
		{Layout{math.Pi / 2, 6.75 * units.Inch, 1}, ""},
		{Layout{0.2, 6.75 * units.Inch, math.Pi / 2}, ""}, // where distances are angles
		{Layout{0.1, 0.5 * units.Inch, 1.5}, ""},
	} {
		got := c.l.Distances(radius27).Caution(radius27)
		if c.word == "" && got != "" || !strings.Contains(got, c.word) {
			t.Errorf("%+v: caution %q, want one with %q", c.l, got, c.word)
		}
	}
}

// The frame of a layout gives the layout again, for both hands, and its
// distances are those between the vectors.
func TestFramesReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Layout{
			DrillingAngle: rapid.Float64Range(-179, 179).Draw(t, "drilling angle") * units.Degree,
			PinToPAP:      rapid.Float64Range(0.1, 179.9).Draw(t, "pin to PAP") * units.Degree * radius27,
			VALAngle:      rapid.Float64Range(-179, 179).Draw(t, "VAL angle") * units.Degree,
		}
		hand := rapid.SampledFrom([]Hand{Right, Left}).Draw(t, "hand")
		f := l.Frame(drawPAP(t), hand, radius27)
		back, ok := f.Layout(hand, radius27)
		if off := layoutError(back, l); off > 1e-11 || !ok {
			t.Fatalf("%+v comes back %g rad off: %+v, %v", l, off, back, ok)
		}
		d := l.Distances(radius27)
		if off := math.Abs(vector.Angle(f.PSA, f.PAP) - d.PSAToPAP/radius27); off > 1e-14 {
			t.Fatalf("PSA to PAP is %g rad off", off)
		}
		if off := math.Abs(math.Abs(r3.Dot(f.Pin, f.TowardGrip)) - math.Sin(d.PinToVAL/radius27)); off > 1e-14 {
			t.Fatalf("pin to VAL is %g off", off)
		}
		if d.Below != (r3.Dot(f.Pin, f.Fingers) < 0) {
			t.Fatalf("%+v: pin below: %v", l, d.Below)
		}
	})
	// With the pin on the axis only the sum of the angles is determined.
	f := Layout{DrillingAngle: 0.4, VALAngle: 0.3}.Frame(DefaultPAP(), Right, radius27)
	back, ok := f.Layout(Right, radius27)
	g := back.Frame(DefaultPAP(), Right, radius27)
	if ok || vector.Angle(f.PSA, g.PSA) > 1e-12 || back.VALAngle != 0 {
		t.Errorf("pin on the axis: %+v, %v", back, ok)
	}
}

// Impossible distances are errors with the rule that they break.
func TestImpossibleLayouts(t *testing.T) {
	for _, c := range []struct {
		d           DistanceLayout
		field, rule string
	}{
		{DistanceLayout{PinToPAP: 14 * units.Inch}, "pin_to_pap", "between 0 and half of the circumference (13.5 in)"},
		{DistanceLayout{PinToPAP: math.NaN()}, "pin_to_pap", "between 0 and half"},
		{DistanceLayout{PinToPAP: 4 * units.Inch, PSAToPAP: -units.Inch}, "psa_to_pap", "between 0 and half"},
		{DistanceLayout{PinToPAP: 4 * units.Inch, PSAToPAP: 4 * units.Inch, PinToVAL: 7 * units.Inch}, "pin_to_val", "between 0 and a quarter of the circumference (6.75 in)"},
		{DistanceLayout{PSAToPAP: 6.75 * units.Inch}, "pin_to_pap", "on the axis"},
		{DistanceLayout{PinToPAP: 13.5 * units.Inch, PSAToPAP: 6.75 * units.Inch}, "pin_to_pap", "opposite"},
		{DistanceLayout{PinToPAP: 4 * units.Inch, PSAToPAP: 2.5 * units.Inch}, "psa_to_pap", "90° from the pin, so with this pin-to-PAP distance it is 2.75 to 10.75 in"},
		{DistanceLayout{PinToPAP: 4 * units.Inch, PSAToPAP: 11 * units.Inch}, "psa_to_pap", "2.75 to 10.75 in"},
		{DistanceLayout{PinToPAP: 4 * units.Inch, PSAToPAP: 4 * units.Inch, PinToVAL: 4.01 * units.Inch}, "pin_to_val", "no farther from the VAL than 4 in"},
		{DistanceLayout{PinToPAP: 10 * units.Inch, PSAToPAP: 4 * units.Inch, PinToVAL: 3.6 * units.Inch}, "pin_to_val", "no farther from the VAL than 3.5 in"},
	} {
		l, err := c.d.Layout(radius27)
		var wrong *LayoutError
		if !errors.As(err, &wrong) || wrong.Field != c.field || !strings.Contains(wrong.Rule, c.rule) || l != (Layout{}) {
			t.Errorf("%+v: %v, want %s: … %s …", c.d, err, c.field, c.rule)
		}
	}
}
