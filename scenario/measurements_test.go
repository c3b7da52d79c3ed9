package scenario

import (
	"errors"
	"math"
	"os"
	"path"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/ball/oilring"
	"lanesim/studies"
	"lanesim/studies/measure"
	"lanesim/units"

	"github.com/google/go-cmp/cmp"
)

func readMeasurements(t testing.TB, text string) *Measurements {
	t.Helper()
	open := func(name string) ([]byte, error) {
		if path.Base(name) != "shot.yaml" {
			return nil, os.ErrNotExist
		}
		return []byte("lanes: [{oil: flat}, {oil: dry}]\nball: {name: plain, diameter: 8.5 in}\n" +
			"bowler: {like: high revs, name: Lefty, hand: left, angle: 3 deg, phase: 10 deg}"), nil
	}
	m, err := ReadMeasurements("folder/measured.yaml", []byte(text), open)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Every bad file gives exactly the messages in its golden file.
func TestErrorsOfMeasurements(t *testing.T) {
	checkErrors(t, "testdata/measurements/*.yaml", func(name string, data []byte) (any, error) {
		m, err := ReadMeasurements(name, data, openIn("measurements"))
		return m, err
	})
}

func TestMeasurementsAreRead(t *testing.T) {
	m := readMeasurements(t, `
title: Everything
name: Own
hand: left
lane: {oil: flat}
ball: {weight: 15 lb, diameter: 8.5 in, rg: 2.5 in, roughness: 20 uin}
laydown: 25
laydown_distance: 6 in
angle: 1 deg
lane_time: {from: 2 ft, to: 58 ft, time: 2.3 s, error: 20 ms, distance_error: 3 in}
frames: {revolutions: 1 1/2, frames: 9, rate: 60 frames/s, error: 0.5, revolutions_error: 0}
ring: {points: [[-3 in, 0 in], [-2.5 in, 2 in], [-2.5 in, −2 in]], error: 2 mm}
photo: {view: behind, angle: 20 deg, elevation: 30 deg, error: 2 deg, elevation_error: 1 deg}
settings: {tolerance: 1e-7}
`)
	want := measure.Readings{
		LaneTime: &measure.LaneTime{From: 2 * units.Foot, To: 58 * units.Foot, Time: measure.Reading{Value: 2.3, Error: 0.02}, DistanceError: 3 * units.Inch},
		Frames:   &measure.FrameCount{Revolutions: measure.Reading{Value: 1.5}, Frames: measure.Reading{Value: 9, Error: 0.5}, FramesPerSecond: 60},
		Ring: &measure.RingPoints{Error: 2e-3, Points: []ball.SurfacePoint{{Over: -3 * units.Inch}, {Over: -2.5 * units.Inch, Up: 2 * units.Inch},
			{Over: -2.5 * units.Inch, Up: -2 * units.Inch}}},
		Photo: &measure.Photo{View: measure.FromBehind, Angle: measure.Reading{Value: 20 * units.Degree, Error: 2 * units.Degree},
			Elevation: measure.Reading{Value: 30 * units.Degree, Error: units.Degree}},
	}
	nearly := cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) <= 1e-15*(1+math.Abs(a)) }) // the last digit of either
	if diff := cmp.Diff(want, m.Readings, nearly); diff != "" {
		t.Errorf("readings (-want +got):\n%s", diff)
	}
	r := m.Bowler.Release
	if m.Title != "Everything" || m.Bowler.Name != "Own" || r.Hand != ball.Left || r.Laydown != 25 || r.LaydownDistance != 6*units.Inch ||
		r.Angle != units.Degree || m.Bowler.AimAtPocket || m.Lane.Name != "" && m.Lane.Oil == nil || m.Ball.Diameter != 8.5*units.Inch || m.Settings.Tolerance != 1e-7 {
		t.Errorf("%+v", m)
	}
	for _, key := range []string{"speed", "rev_rate", "axis_rotation", "axis_tilt", "pap"} {
		if source, there := m.Sources[key]; there {
			t.Errorf("%s was measured, not %s", key, source)
		}
	}
	for _, key := range []string{"hand", "laydown", "angle"} {
		if m.Sources[key] != asGiven {
			t.Errorf("%s is %s", key, m.Sources[key])
		}
	}
	if len(m.Warnings) > 0 {
		t.Errorf("warned of %q", m.Warnings)
	}
}

