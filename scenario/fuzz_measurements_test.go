package scenario

import (
	"errors"
	"testing"

	"lanesim/studies"
	"lanesim/studies/measure"
)

// Reading any text gives either measurements that can be worked out or errors with places
// in the text.
func FuzzReadMeasurements(f *testing.F) {
	for _, file := range append(testFiles(f, "testdata/measurements/*.yaml"), testFiles(f, "../examples/measured-bowler.yaml")...) {
		f.Add(file.text, []byte(aLane+"bowler: low revs"))
	}
	f.Add([]byte("scenario: s.yaml\nring: {size: 10 in, across: chord}"), []byte(twoBalls))
	f.Add([]byte("scenario: s.yaml\nframes: {revolutions: 1, frames: 9, rate: 60 fps}"), []byte("lane: {}"))
	f.Fuzz(func(t *testing.T, data, other []byte) {
		m, err := ReadMeasurements("measured.yaml", data, func(string) ([]byte, error) { return other, nil })
		if err != nil {
			var problems Errors
			if !errors.As(err, &problems) || len(problems) == 0 {
				t.Fatalf("%T is not Errors", err)
			}
			return
		}
		b, err := m.Prepared()
		if err != nil {
			return // the grip may not fit the axis that the ring gives
		}
		m.Readings.LaneTime = nil // the simulation takes long and has its own tests
		out, err := measure.Study{Setup: studies.Setup{Lane: m.Lane, Ball: b, Release: m.Bowler.Release}, Readings: m.Readings}.Run()
		if err != nil {
			var problems Errors
			if !errors.As(m.Place(err), &problems) {
				t.Fatalf("not placed: %v", err)
			}
			checkPlaces(t, problems)
			return
		}
		text := BowlerYAML(m.Measured(out).Rounded())
		if _, err := Read("made.yaml", append([]byte(aLane), text...), nil, nil); err != nil {
			t.Fatalf("%v\nin\n%s", err, text)
		}
	})
}
