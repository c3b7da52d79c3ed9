package scenario

import (
	"errors"
	"testing"
)

// Reading any text gives either a sweep whose first and last points can be resolved or
// errors with places in the text.
func FuzzReadSweep(f *testing.F) {
	for _, file := range testFiles(f, "testdata/sweeps/*.yaml") {
		f.Add(file.text, "ball.rg=2.5 in")
	}
	f.Add([]byte(sweepScenario+"vary: {ball.rg: {from: 2.5 in, to: 2.6 in, steps: 3}, lane.oil: [dry, {kind: crown, length: 40 ft, volume: 20 mL, ratio: 2}]}\ncolumns: [pocket]"), "balls.Near.rg=2.5 in")
	f.Add([]byte(sweepScenario+"vary: {ball.rg: {from: 2.5 in, to: 2.6 in}, 'bowlers[1].speed': [17 mph, 20 km/h]}\ncolumns: [pins.board]\ndesign: halton\npoints: 20"), "title=A")
	f.Fuzz(func(t *testing.T, data []byte, set string) {
		s, err := ReadSweep("sweep.yaml", data, func(string) ([]byte, error) { return []byte(twoBalls), nil }, []string{set})
		if err != nil {
			var problems Errors
			if !errors.As(err, &problems) || len(problems) == 0 {
				t.Fatalf("%T is not Errors", err)
			}
			checkPlaces(t, problems)
			return
		}
		if _, err := s.Identity(); err != nil {
			t.Fatal(err)
		}
		r := s.Resolver()
		for _, k := range []uint64{0, s.Points() - 1} {
			if _, err := r.Point(k); err != nil {
				t.Fatal(err)
			}
		}
	})
}
