package measure_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"lanesim/ball"
	"lanesim/studies/measure"
	"lanesim/units"
)

// Two revolutions in 80 frames at 240 a second are 6 a second, 360 rpm.
func TestRevRateOfFrames(t *testing.T) {
	c := measure.FrameCount{
		Revolutions: measure.Reading{Value: 2, Error: 0.02}, Frames: measure.Reading{Value: 80, Error: 1}, FramesPerSecond: 240,
	}
	got, err := c.RevRate()
	want := 12 * math.Pi
	if err != nil || math.Abs(got.Value-want) > 1e-14 || math.Abs(got.Uncertainty/want-math.Hypot(1.0/80, 0.01)) > 1e-15 {
		t.Errorf("%+v, %v", got, err)
	}
	for _, bad := range []measure.FrameCount{
		{},
		{Revolutions: measure.Reading{Value: 2}, Frames: measure.Reading{Value: 4}, FramesPerSecond: 30},
		{Revolutions: measure.Reading{Value: 2}, Frames: measure.Reading{Value: math.NaN()}, FramesPerSecond: 30},
		{Revolutions: measure.Reading{Value: 2}, Frames: measure.Reading{Value: 80, Error: -1}, FramesPerSecond: 30},
		{Revolutions: measure.Reading{Value: 2, Error: -1}, Frames: measure.Reading{Value: 80}, FramesPerSecond: 30},
		{Revolutions: measure.Reading{Value: 2}, Frames: measure.Reading{Value: 80}, FramesPerSecond: math.Inf(1)},
	} {
		var e *measure.ReadingError
		if _, err := bad.RevRate(); !errors.As(err, &e) || e.Field != "frames" {
			t.Errorf("%+v: %v", bad, err)
		}
	}
}

// A film whose frames fall anywhere in the turn, of which the first and the last
// are read to the nearest one. The error of the count has a triangular
// distribution up to one frame, which is within one standard deviation, 1/√6, in
// 1 − (1 − 1/√6)² = 65.0 % of cases and within two in 96.6 %.
func TestFrameCountUncertaintyIsHonest(t *testing.T) {
	const trials, fps, n = 4000, 120.0, 3.0
	random := rand.New(rand.NewPCG(5, 6))
	var within [2]int
	for range trials {
		rate := 30 + 10*random.Float64()
		start := random.Float64()
		end := start + n*2*math.Pi/rate*fps
		got, err := measure.FrameCount{
			Revolutions:     measure.Reading{Value: n},
			Frames:          measure.Reading{Value: math.Round(end) - math.Round(start)},
			FramesPerSecond: fps,
		}.RevRate()
		if err != nil {
			t.Fatal(err)
		}
		for k := range within {
			if math.Abs(got.Value-rate) < float64(k+1)*got.Uncertainty {
				within[k]++
			}
		}
	}
	for k := range within {
		want := 1 - math.Pow(1-float64(k+1)/math.Sqrt(6), 2)
		share := float64(within[k]) / trials
		t.Logf("within %dσ: %.1f %%, want %.1f", k+1, 100*share, 100*want)
		// Four standard deviations of a count, and 1 % for the rate's being
		// one over the count.
		if math.Abs(share-want) > 4*math.Sqrt(want*(1-want)/trials)+0.01 {
			t.Errorf("within %dσ %.1f %% of the time, want %.1f", k+1, 100*share, 100*want)
		}
	}
}

// picture returns the angle at which a camera far away sees an axis, given in
// space by down-lane, left and up: the camera looks along a line of sight with
// its upper edge toward up. The angle is that by which the axis falls below the
// picture's horizontal toward the given side.
func picture(axis, sight, up r3.Vec, side float64) float64 {
	sight = r3.Unit(sight)
	upper := r3.Unit(r3.Sub(up, r3.Scale(r3.Dot(up, sight), sight)))
	left := r3.Cross(upper, sight)
	return math.Atan2(-r3.Dot(axis, upper), side*r3.Dot(axis, left))
}

