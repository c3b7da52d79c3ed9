package physics

import (
	"math"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/units"
)

// benchmarkShot is an asymmetric ball on a crowned grid: 10:1 across, 40 units
// at the front, falling to 35 % over 41 ft.
func benchmarkShot(memory bool) (lane.Lane, ball.Ball, Release) {
	distances := make([]float64, 42)
	rows := make([][]float64, 42)
	for i := range distances {
		distances[i] = float64(i) * units.Foot
		rows[i] = make([]float64, lane.Boards)
		along := 40 * (1 - 0.65*float64(i)/41)
		for j := range rows[i] {
			// Full between the second arrows, a tenth of it outside board 5, a
			// half cosine between.
			edge := math.Min(float64(j+1), float64(lane.Boards-j))
			u := math.Max(0, math.Min(1, (edge-5)/5))
			rows[i][j] = along * (0.1 + 0.9*(1-math.Cos(math.Pi*u))/2)
		}
	}
	oil, err := lane.NewBoardOilMap(distances, rows)
	if err != nil {
		panic(err)
	}
	l := lane.Default()
	l.Oil = oil
	l.Roughness = 0
	l.Friction = lane.Friction{Law: lane.Mixed, Film: 0.04, Dry: 0.22, Entrained: 0.5}
	s := ball.Default()
	s.Weight, s.Diameter = 15*units.Pound, 8.57*units.Inch
	s.RG, s.Differential, s.IntermediateDifferential = 2.48*units.Inch, 0.050*units.Inch, 0.015*units.Inch
	s.Layout = &ball.Layout{DrillingAngle: 60 * units.Degree, PinToPAP: 4.5 * units.Inch, VALAngle: 40 * units.Degree}
	s.Memory.Off = !memory
	b, err := s.Prepare(ball.DefaultPAP(), ball.Right)
	if err != nil {
		panic(err)
	}
	const mph, rpm = units.MPH, units.RPM
	return l, b, Release{
		Speed: 18.5 * mph, RevRate: 350 * rpm, AxisRotation: 50 * units.Degree, AxisTilt: 12 * units.Degree,
		Laydown: 24, Angle: 2.86 * units.Degree,
	}
}

// benchmarkTolerance is accurate to better than 0.01 board at the pins, and 0.02 with film on the ball;
// TestBenchmarkAccuracy checks this.
func benchmarkTolerance(memory bool) float64 {
	if memory {
		return 5e-4
	}
	return 1e-3
}

func benchmarkSettings(memory bool) Settings {
	return Settings{Tolerance: benchmarkTolerance(memory), PathSpacing: -1, ExchangeSpacing: -1}
}

func BenchmarkThrow(b *testing.B)       { benchmarkThrow(b, false, 0) }
func BenchmarkThrowMemory(b *testing.B) { benchmarkThrow(b, true, 0) }

// BenchmarkThrowDrilled throws a ball whose holes have moved the mass centre by a few tenths of a millimetre.
func BenchmarkThrowDrilled(b *testing.B) { benchmarkThrow(b, true, 3e-4) }

func benchmarkThrow(b *testing.B, memory bool, offset float64) {
	l, ball, r := benchmarkShot(memory)
	ball.Offset = [3]float64{offset, offset / 2, -offset}
	settings := benchmarkSettings(memory)
	t := NewThrower()
	shot, err := t.Throw(l, ball, r, settings)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if shot, err = t.Throw(l, ball, r, settings); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(shot.Stats.Evaluations), "evaluations")
	b.ReportMetric(float64(shot.Stats.Steps), "steps")
}

func TestBenchmarkAccuracy(t *testing.T) {
	for _, memory := range []bool{false, true} {
		l, b, r := benchmarkShot(memory)
		fine, err := Throw(l, b, r, Settings{Tolerance: 1e-11})
		if err != nil {
			t.Fatal(err)
		}
		for _, tolerance := range []float64{1e-3, 5e-4, 1e-4, 2e-5, 1.5e-5, 1e-5, 1e-6, 1e-8} {
			shot, err := Throw(l, b, r, Settings{Tolerance: tolerance})
			if err != nil {
				t.Fatal(err)
			}
			off := shot.EntryBoard() - fine.EntryBoard()
			t.Logf("memory %v, tolerance %.0e: %+v, %.2e board off, entry board %v", memory, tolerance, shot.Stats, off, shot.EntryBoard())
			bound := 0.01
			if memory {
				bound = 0.02
			}
			if tolerance == benchmarkTolerance(memory) && !(math.Abs(off) <= bound) {
				t.Errorf("memory %v: %.2g board off, above %v", memory, off, bound)
			}
		}
	}
}
