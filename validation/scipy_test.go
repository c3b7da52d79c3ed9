package validation

import (
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"lanesim/lane"
	"lanesim/physics"
)

// TestAgainstScipy compares all shots at all marks.
func TestAgainstScipy(t *testing.T) {
	shots, err := scipyShots()
	if err != nil {
		t.Fatal(err)
	}
	if len(shots) == 0 {
		t.Fatal("no shots")
	}
	for _, s := range shots {
		t.Run(s.Name, func(t *testing.T) {
			shot, err := s.throw()
			if err != nil {
				t.Fatal(err)
			}
			if shot.Events.Pins == nil {
				t.Fatalf("the ball does not arrive: %s", shot.Status)
			}
			if s.ReSlips != nil && shot.Summary.ReSlips != *s.ReSlips {
				t.Errorf("broke away %d times, want %d", shot.Summary.ReSlips, *s.ReSlips)
			}
			compared := 0
			for _, want := range s.Marks {
				got := mark(shot, want.Distance)
				if got == nil {
					t.Errorf("no mark at %.3f m", want.Distance)
					continue
				}
				compared++
				compare(t, s, want, *got)
			}
			if compared < 4 {
				t.Errorf("only %d marks", compared)
			}
			end := s.Marks[len(s.Marks)-1]
			check(t, "flare", shot.Summary.Flare, end.Flare, s.bound("flare_m", s.Ball.Radius*end.Turned))
			check(t, "turns", 2*math.Pi*shot.Summary.Revolutions, end.Turned, s.bound("turned_rad", end.Turned))
		})
	}
}

// mark returns the shot's state at a distance in m, nil if it has none.
func mark(shot physics.Shot, distance float64) *physics.State {
	const sameDistance = 1e-9 // m; distances in feet differ by rounding
	if math.Abs(distance-lane.HeadPin) < sameDistance {
		return shot.Events.Pins
	}
	for i := range shot.Marks {
		if math.Abs(shot.Marks[i].Distance-distance) < sameDistance {
			return &shot.Marks[i]
		}
	}
	return nil
}

func compare(t *testing.T, s scipyShot, want scipyState, got physics.State) {
	t.Helper()
	check(t, "time", got.Time, want.Time, s.bound("time_s", want.Time))
	check(t, "lateral", got.Lateral, want.Lateral, s.bound("lateral_m", lane.Width))
	check(t, "slip", got.Slip, want.Slip, s.bound("slip_m_s", s.Release.Speed))
	for i := range want.Velocity {
		check(t, "velocity", got.Velocity[i], want.Velocity[i], s.bound("velocity_m_s", s.Release.Speed))
	}
	for i := range want.Spin {
		check(t, "spin", got.Spin[i], want.Spin[i], s.bound("spin_rad_s", s.Release.Speed/s.Ball.Radius))
	}
}

func check(t *testing.T, what string, got, want, bound float64) {
	t.Helper()
	if !(math.Abs(got-want) <= bound) {
		t.Errorf("%s %.12g, want %.12g: off by %.2g, bound %.2g", what, got, want, got-want, bound)
	}
}

// TestScipyRegenerates runs the scipy program again and compares its results with the file
// in the repository.
func TestScipyRegenerates(t *testing.T) {
	const variable = "LANESIM_SCIPY"
	const python = "/usr/bin/python3" // Debian's, the one with Debian's package of scipy
	if os.Getenv(variable) != "1" {
		t.Skipf("takes minutes: set %s=1, with scipy for %s (on Debian: apt-get install python3-scipy)", variable, python)
	}
	folder := t.TempDir()
	scripts, err := filepath.Glob(filepath.Join("scipy", "*.py"))
	if err != nil || len(scripts) == 0 {
		t.Fatalf("scripts %v: %v", scripts, err)
	}
	for _, path := range scripts {
		source, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(folder, filepath.Base(path)), source, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	command := exec.Command(python, filepath.Join(folder, "reference.py"))
	if output, err := command.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s(is scipy there? on Debian: apt-get install python3-scipy)", err, output)
	}
	read := func(path string) map[string]any {
		source, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		var file struct{ Cases []map[string]any }
		if err := json.Unmarshal(source, &file); err != nil {
			t.Fatal(err)
		}
		cases := map[string]any{}
		for _, c := range file.Cases {
			delete(c, "accuracy") // rounding decides its digits
			cases[c["name"].(string)] = c
		}
		return cases
	}
	same(t, "", read(filepath.Join(folder, "cases.json")), read(filepath.Join("scipy", "cases.json")))
}

// same compares two decoded files. Numbers may differ as much as between versions of scipy
// and its compiler.
func same(t *testing.T, path string, got, want any) {
	t.Helper()
	const versions = 1e-7
	switch want := want.(type) {
	case map[string]any:
		g, ok := got.(map[string]any)
		if !ok || len(g) != len(want) {
			t.Errorf("%s: %v, want %v", path, got, want)
			return
		}
		for k, v := range want {
			same(t, path+"/"+k, g[k], v)
		}
	case []any:
		g, ok := got.([]any)
		if !ok || len(g) != len(want) {
			t.Errorf("%s: %v, want %v", path, got, want)
			return
		}
		for i, v := range want {
			same(t, path, g[i], v)
		}
	case float64:
		if g, ok := got.(float64); !ok || !(math.Abs(g-want) <= versions*max(1, math.Abs(want))) {
			t.Errorf("%s: %v, want %v", path, got, want)
		}
	default:
		if got != want {
			t.Errorf("%s: %v, want %v", path, got, want)
		}
	}
}
