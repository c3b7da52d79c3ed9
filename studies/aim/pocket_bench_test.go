package aim_test

import (
	"context"
	"testing"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/internal/usual"
)

// All launch angles to the pocket for one ball, and for the mean over twelve phases.
func BenchmarkFindLines(b *testing.B) {
	for name, phases := range map[string]int{"one phase": 1, "twelve phases": 12} {
		b.Run(name, func(b *testing.B) {
			a := aim.Pocket{Setup: studies.Setup{Lane: usual.Crowned(b, 40, 24.5, 10), Ball: usual.LaidOut(b, ball.Right, true), Release: usual.Release()}, Phases: phases}
			if phases > 1 {
				a.Settings = studies.ForManyShots(physics.Settings{})
			}
			for b.Loop() {
				found, err := a.Run(context.Background())
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(len(found.Angles)), "lines")
			}
		})
	}
}
