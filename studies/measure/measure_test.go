package measure_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"lanesim/ball"
	"lanesim/ball/oilring"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/measure"
	"lanesim/units"
)

// measuredBowler returns the readings that a release leaves behind, without
// error, and that release.
func measuredBowler(t *testing.T, hand ball.Hand) (lane.Lane, ball.Ball, physics.Release, measure.Readings) {
	t.Helper()
	l, b := measureLane(t), measureBall(t, hand, 0.03, 4.5)
	r := measureRelease(hand)
	pap := ball.PAP{Over: 4.8 * units.Inch, Up: 0.4 * units.Inch}
	elevation := 35 * units.Degree
	axis := releaseAxis(r)
	fall := math.Atan2(math.Cos(elevation)*-axis.Z-math.Sin(elevation)*axis.X, axis.Y)
	period := 2 * math.Pi / r.RevRate
	return l, b, r, measure.Readings{
		LaneTime: &measure.LaneTime{To: lane.HeadPin, Time: measure.Reading{Value: laneTime(t, l, b, r, 0, lane.HeadPin), Error: 0.02}},
		Frames:   &measure.FrameCount{Revolutions: measure.Reading{Value: 2}, Frames: measure.Reading{Value: 2 * period * 240}, FramesPerSecond: 240},
		Ring:     &measure.RingPoints{Points: contactRing(r, pap, b.Radius, 6)},
		Photo: &measure.Photo{View: measure.FromBehind, Angle: measure.Reading{Value: fall, Error: 2 * units.Degree},
			Elevation: measure.Reading{Value: elevation, Error: 1 * units.Degree}},
	}
}

// releaseAxis is the spin axis of a release in the bowler's own terms: down-lane
// along the launch, toward the off side, up.
func releaseAxis(r physics.Release) r3.Vec {
	sinA, cosA := math.Sincos(r.AxisRotation)
	sinB, cosB := math.Sincos(r.AxisTilt)
	return r3.Vec{X: -cosB * sinA, Y: cosB * cosA, Z: sinB}
}

func TestMeasuredReleaseIsTheRelease(t *testing.T) {
	for _, hand := range []ball.Hand{ball.Right, ball.Left} {
		l, b, r, m := measuredBowler(t, hand)
		start := r
		start.Speed, start.RevRate, start.AxisRotation, start.AxisTilt = 0, 0, 0, 0
		got, err := measure.Study{Setup: studies.Setup{Lane: l, Ball: b, Release: start}, Readings: m}.Run()
		if err != nil {
			t.Fatal(err)
		}
		if len(got.RingWarnings) != 0 || got.SignOpen || got.Gutter != 0 {
			t.Errorf("%v: warned of %v, %v, %v", hand, got.RingWarnings, got.SignOpen, got.Gutter)
		}
		for _, c := range []struct {
			name  string
			q     *measure.Quantity
			want  float64
			bound float64
		}{
			// A time is computed to the tolerance of 10⁻⁶.
			{"speed", got.Speed, r.Speed, 1e-5},
			{"rev rate", got.RevRate, r.RevRate, 1e-12},
			{"rotation", got.AxisRotation, r.AxisRotation, 1e-12},
			{"tilt", got.AxisTilt, r.AxisTilt, 1e-12},
			{"over", got.PAPOver, 4.8 * units.Inch, 1e-12},
			{"up", got.PAPUp, 0.4 * units.Inch, 1e-12},
		} {
			t.Logf("%v %s: %.5g ± %.2g", hand, c.name, c.q.Value, c.q.Uncertainty)
			if math.Abs(c.q.Value-c.want) > c.bound {
				t.Errorf("%v %s: %g, want %g", hand, c.name, c.q.Value, c.want)
			}
			if !(c.q.Uncertainty > 0) {
				t.Errorf("%v %s: ± %g", hand, c.name, c.q.Uncertainty)
			}
		}
		want := r
		want.Speed, want.RevRate, want.AxisRotation, want.AxisTilt = got.Speed.Value, got.RevRate.Value, got.AxisRotation.Value, got.AxisTilt.Value
		if got.Release != want {
			t.Errorf("%v: release %+v, want %+v", hand, got.Release, want)
		}
	}
}

// All readings misread at once: speed, rotation and tilt are as uncertain as
// they say.
func TestMeasuredUncertaintyIsHonest(t *testing.T) {
	const trials = 120
	l, b, r, exact := measuredBowler(t, ball.Right)
	b.Memory.Off = true // for speed; the time depends little on it
	exact.LaneTime.Time.Value = laneTime(t, l, b, r, 0, lane.HeadPin)
	exact.Frames.Frames.Error = 1.5
	random := rand.New(rand.NewPCG(1, 2))
	within := map[string][2]int{}
	for range trials {
		m := exact
		clock, frames, photo := *exact.LaneTime, *exact.Frames, *exact.Photo
		for _, reading := range []*measure.Reading{&clock.Time, &frames.Frames, &photo.Angle, &photo.Elevation} {
			reading.Value += reading.Error * random.NormFloat64()
		}
		ring := measure.RingPoints{Points: slices.Clone(exact.Ring.Points), Error: 2e-3}
		for i := range ring.Points {
			ring.Points[i].Over += ring.Error * random.NormFloat64() / math.Cos(ring.Points[i].Up/b.Radius)
			ring.Points[i].Up += ring.Error * random.NormFloat64()
		}
		m.LaneTime, m.Frames, m.Photo, m.Ring = &clock, &frames, &photo, &ring
		got, err := measure.Study{Setup: studies.Setup{Lane: l, Ball: b, Release: r}, Readings: m, Settings: physics.Settings{Tolerance: 1e-5}}.Run()
		if err != nil {
			t.Fatal(err)
		}
		for name, c := range map[string]struct {
			q    *measure.Quantity
			want float64
		}{"speed": {got.Speed, r.Speed}, "rotation": {got.AxisRotation, r.AxisRotation}, "tilt": {got.AxisTilt, r.AxisTilt}, "rev rate": {got.RevRate, r.RevRate}} {
			w := within[name]
			for k := range w {
				if math.Abs(c.q.Value-c.want) < float64(k+1)*c.q.Uncertainty {
					w[k]++
				}
			}
			within[name] = w
		}
	}
	for name, w := range within {
		checkCoverage(t, name, w, trials)
	}
}

