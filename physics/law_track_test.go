package physics

import (
	"math"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/units"
)

// lawFlatReleases are releases from slow and low-rev to fast and high-rev.
var lawFlatReleases = []Release{
	{Speed: 16.5 * units.MPH, RevRate: 250 * units.RPM, AxisRotation: 40 * units.Degree, AxisTilt: 15 * units.Degree, Laydown: 20, Angle: 1.5 * units.Degree},
	{Speed: 17.8 * units.MPH, RevRate: 320 * units.RPM, AxisRotation: 50 * units.Degree, AxisTilt: 13 * units.Degree, Laydown: 22, Angle: 2.2 * units.Degree},
	{Speed: 18.5 * units.MPH, RevRate: 400 * units.RPM, AxisRotation: 55 * units.Degree, AxisTilt: 12 * units.Degree, Laydown: 26, Angle: 3 * units.Degree},
	{Speed: 19.5 * units.MPH, RevRate: 480 * units.RPM, AxisRotation: 60 * units.Degree, AxisTilt: 8 * units.Degree, Laydown: 28, Angle: 3.5 * units.Degree},
	{Speed: 18 * units.MPH, RevRate: 350 * units.RPM, AxisRotation: 65 * units.Degree, AxisTilt: 20 * units.Degree, Laydown: 25, Angle: 2.5 * units.Degree},
}

// lawFlatShot throws a symmetric ball of 0.035 in differential, with its pin at
// the given distance in in from the axis, on 42 ft of oil that is even from side
// to side and falls from 60 units to 15.
func lawFlatShot(t lawChecker, pin float64, r Release) (lane.Lane, ball.Ball, Release) {
	t.Helper()
	const length, front, back = 42, 60.0, 15.0
	distances := make([]float64, length+1)
	rows := make([][]float64, length+1)
	for i := range distances {
		distances[i] = float64(i) * units.Foot
		rows[i] = make([]float64, lane.Boards)
		for j := range rows[i] {
			rows[i][j] = front + (back-front)*float64(i)/length
		}
	}
	oil, err := lane.NewBoardOilMap(distances, rows)
	if err != nil {
		t.Fatalf("%v", err)
	}
	l := lane.Default()
	l.Oil = oil
	l.Edgeless = true
	s := ball.Default()
	s.Differential = 0.035 * units.Inch
	s.Layout = &ball.Layout{DrillingAngle: 60 * units.Degree, PinToPAP: pin * units.Inch, VALAngle: 40 * units.Degree}
	return l, lawPrepare(t, s, ball.Right), r
}

// One ball, thrown alike, with its pin far from the axis flares little and runs
// on its own oil: it reads the friction later than with its pin half way out. The
// cause is the oil on its track: without film memory the two read it nearly together.
func TestLawLowFlareReadsLaterForItsOil(t *testing.T) {
	thrower := NewThrower()
	later := func(r Release, memory bool) (read, flare float64) {
		var reads, flares [2]float64
		for i, pin := range []float64{6.2, 3.375} {
			l, b, r := lawFlatShot(t, pin, r)
			b.Memory.Off = !memory
			shot := lawThrow(t, thrower, l, b, r, Settings{PathSpacing: -1, ExchangeSpacing: -1})
			e := shot.Events
			if e.HookStart == nil || e.FrictionRead == nil {
				t.Fatalf("no hook: %+v", e)
			}
			reads[i], flares[i] = e.FrictionRead.Distance/units.Foot, shot.Summary.FlareOil/units.Inch
			t.Logf("memory %-5v pin %5.3f in: hook start %6.2f ft, friction read %6.2f ft, board %6.2f, entry %5.2f°, flare in oil %4.2f in",
				memory, pin, e.HookStart.Distance/units.Foot, reads[i], shot.EntryBoard(), shot.EntryAngle()/units.Degree, flares[i])
		}
		return reads[0] - reads[1], flares[1] - flares[0]
	}
	for i, r := range lawFlatReleases {
		t.Logf("release %d: %.1f mph, %.0f rpm, rotation %.0f°, tilt %.0f°", i, r.Speed/units.MPH, r.RevRate/units.RPM, r.AxisRotation/units.Degree, r.AxisTilt/units.Degree)
		read, flare := later(r, true)
		clean, _ := later(r, false)
		t.Logf("pin far reads the friction %.2f ft later; without memory %.2f ft; less flare by %.2f in", read, clean, flare)
		if !(flare > 0) {
			t.Errorf("release %d: the far pin flares no less", i)
		}
		if !(read > 0) {
			t.Errorf("release %d: the far pin reads the friction no later (%.2f ft)", i, read)
		}
		if math.Abs(clean) > math.Abs(read)/2 {
			t.Errorf("release %d: the friction is read %.2f ft apart without memory, %.2f with it", i, clean, read)
		}
	}
}