// Values that were not measured come from the file, the scenario or a built-in bowler, and
// the sources say so.
func TestUnmeasuredValues(t *testing.T) {
	find := func(word string) Bowler {
		for _, b := range BuiltinBowlers() {
			if b.Word == word {
				return b.Bowler
			}
		}
		t.Fatal(word)
		return Bowler{}
	}
	medium, high := find("medium revs"), find("high revs")
	const frames = "frames: {revolutions: 1.5, frames: 9, rate: 60 fps}\n"

	m := readMeasurements(t, frames)
	if b := m.Bowler; !b.AimAtPocket || b.PAP != medium.PAP || b.Release.AxisTilt != medium.Release.AxisTilt || b.Release.Angle != 2*units.Degree ||
		!strings.Contains(m.Sources["axis_tilt"], "medium revs, assumed") || !strings.Contains(m.Sources["angle"], "assumed") {
		t.Errorf("%+v, %v", b, m.Sources)
	}
	m = readMeasurements(t, frames+"like: high revs\naxis_tilt: 20 deg\n")
	if b := m.Bowler; b.Release.AxisTilt != 20*units.Degree || b.Release.AxisRotation != high.Release.AxisRotation ||
		m.Sources["axis_tilt"] != asGiven || !strings.Contains(m.Sources["axis_rotation"], "high revs, assumed") {
		t.Errorf("%+v, %v", b, m.Sources)
	}
	m = readMeasurements(t, frames+"scenario: shot.yaml\n")
	if b := m.Bowler; b.Name != "Lefty" || b.Release.Hand != ball.Left || b.Release.Angle != 3*units.Degree || b.AimAtPocket || b.Release.Phase != 10*units.Degree ||
		!strings.Contains(m.Sources["angle"], "of Lefty in the scenario") || m.Lane.Oil == nil || m.Ball.Diameter != 8.5*units.Inch {
		t.Errorf("%+v, %v", b, m.Sources)
	}
	if !strings.Contains(strings.Join(m.Warnings, " "), "the first lane, ball and bowler are used: Flat forty-two, plain, Lefty") {
		t.Errorf("warned of %q", m.Warnings)
	}
	m = readMeasurements(t, frames+"scenario: shot.yaml\nlike: low revs\n")
	if b := m.Bowler; b.Name != defaultMeasuredName || b.Release.Hand != ball.Right || !b.AimAtPocket || m.Lane.Oil == nil {
		t.Errorf("%+v, %v", b, m.Sources)
	}
	m = readMeasurements(t, "ring: {size: 10 in, across: around}")
	if got := m.Readings.RingSize; got == nil || got.Method != oilring.Around || got.Size.Error != 0.1*units.Inch || m.Readings.Ring != nil {
		t.Errorf("%+v", got)
	}
	if all := strings.Join(m.Warnings, " "); !strings.Contains(all, "ball is not given") || !strings.Contains(all, "ring.error is not given: 1/10 in") {
		t.Errorf("warned of %q", m.Warnings)
	}
}

// Readings that turn out to be impossible are reported at their places.
func TestImpossibleReadingsArePlaced(t *testing.T) {
	for text, want := range map[string]string{
		"frames: {revolutions: 5, frames: 9, rate: 60 fps}":                                          "1:9: frames: 1.8 frames per revolution",
		"ring: {points: [[1 in, 0 in], [1 in, 0 in], [1 in, 0 in]]}":                                 "1:7: ring: oil ring: too few points",
		"ring: {size: 20 in, across: chord}":                                                         "1:7: ring: oil ring: impossible reading",
		"photo: {view: behind, angle: 20 deg, elevation: 10 deg}":                                    "1:8: photo: from behind, the camera's elevation",
		"lane: {oil: dry}\nlane_time: {to: 60 ft, time: 2.4 s}\nlaydown_distance: 1 ft":              "2:12: lane_time: the stretch from 0",
		"lane: {oil: dry, friction: {law: constant, mu: 2}}\nlane_time: {to: 60 ft, time: 1000 s}\n": "2:12: lane_time: no release speed",
	} {
		m := readMeasurements(t, text)
		b, err := m.Prepared()
		if err != nil {
			t.Fatal(err)
		}
		_, err = measure.Study{Setup: studies.Setup{Lane: m.Lane, Ball: b, Release: m.Bowler.Release}, Readings: m.Readings, Settings: m.Settings}.Run()
		placed := m.Place(err)
		problems := Errors(nil)
		if !errors.As(placed, &problems) || !strings.HasPrefix(placed.Error(), "folder/measured.yaml:"+want) {
			t.Errorf("%s\ngives %v, want %s", text, placed, want)
		}
	}
	other := errors.New("something else")
	if got := readMeasurements(t, "frames: {revolutions: 1.5, frames: 9, rate: 60 fps}").Place(other); got != other {
		t.Errorf("%v became %v", other, got)
	}
}