// checkCoverage holds the shares within one and two standard deviations to those
// of a normal error, within four standard deviations of the count.
func checkCoverage(t *testing.T, name string, within [2]int, trials float64) {
	t.Helper()
	for k, want := range []float64{0.6827, 0.9545} {
		share := float64(within[k]) / trials
		t.Logf("%s within %dσ: %.1f %%", name, k+1, 100*share)
		if math.Abs(share-want) > 4*math.Sqrt(want*(1-want)/trials) {
			t.Errorf("%s within %dσ %.1f %% of the time, want %.1f", name, k+1, 100*share, 100*want)
		}
	}
}

// What is uncertain about the spin adds to the speed's variance what it moves the
// speed by.
func TestSpeedInheritsTheSpinsUncertainty(t *testing.T) {
	l, b, r, m := measuredBowler(t, ball.Right)
	clock := *m.LaneTime
	clock.Time.Error = 0
	frames := *m.Frames
	frames.Frames.Error = 20
	got, err := measure.Study{Setup: studies.Setup{Lane: l, Ball: b, Release: r}, Readings: measure.Readings{LaneTime: &clock, Frames: &frames}}.Run()
	if err != nil {
		t.Fatal(err)
	}
	slow := r
	slow.RevRate -= got.RevRate.Uncertainty
	moved, _, err := measure.ReleaseSpeed(studies.Setup{Lane: l, Ball: b, Release: slow}, clock.From, clock.To, clock.Time.Value, physics.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("rev rate %.1f ± %.1f rad/s: speed ± %.4f m/s", got.RevRate.Value, got.RevRate.Uncertainty, got.Speed.Uncertainty)
	// Two roots of a search to 10⁻⁷ of a simulation to 10⁻⁶.
	if want := moved - got.Speed.Value; !(want > 0.01) || math.Abs(got.Speed.Uncertainty-want) > 1e-4 {
		t.Errorf("speed ± %g m/s, fewer revs move it by %g", got.Speed.Uncertainty, want)
	}
}

func TestWhatWasNotMeasuredStays(t *testing.T) {
	l, b, r, _ := measuredBowler(t, ball.Right)
	got, err := measure.Study{Setup: studies.Setup{Lane: l, Ball: b, Release: r}}.Run()
	if err != nil || got.Release != r || got.Speed != nil || got.AxisTilt != nil || got.PAPOver != nil {
		t.Errorf("%+v, %v", got, err)
	}
	got, err = measure.Study{Setup: studies.Setup{Lane: l, Ball: b, Release: r}, Readings: measure.Readings{RingSize: &measure.RingSpan{
		Size: measure.Reading{Value: 2 * b.Radius * math.Cos(0.3), Error: 1e-3}, Method: oilring.AcrossChord}}}.Run()
	if err != nil || math.Abs(got.Release.AxisTilt-0.3) > 1e-12 || got.PAPOver != nil || !got.SignOpen {
		t.Errorf("%+v, %v", got, err)
	}
}

func TestMeasureRefuses(t *testing.T) {
	l, b, r, good := measuredBowler(t, ball.Right)
	for field, change := range map[string]func(m *measure.Readings){
		"lane_time": func(m *measure.Readings) {
			m.LaneTime = &measure.LaneTime{To: 18, Time: measure.Reading{Value: -2}}
		},
		"frames":    func(m *measure.Readings) { m.Frames = &measure.FrameCount{} },
		"ring":      func(m *measure.Readings) { m.Ring = &measure.RingPoints{Points: good.Ring.Points[:2]} },
		"ring_size": func(m *measure.Readings) { m.RingSize = &measure.RingSpan{} },
		"photo":     func(m *measure.Readings) { m.Photo = &measure.Photo{View: "side"} },
	} {
		m := good
		change(&m)
		_, err := measure.Study{Setup: studies.Setup{Lane: l, Ball: b, Release: r}, Readings: m}.Run()
		var e *measure.ReadingError
		if !errors.As(err, &e) || e.Field != field || !strings.HasPrefix(err.Error(), field+": ") {
			t.Errorf("%s: %v", field, err)
		}
	}
	m := good
	m.Ring = &measure.RingPoints{}
	_, err := measure.Study{Setup: studies.Setup{Lane: l, Ball: b, Release: r}, Readings: m}.Run()
	var ring *oilring.Error
	if !errors.As(err, &ring) || ring.Problem != oilring.TooFewPoints {
		t.Errorf("no points: %v", err)
	}
}
