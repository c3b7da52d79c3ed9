package scenario

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// Reading any text gives either a sweep whose first and last points can be resolved or
// errors with places in the text.
func FuzzReadSweep(f *testing.F) {
	files, err := filepath.Glob("testdata/sweeps/*.yaml")
	if err != nil || len(files) == 0 {
		f.Fatal("no test data", err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data, "ball.rg=2.5 in")
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