func TestRotationComesBackFromThePhoto(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		hand := ball.Hand(rapid.IntRange(0, 1).Draw(t, "hand"))
		r := measureRelease(hand)
		r.AxisRotation = rapid.Float64Range(-80, 89).Draw(t, "rotation") * units.Degree
		r.AxisTilt = rapid.Float64Range(-30, 60).Draw(t, "tilt") * units.Degree
		e := math.Abs(r.AxisTilt) + rapid.Float64Range(2, 28).Draw(t, "elevation")*units.Degree
		// In space, where a left-hander's axis is the mirror image.
		axis, side := releaseAxis(r), 1.0
		if hand == ball.Left {
			axis.Y, side = -axis.Y, -1
		}
		sight := r3.Vec{X: math.Cos(e), Z: -math.Sin(e)}
		tilt := measure.Reading{Value: r.AxisTilt}
		behind, err := measure.Photo{
			View: measure.FromBehind, Angle: measure.Reading{Value: picture(axis, sight, r3.Vec{Z: 1}, side)}, Elevation: measure.Reading{Value: e},
		}.AxisRotation(tilt)
		// Rounding, magnified where the camera is only 2° above the tilt.
		if err != nil || math.Abs(behind.Value-r.AxisRotation) > 1e-10 {
			t.Errorf("from behind: %g, %v, want %g", behind.Value, err, r.AxisRotation)
		}
		fall := picture(axis, r3.Vec{Z: -1}, r3.Vec{X: 1}, side)
		above, err := measure.Photo{View: measure.FromAbove, Angle: measure.Reading{Value: math.Pi/2 + fall}}.AxisRotation(tilt)
		if err != nil || math.Abs(above.Value-r.AxisRotation) > 1e-12 {
			t.Errorf("from above: %g, %v, want %g", above.Value, err, r.AxisRotation)
		}
		// Straight up, the view from behind is the view from above.
		top, err := measure.Photo{View: measure.FromBehind, Angle: measure.Reading{Value: fall}, Elevation: measure.Reading{Value: math.Pi / 2}}.AxisRotation(tilt)
		if err != nil || math.Abs(top.Value-r.AxisRotation) > 1e-12 {
			t.Errorf("from straight above: %g, %v, want %g", top.Value, err, r.AxisRotation)
		}
	})
}

// Without tilt tan γ = tan α sin e.
func TestRotationWithoutTiltInClosedForm(t *testing.T) {
	e, alpha := 30*units.Degree, 45*units.Degree
	got, err := measure.Photo{
		View: measure.FromBehind, Angle: measure.Reading{Value: math.Atan(0.5), Error: 0.01}, Elevation: measure.Reading{Value: e},
	}.AxisRotation(measure.Reading{})
	// dα/dγ = sin e (1 + tan²γ)/(sin²e + tan²γ) = 0.5 · 1.25/0.5
	if err != nil || math.Abs(got.Value-alpha) > 1e-15 || math.Abs(got.Uncertainty-0.0125) > 1e-15 {
		t.Errorf("%+v, %v", got, err)
	}
}

// The standard deviation is that of the differences which readings one error
// apart make.
func TestPhotoUncertaintyIsThatOfDifferences(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tilt := rapid.Float64Range(-20, 30).Draw(t, "tilt") * units.Degree
		p := measure.Photo{
			View:      measure.FromBehind,
			Angle:     measure.Reading{Value: rapid.Float64Range(-60, 60).Draw(t, "angle") * units.Degree},
			Elevation: measure.Reading{Value: math.Abs(tilt) + rapid.Float64Range(10, 50).Draw(t, "elevation")*units.Degree},
		}
		const small = 1e-5
		at := func(angle, elevation, beta float64) float64 {
			q := p
			q.Angle.Value += angle
			q.Elevation.Value += elevation
			got, err := q.AxisRotation(measure.Reading{Value: tilt + beta})
			if err != nil {
				t.Fatal(err)
			}
			return got.Value
		}
		variance := 0.0
		for _, d := range [][3]float64{{small, 0, 0}, {0, 2 * small, 0}, {0, 0, 3 * small}} {
			half := (at(d[0], d[1], d[2]) - at(-d[0], -d[1], -d[2])) / 2
			variance += half * half
		}
		p.Angle.Error, p.Elevation.Error = small, 2*small
		got, err := p.AxisRotation(measure.Reading{Value: tilt, Error: 3 * small})
		if err != nil || math.Abs(got.Uncertainty/math.Sqrt(variance)-1) > 1e-5 {
			t.Errorf("± %g, differences give %g, %v", got.Uncertainty, math.Sqrt(variance), err)
		}
	})
}

func TestPhotosThatAreNone(t *testing.T) {
	reading := func(degrees float64) measure.Reading { return measure.Reading{Value: degrees * units.Degree} }
	for _, c := range []struct {
		photo measure.Photo
		tilt  float64
	}{
		{measure.Photo{View: measure.FromBehind, Angle: reading(20), Elevation: reading(10)}, 12},
		{measure.Photo{View: measure.FromBehind, Angle: reading(20), Elevation: reading(10)}, -12},
		{measure.Photo{View: measure.FromBehind, Angle: reading(20), Elevation: reading(91)}, 0},
		{measure.Photo{View: measure.FromBehind, Angle: reading(90), Elevation: reading(40)}, 0},
		{measure.Photo{View: measure.FromBehind, Angle: reading(math.NaN()), Elevation: reading(40)}, 0},
		{measure.Photo{View: measure.FromAbove, Angle: reading(300)}, 0},
		{measure.Photo{View: measure.FromAbove, Angle: measure.Reading{Value: 1, Error: -1}}, 0},
		{measure.Photo{View: "the side", Angle: reading(30)}, 0},
	} {
		var e *measure.ReadingError
		if _, err := c.photo.AxisRotation(reading(c.tilt)); !errors.As(err, &e) || e.Field != "photo" {
			t.Errorf("%+v: %v", c, err)
		}
	}
}
