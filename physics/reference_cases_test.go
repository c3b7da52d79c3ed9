package physics_test

import (
	"math"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/units"
)

// referenceSphere returns a centred ball with equal moments κ m R² and neither pivot
// friction nor film memory.
func referenceSphere(radius, kappa float64) ball.Ball {
	const mass = 7 // kg; cancels
	i := kappa * mass * radius * radius
	return ball.Ball{Radius: radius, Mass: mass, Moments: [3]float64{i, i, i},
		PAP: [3]float64{0, 0, 1}, Fingers: [3]float64{1, 0, 0},
		Memory: ball.FilmMemory{Off: true, ContactWidth: 6.5e-3, SoakIn: math.Inf(1)}}
}

func referenceEndless(mu float64) lane.Lane {
	l := lane.Default()
	l.Length, l.Edgeless = math.Inf(1), true
	l.Friction = lane.Friction{Law: lane.Constant, Mu: mu}
	return l
}

// referenceTwoZones is the lane of Frohlich 2004, Am. J. Phys. 72, 1170 (from memory):
// 0.04 on the oiled 12 m, 0.20 beyond.
func referenceTwoZones() lane.Lane {
	l := lane.Default()
	l.Friction = lane.Friction{Law: lane.Zones, Zones: []lane.Zone{{To: 12, Mu: 0.04}, {To: math.Inf(1), Mu: 0.20}}}
	return l
}

const referenceRPM = units.RPM

// near fails the test unless got lies within bound of want.
func referenceNear(t *testing.T, what string, got, want, bound float64) {
	t.Helper()
	if !(math.Abs(got-want) <= bound) {
		t.Errorf("%s: %.12g, want %.12g ± %.2g", what, got, want, bound)
	}
}

// referenceExact is the bound for motions that the reference integrates without
// truncation error (û constant): rounding of some 1e4 steps, and the 1e-5 m/s
// of slip at which roll begins, which friction of 0.1 g covers in 3 µs.
const referenceExact = 5e-6

// TestReferenceTextbooks checks the reference against sliding balls from
// textbooks: Halliday, Resnick & Walker, Fundamentals of Physics, ch. 11;
// Beer & Johnston, Vector Mechanics: Dynamics, 16.71 (inputs from memory,
// digits from T = |u₀|/(μg(1+1/κ))).
func TestReferenceTextbooks(t *testing.T) {
	const foot = units.Foot
	for _, c := range []struct {
		name                             string
		radius, kappa, speed, spin, mu   float64
		gravity                          float64
		seconds, metres, metresPerSecond float64
	}{
		{"Halliday", 0.11, 0.4, 8.5, 0, 0.21, 9.8, 1.180, 8.598, 6.071},
		{"later edition", 0.11, 0.4, 8.10, 0, 0.19, 9.8, 1.2429, 8.629, 5.786},
		{"backspin", 4 * units.Inch, 0.4, 15 * foot, -9, 0.10, 32.2 * foot, 1.597, 19.85 * foot, 9.857 * foot},
		{"RG 3.28 in", 27 / (2 * math.Pi) * units.Inch, math.Pow(3.28*2*math.Pi/27, 2), 20 * foot, 0, 0.20, 32.2 * foot,
			1.1433, 18.6567 * foot, 12.637 * foot},
	} {
		s := defaultReference()
		s.Gravity, s.MaxTime = c.gravity, 3
		res := throwReference(referenceEndless(c.mu), referenceSphere(c.radius, c.kappa),
			physics.Release{Speed: c.speed, RevRate: c.spin, Laydown: 20}, s)
		if len(res.RollEntries) != 1 {
			t.Fatalf("%s: began to roll %d times", c.name, len(res.RollEntries))
		}
		p := res.RollEntries[0]
		u := c.speed - c.radius*c.spin
		last := u / (c.mu * c.gravity * (1 + 1/c.kappa))
		referenceNear(t, c.name+" time", p.Time, last, referenceExact)
		referenceNear(t, c.name+" distance", p.Distance, c.speed*last-c.mu*c.gravity*last*last/2, referenceExact*c.speed)
		referenceNear(t, c.name+" speed", p.Velocity[0], (c.speed+c.kappa*c.radius*c.spin)/(1+c.kappa), referenceExact)
		// Printed figures, to half a unit of their last digit (1 % of one in
		// feet is below that).
		referenceNear(t, c.name+" printed time", p.Time, c.seconds, 5.1e-4)
		referenceNear(t, c.name+" printed distance", p.Distance, c.metres, 5.1e-3*foot)
		referenceNear(t, c.name+" printed speed", p.Velocity[0], c.metresPerSecond, 5.1e-4)
	}
}

