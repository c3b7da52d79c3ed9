package validation

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"lanesim/lane"
	"lanesim/physics"
)

// TestWorkPrecision measures the computing time of a shot against its error at the pins and
// writes a CSV file to the path in LANESIM_PRECISION. The figure in the folder precision is
// drawn from that file.
func TestWorkPrecision(t *testing.T) {
	path := os.Getenv("LANESIM_PRECISION")
	if path == "" {
		t.Skip("LANESIM_PRECISION names no file")
	}
	shots, err := scipyShots()
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	b.WriteString("shot,tolerance,error_boards,microseconds\n")
	for _, s := range shots {
		if s.Name != scipyOilCase && s.Ball.Memory.Off {
			continue
		}
		if s.Name != scipyOilCase && !strings.Contains(s.Name, "benchmark") {
			continue
		}
		want := s.Marks[len(s.Marks)-1].Lateral
		thrower := physics.NewThrower()
		for exponent := -2.0; exponent >= -11; exponent -= 0.5 {
			settings := physics.Settings{Tolerance: math.Pow(10, exponent), Gravity: s.Gravity, PathSpacing: -1, ExchangeSpacing: -1}
			best := math.Inf(1)
			var shot physics.Shot
			for range 7 {
				const throws = 20
				start := time.Now()
				for range throws {
					if shot, err = thrower.Throw(s.Lane, s.Ball, s.Release, settings); err != nil {
						t.Fatal(err)
					}
				}
				best = min(best, float64(time.Since(start).Microseconds())/throws)
			}
			off := math.Abs(shot.Events.Pins.Lateral-want) / lane.BoardWidth
			fmt.Fprintf(&b, "%q,%.2g,%.3g,%.4g\n", s.Name, settings.Tolerance, off, best)
		}
	}
	if err := os.WriteFile(path, []byte(b.String()), 0o666); err != nil {
		t.Fatal(err)
	}
}
