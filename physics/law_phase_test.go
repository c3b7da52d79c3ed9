package physics_test

import (
	"math"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/patterns"
	"lanesim/physics"
	"lanesim/units"
)

// Bowlers do not control the phase of the core at release, so hook start and friction read must not depend on
// it much: over twelve phases they stay near their means.
func TestPhaseMovesHookStartAndFrictionReadLittle(t *testing.T) {
	oil, err := patterns.Crown{Length: 40 * units.Foot, Volume: 24.5 * units.Millilitre, Ratio: 10}.Build()
	if err != nil {
		t.Fatal(err)
	}
	l := lane.Default()
	l.Oil = oil
	r := physics.Release{Speed: 18 * units.MPH, RevRate: 325 * units.RPM, AxisRotation: 60 * units.Degree, AxisTilt: 13 * units.Degree,
		Laydown: 28, Angle: 2.77 * units.Degree}
	thrower := physics.NewThrower()
	type extent struct{ least, most, mean float64 }
	worst := [2]float64{}
	for _, differential := range []float64{0.030, 0.050} {
		for _, intermediate := range []float64{0, 0.3} {
			for _, pin := range []float64{1, 2, 3.4, 5, 6.1} {
				s := ball.Default()
				s.Weight, s.Diameter, s.RG = 15*units.Pound, 8.58*units.Inch, 2.50*units.Inch
				s.Differential = differential * units.Inch
				s.IntermediateDifferential = intermediate * s.Differential
				s.Roughness = 14 * units.Microinch
				s.Layout = &ball.Layout{DrillingAngle: 60 * units.Degree, PinToPAP: pin * units.Inch, VALAngle: 40 * units.Degree}
				b, err := s.Prepare(ball.DefaultPAP(), ball.Right)
				if err != nil {
					t.Fatal(err)
				}
				events := [2]extent{{least: math.Inf(1), most: math.Inf(-1)}, {least: math.Inf(1), most: math.Inf(-1)}}
				flare := 0.0
				const phases = 12
				for k := range phases {
					r.Phase = 2 * math.Pi * float64(k) / phases
					shot, err := thrower.Throw(l, b, r, physics.Settings{PathSpacing: -1})
					if err != nil {
						t.Fatal(err)
					}
					for i, e := range []*physics.State{shot.Events.HookStart, shot.Events.FrictionRead} {
						if e == nil {
							t.Fatalf("pin %v in, phase %d: event %d does not happen", pin, k, i)
						}
						events[i].least = min(events[i].least, e.Distance/units.Foot)
						events[i].most = max(events[i].most, e.Distance/units.Foot)
						events[i].mean += e.Distance / units.Foot / phases
					}
					flare += shot.Summary.FlareOil / units.Inch / phases
				}
				bound := 1.0
				if flare > 2 {
					bound = 0.4
				}
				t.Logf("differential %.3f in, intermediate %.3f in, pin %.1f in: flare in the oil %.2f in", differential, intermediate*differential, pin, flare)
				for i, e := range events {
					off := max(e.most-e.mean, e.mean-e.least)
					t.Logf("  %s %.2f ft on the mean, off it by %.2f ft at most, %.2f ft from first to last", []string{"hook start", "friction read"}[i], e.mean, off, e.most-e.least)
					if worst[i] = max(worst[i], off); off > bound {
						t.Errorf("above %v ft", bound)
					}
				}
			}
		}
	}
	t.Logf("at most off the mean: hook start %.2f ft, friction read %.2f ft", worst[0], worst[1])
}