// The ball is drilled for the axis that the ring gives.
func TestTheBallIsDrilledForTheMeasuredAxis(t *testing.T) {
	const ballText = "ball: {weight: 15 lb, diameter: 8.5 in, rg: 2.5 in, differential: 0.05 in, roughness: 20 uin, layout: {drilling_angle: 60 deg, pin_to_pap: 4 in, val_angle: 40 deg}}\n"
	ring := "ring: {points: [[-7.2 in, 5.3 in], [-2.9 in, 1.7 in], [-2.5 in, −2.6 in], [-10.8 in, -6 in]]}\n"
	m := readMeasurements(t, ballText+ring)
	made, err := m.Prepared()
	if err != nil {
		t.Fatal(err)
	}
	out, err := measure.Study{Setup: studies.Setup{Lane: m.Lane, Ball: made, Release: m.Bowler.Release}, Readings: m.Readings, Settings: m.Settings}.Run()
	if err != nil {
		t.Fatal(err)
	}
	found := m.Measured(out)
	if found.PAP == m.Bowler.PAP || found.PAP.Over != out.PAPOver.Value || found.Release.AxisTilt != out.AxisTilt.Value {
		t.Errorf("measured %+v", found)
	}
	want, _, err := m.Ball.Drill(found.PAP, ball.Right, m.Grip)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, made); diff != "" {
		t.Errorf("ball (-want +got):\n%s", diff)
	}
}

func TestRoundedBowlersAreNear(t *testing.T) {
	b := BuiltinBowlers()[0].Bowler
	b.PAP = ball.PAP{Over: 0.123456789, Up: -0.0123456789}
	b.Release.Speed, b.Release.RevRate, b.Release.AxisRotation, b.Release.AxisTilt = 7.987654321, 33.987654321, 0.787654321, -0.123456789
	r := b.Rounded()
	for name, pair := range map[string][3]float64{
		"over": {b.PAP.Over, r.PAP.Over, 0.005 * units.Inch}, "up": {b.PAP.Up, r.PAP.Up, 0.005 * units.Inch},
		"speed": {b.Release.Speed, r.Release.Speed, 0.005 * 0.44704}, "rev rate": {b.Release.RevRate, r.Release.RevRate, 0.5 * math.Pi / 30},
		"rotation": {b.Release.AxisRotation, r.Release.AxisRotation, 0.05 * units.Degree}, "tilt": {b.Release.AxisTilt, r.Release.AxisTilt, 0.05 * units.Degree},
	} {
		const half = 1 + 1e-9 // allows a tie to be rounded either way
		if pair[0] == pair[1] || math.Abs(pair[0]-pair[1]) > half*pair[2] {
			t.Errorf("%s %v is rounded to %v", name, pair[0], pair[1])
		}
	}
	if text := string(BowlerYAML(r)); !strings.Contains(text, "pap: {over: 4.86 in, up: -0.49 in}\n  speed: 17.87 mph\n  rev_rate: 325 rpm\n") {
		t.Errorf("written as\n%s", text)
	}
}

// Every default of a file of measurements can be read, and the reference lists
// every key.
func TestTheFieldsOfMeasurementsAreInOrder(t *testing.T) {
	_, page, found := strings.Cut(Reference(), "# Fields of a file of measurements\n")
	if !found {
		t.Fatal("the reference has no part on measurements")
	}
	own := []*shape{laneTimeShape, framesShape, ringShape, photoShape}
	for _, f := range measurementShape.forms[0].fields {
		if f.meaning == "" || f.note == "" || f.fallback != "" || f.required {
			t.Errorf("%s: what if it is absent?", f.key)
		}
		if !strings.Contains(page, "| `"+f.key+"` | "+f.meaning+" |") {
			t.Errorf("the reference lacks %s", f.key)
		}
	}
	for _, s := range own {
		eachField(s, func(f *field) {
			if f.fallback != "" {
				(&decoder{}).fallback(f, f.key) // panics if it cannot be read
			}
			if f.fallback == "" && !f.required && f.note == "" || f.meaning == "" || strings.HasSuffix(f.meaning, ".") {
				t.Errorf("%s: %q; what if it is absent?", f.key, f.meaning)
			}
			if !strings.Contains(page, "| `"+f.key+"` | "+f.meaning+" |") {
				t.Errorf("the reference lacks %s", f.key)
			}
		})
	}
}
