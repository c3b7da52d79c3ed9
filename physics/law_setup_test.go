package physics

import (
	"math"
	"math/bits"
	"testing"

	"pgregory.net/rapid"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/units"
)

// The law tests draw lanes, balls and releases at random and check laws that every computed motion must obey.
// Each logs the worst value measured and its bound.

const (

	// machineRounding is half the distance from 1 to the next number.
	machineRounding = 0x1p-53
)

// lawChecker is the common interface of a single check and a whole test.
type lawChecker interface {
	Helper()
	Errorf(format string, args ...any)
	Fatalf(format string, args ...any)
}

// lawBound checks a measured quantity against its bound and keeps the worst value.
type lawBound struct {
	what         string
	bound, worst float64
	measured     int
}

// hold fails the check if v is beyond the bound or NaN.
func (b *lawBound) hold(t lawChecker, v float64) {
	t.Helper()
	b.measured++
	if v > b.worst || math.IsNaN(v) {
		b.worst = v
	}
	if !(v <= b.bound) {
		t.Errorf("%s: %.4g, above %.4g", b.what, v, b.bound)
	}
}

// report logs the worst value; a law that was never measured fails.
func (b *lawBound) report(t *testing.T) {
	t.Helper()
	t.Logf("%s: at most %.3g in %d measurements, bound %.3g", b.what, b.worst, b.measured, b.bound)
	if b.measured == 0 && !t.Failed() {
		t.Errorf("%s: never measured", b.what)
	}
}

// lawShare draws uniformly from 0 to 1 by the radical inverse of a whole number (van der Corput 1935), which
// spreads small numbers over the range, too.
func lawShare() *rapid.Generator[float64] {
	return rapid.Map(rapid.Uint32(), func(n uint32) float64 { return float64(bits.Reverse32(n)) / (1 << 32) })
}

func lawDraw(t *rapid.T, what string, low, high float64) float64 {
	return low + (high-low)*lawShare().Draw(t, what)
}

// lawOil draws an oil grid with up to 80 units at each node, smooth or not.
func lawOil(t *rapid.T) *lane.OilMap {
	rows, columns := rapid.IntRange(1, 5).Draw(t, "rows"), rapid.IntRange(1, 12).Draw(t, "columns")
	distances := make([]float64, rows)
	x := lawDraw(t, "first row", 0, 5)
	for i := range distances {
		distances[i] = x
		x += lawDraw(t, "row spacing", 0.5, 4)
	}
	film := rapid.SliceOfN(lawShare(), rows*columns, rows*columns).Draw(t, "film")
	for i := range film {
		film[i] *= 80 * units.OilUnit
	}
	spacing := lane.Width / float64(columns)
	oil, err := lane.NewOilMap(distances, -lane.Width/2+spacing/2, spacing, columns, film)
	if err != nil {
		t.Fatal(err)
	}
	return oil
}

// lawFriction draws a level lane with any friction law: oiled, dry, of zones
// or of one coefficient, from low to high.
func lawFriction(t *rapid.T, low, high float64) lane.Lane {
	l := lane.Default()
	switch rapid.IntRange(0, 3).Draw(t, "law") {
	case 0:
		l.Friction = lane.Friction{Law: lane.Constant, Mu: lawDraw(t, "mu", low, high)}
	case 1:
		x := 0.0
		var zones []lane.Zone
		for range rapid.IntRange(1, 4).Draw(t, "zones") {
			x += lawDraw(t, "zone length", 0.2, 6)
			zones = append(zones, lane.Zone{To: x, Mu: lawDraw(t, "zone mu", low, high)})
		}
		zones[len(zones)-1].To = math.Inf(1)
		l.Friction = lane.Friction{Law: lane.Zones, Zones: zones}
	case 2:
		l.Oil = lawOil(t)
		l.Roughness = lawDraw(t, "lane roughness", 0, 0.4e-6)
		l.Friction.Film, l.Friction.Dry = low, high
	default:
		l.Friction.Film, l.Friction.Dry = low, high
	}
	return l
}

// endless removes gutters and pins.
func endless(l lane.Lane) lane.Lane {
	l.Length, l.Edgeless = math.Inf(1), true
	return l
}