// TestReferenceTwoZones checks the reference against chained parabolas on the
// two-zone lane.
func TestReferenceTwoZones(t *testing.T) {
	const digits = 6e-7 // of the figures below
	for _, c := range []struct {
		name                       string
		rev                        float64
		edge, roll, pins           [3]float64 // time, lateral, distance
		vEdgeLeft, vEdge, vEnd, at float64
	}{
		{"300 rpm", 300, [3]float64{1.554455, 0.186608, 12}, [3]float64{2.131163, 0.453499, 15.990606},
			[3]float64{2.490144, 0.699571, 18.288}, 0.240094, 7.439499, 6.436365, 6.1136},
		{"0 rpm", 0, [3]float64{1.559636, 0, 12}, [3]float64{2.413099, 0, 17.591245},
			[3]float64{2.535031, 0, 18.288}, 0, 7.388208, 5.714286, 0},
	} {
		s := defaultReference()
		s.Marks = []float64{12}
		res := throwReference(referenceTwoZones(), referenceSphere(0.108, 0.4),
			physics.Release{Speed: 8, RevRate: c.rev * referenceRPM, AxisRotation: math.Pi / 4, Laydown: 10}, s)
		if res.Status != physics.Pins || len(res.RollEntries) != 1 || len(res.Marks) != 1 {
			t.Fatalf("%s: %+v", c.name, res)
		}
		for i, p := range []referencePoint{res.Marks[0], res.RollEntries[0], res.End} {
			want := [][3]float64{c.edge, c.roll, c.pins}[i]
			bound := digits
			if i == 1 {
				bound = referenceExact // where roll starts
			}
			referenceNear(t, c.name+" time", p.Time, want[0], bound)
			referenceNear(t, c.name+" lateral", p.Lateral-lane.Lateral(10), want[1], bound)
			referenceNear(t, c.name+" distance", p.Distance, want[2], bound*8)
		}
		referenceNear(t, c.name+" left at edge", res.Marks[0].Velocity[1], c.vEdgeLeft, digits)
		referenceNear(t, c.name+" down-lane at edge", res.Marks[0].Velocity[0], c.vEdge, digits)
		referenceNear(t, c.name+" speed", math.Hypot(res.End.Velocity[0], res.End.Velocity[1]), c.vEnd, digits)
		referenceNear(t, c.name+" angle", math.Atan2(res.End.Velocity[1], res.End.Velocity[0])/units.Degree, c.at, 6e-5)
	}
}

// TestReferenceSymmetricCore checks the reference against a symmetric ball
// (2.50 in about the pin, which points up, 2.55 in across) integrated elsewhere
// with two step sizes that agree.
func TestReferenceSymmetricCore(t *testing.T) {
	b := referenceSphere(0.108, 0.4)
	for i, k := range []float64{2.50, 2.55, 2.55} {
		b.Moments[i] = 7 * math.Pow(k*units.Inch, 2)
	}
	rel := physics.Release{Speed: 8, RevRate: 300 * referenceRPM, AxisRotation: 45 * units.Degree, AxisTilt: 15 * units.Degree, Laydown: 20}
	sinT, cosT := math.Sincos(rel.AxisTilt)
	h := math.Sqrt2 / 2
	// Pin up, PSA down-lane, intermediate axis PSA × pin to the right.
	body := func(x, y, z float64) [3]float64 { return [3]float64{z, -y, x} }
	b.PAP = body(-cosT*h, cosT*h, sinT)
	b.Fingers = body(-sinT*h, sinT*h, -cosT)
	s := defaultReference()
	s.MaxTime = 1
	end := throwReference(referenceEndless(0.04), b, rel, s).End
	const digits = 1e-9 // ten printed decimals; two step sizes agreed to these
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"left", end.Lateral, 0.0742850842}, {"down-lane", end.Distance, 7.8184796169},
		{"velocity left", end.Velocity[1], 0.1485459931}, {"velocity down-lane", end.Velocity[0], 7.6369497645},
		{"spin right", -end.Spin[1], -31.07242915}, {"spin down-lane", end.Spin[0], -17.46737676}, {"spin up", end.Spin[2], 7.59728158},
	} {
		bound := digits
		if math.Abs(c.want) < 50 && (c.what[0] == 's') {
			bound = 1e-8
		}
		referenceNear(t, c.what, c.got, c.want, bound)
	}
}

// TestReferenceFlare checks the migration that the core causes: the closed form
// without friction, and whole shots of a ball of 27 in around on the two-zone
// lane (derived figures, rounded to 0.1 in).
func TestReferenceFlare(t *testing.T) {
	const radius = 27 * units.Inch / (2 * math.Pi)
	spec := ball.Default()
	spec.Diameter = 2 * radius
	spec.Layout = &ball.Layout{PinToPAP: math.Pi / 4 * radius, DrillingAngle: 1, VALAngle: 1}
	spec.Memory.Off, spec.ContactRadius = true, 0
	rel := physics.Release{Speed: 8, RevRate: 300 * referenceRPM, AxisRotation: 45 * units.Degree, AxisTilt: 15 * units.Degree, Laydown: 10}
	// Rounding over 4000 steps (measured: 7e-15 of R, 3e-14 J).
	const conserved = 1e-12
	for _, c := range []struct{ differential, inches float64 }{{0, 0}, {0.02, 3.6}, {0.04, 7.2}, {0.05, 8.9}, {0.06, 10.6}} {
		spec.Differential = c.differential * units.Inch
		b, err := spec.Prepare(ball.DefaultPAP(), ball.Right)
		if err != nil {
			t.Fatal(err)
		}
		res := throwReference(referenceTwoZones(), b, rel, defaultReference())
		referenceNear(t, "flare", res.Flare/units.Inch, c.inches, 0.05)

		s := defaultReference()
		s.MaxTime = 1
		res = throwReference(referenceEndless(0), b, rel, s)
		low, high := spec.RG, spec.RG+spec.Differential
		spacing := math.Pi * b.Radius * (1 - low*low/(high*high)) // at 45°
		referenceNear(t, "spacing", res.Flare/res.Revolutions, spacing, conserved*b.Radius)
		referenceNear(t, "energy", res.EnergyFall, 0, conserved)
	}
}
