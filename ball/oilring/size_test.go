package oilring_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"lanesim/ball/oilring"
	"lanesim/units"
)

// sizeOf is the size of a ring of some tilt, from the circle of radius R cos β.
func sizeOf(tilt float64, way oilring.Size) float64 {
	switch way {
	case oilring.AcrossSurface:
		return (math.Pi - 2*tilt) * ringRadius
	case oilring.AcrossChord:
		return 2 * ringRadius * math.Cos(tilt)
	default:
		return 2 * math.Pi * ringRadius * math.Cos(tilt)
	}
}

func TestTiltComesBackFromTheRingsSize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tilt := rapid.Float64Range(1, 85).Draw(t, "tilt") * units.Degree
		sign := rapid.SampledFrom([]float64{1, -1}).Draw(t, "sign")
		way := rapid.SampledFrom([]oilring.Size{oilring.AcrossSurface, oilring.AcrossChord, oilring.Around}).Draw(t, "way")
		if way == oilring.AcrossSurface {
			tilt *= sign
		}
		got, _, err := oilring.TiltOf(sizeOf(tilt, way), way, ringRadius, 0)
		// Rounding of a cosine, magnified 1/sin 1° = 57 times.
		if err != nil || math.Abs(got-tilt) > 1e-13 {
			t.Errorf("%s: %g, %v, want %g", way, got, err, tilt)
		}
	})
}

// The ring of 13° on a ball of 27 in, worked by hand: it is 27/2 − 27·26/360 =
// 11.55 in along the surface, 27 cos 13° = 26.308 in around.
func TestRingSizesByHand(t *testing.T) {
	radius := 27 * units.Inch / (2 * math.Pi)
	for way, inches := range map[oilring.Size]float64{
		oilring.AcrossSurface: 11.55, oilring.Around: 26.3080, oilring.AcrossChord: 26.3080 / math.Pi,
	} {
		tilt, _, err := oilring.TiltOf(inches*units.Inch, way, radius, 1e-3)
		if err != nil || math.Abs(tilt/units.Degree-13) > 0.001 {
			t.Errorf("%s %g in: %g°, %v", way, inches, tilt/units.Degree, err)
		}
	}
}

// Sizes misread by 1 mm. Near no tilt, where chord and length hardly change with
// it, the uncertainty covers more than that of a normal error would.
func TestRingSizeUncertaintyIsHonest(t *testing.T) {
	const trials, sigma = 4000, 1e-3
	random := rand.New(rand.NewPCG(3, 5))
	for _, way := range []oilring.Size{oilring.AcrossSurface, oilring.AcrossChord, oilring.Around} {
		for _, degrees := range []float64{0, 1, 5, 15, 40} {
			tilt, within := degrees*units.Degree, [2]int{}
			for range trials {
				got, uncertainty, err := oilring.TiltOf(sizeOf(tilt, way)+sigma*random.NormFloat64(), way, ringRadius, sigma)
				if err != nil {
					continue // a chord more than three errors too long
				}
				for k := range within {
					if math.Abs(got-tilt) <= float64(k+1)*uncertainty {
						within[k]++
					}
				}
			}
			for k, want := range []float64{0.6827, 0.9545} {
				share := float64(within[k]) / trials
				t.Logf("%s, %g°: within %dσ %.1f %%", way, degrees, k+1, 100*share)
				spread := 4*math.Sqrt(want*(1-want)/trials) + 0.01
				if share < want-spread || degrees >= 15 && share > want+2*spread {
					t.Errorf("%s, %g°: within %dσ %.1f %% of the time, want %.1f", way, degrees, k+1, 100*share, 100*want)
				}
			}
		}
	}
}

func TestRingSizesThatAreNone(t *testing.T) {
	for _, c := range []struct {
		size float64
		way  oilring.Size
		r, e float64
	}{
		{0, oilring.AcrossSurface, ringRadius, 1e-3},
		{math.NaN(), oilring.AcrossChord, ringRadius, 1e-3},
		{2*ringRadius + 4e-3, oilring.AcrossChord, ringRadius, 1e-3},
		{2*math.Pi*ringRadius + 4e-3, oilring.Around, ringRadius, 1e-3},
		{0.2, "by eye", ringRadius, 1e-3},
		{0.2, oilring.Around, 0, 1e-3},
		{0.2, oilring.Around, ringRadius, -1},
	} {
		_, _, err := oilring.TiltOf(c.size, c.way, c.r, c.e)
		var ring *oilring.Error
		if !errors.As(err, &ring) || ring.Problem != oilring.ImpossibleReading {
			t.Errorf("%+v: %v", c, err)
		}
	}
}