// lawSphere draws a centred ball with equal moments and no pivot friction.
func lawSphere(t *rapid.T) ball.Ball {
	s := ball.Default()
	s.Diameter = lawDraw(t, "diameter", 8.5, 8.6) * units.Inch
	s.RG = lawDraw(t, "rg", 2.46, 2.80) * units.Inch
	s.Weight = lawDraw(t, "weight", 6, 16) * units.Pound
	s.ContactRadius = 0
	s.Memory.Off = rapid.Bool().Draw(t, "memory off")
	return lawPrepare(t, s, ball.Right)
}

// lawSpecification draws a ball within the rule book: any differential, layout
// and finish, with its centre of mass up to 1.7 mm off.
func lawSpecification(t *rapid.T) ball.Specification {
	s := ball.Default()
	s.Weight = lawDraw(t, "weight", 10, 16) * units.Pound
	s.Diameter = lawDraw(t, "diameter", 8.5, 8.595) * units.Inch
	s.RG = lawDraw(t, "rg", 2.46, 2.80) * units.Inch
	s.Differential = lawDraw(t, "differential", 0, 0.060) * units.Inch
	s.IntermediateDifferential = s.Differential * lawDraw(t, "asymmetry", 0, 1)
	s.Roughness = lawDraw(t, "roughness", 5, 50) * units.Microinch
	s.Layout = &ball.Layout{
		DrillingAngle: lawDraw(t, "drilling angle", 0, 90) * units.Degree,
		PinToPAP:      lawDraw(t, "pin to PAP", 0, 6.75) * units.Inch,
		VALAngle:      lawDraw(t, "VAL angle", 0, 90) * units.Degree,
	}
	if rapid.Bool().Draw(t, "offset") {
		for i := range s.Offset {
			s.Offset[i] = lawDraw(t, "offset", -1e-3, 1e-3)
		}
	}
	if !rapid.Bool().Draw(t, "pivot friction") {
		s.ContactRadius = 0
	}
	s.Memory.Off = rapid.Bool().Draw(t, "memory off")
	return s
}

func lawPrepare(t lawChecker, s ball.Specification, hand ball.Hand) ball.Ball {
	t.Helper()
	b, err := s.Prepare(ball.DefaultPAP(), hand)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return b
}

// lawRelease draws a release, from back-up balls to spinners.
func lawRelease(t *rapid.T) Release {
	return Release{
		Speed:           lawDraw(t, "speed", 10, 24) * units.MPH,
		RevRate:         lawDraw(t, "rev rate", 0, 600) * units.RPM,
		AxisRotation:    lawDraw(t, "axis rotation", -30, 120) * units.Degree,
		AxisTilt:        lawDraw(t, "axis tilt", -20, 60) * units.Degree,
		Phase:           lawDraw(t, "phase", -math.Pi, math.Pi),
		Laydown:         lawDraw(t, "laydown", 5, 35),
		LaydownDistance: lawDraw(t, "laydown distance", 0, 1),
		Angle:           lawDraw(t, "angle", -2, 5) * units.Degree,
	}
}

// lawThrow computes a shot and fails the test on an error.
func lawThrow(t lawChecker, thrower *Thrower, l lane.Lane, b ball.Ball, r Release, s Settings) Shot {
	t.Helper()
	shot, err := thrower.Throw(l, b, r, s)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return shot
}

// lawScan calls look with states along the dense solution, after setting the machine to the conditions of the
// piece and evaluating the rates there.
func lawScan(t *Thrower, samples int, look func(i int, p *piece, time float64, y, rates []float64)) {
	var y, rates [dimension]float64
	for i := range t.pieces {
		p := &t.pieces[i]
		t.resume(p)
		for k := range samples + 1 {
			time := p.Start + (p.End-p.Start)*float64(k)/float64(samples)
			p.At(time, y[:])
			t.m.rate(time, y[:], rates[:])
			look(i, p, time, y[:], rates[:])
		}
	}
}

// lawSlip returns the slip velocity of a centred ball.
func lawSlip(y []float64, radius float64) (ux, uy float64) {
	return y[ivx] - radius*y[iwy], y[ivy] + radius*y[iwx]
}
