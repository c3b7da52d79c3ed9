package physics_test

import (
	"math"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/units"
)

// referencePattern is a made-up crowned pattern: 42 ft long, smooth across the
// lane, thinning down-lane.
func referencePattern(t testing.TB, inside, outside float64) *lane.OilMap {
	t.Helper()
	var distances []float64
	var rows [][]float64
	for foot := 0.0; foot <= 42; foot += 3 {
		row := make([]float64, lane.Boards)
		for b := range row {
			off := float64(b-19) / 19
			row[b] = (outside + (inside-outside)*math.Pow(1-off*off, 2)) * (1 - 0.6*foot/42)
		}
		distances, rows = append(distances, foot*units.Foot), append(rows, row)
	}
	o, err := lane.NewBoardOilMap(distances, rows)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// referenceBall returns an asymmetric ball with pivot friction and film memory.
func referenceBall(t testing.TB, hand ball.Hand, change func(*ball.Specification)) ball.Ball {
	t.Helper()
	spec := ball.Default()
	spec.Differential, spec.IntermediateDifferential = 0.050*units.Inch, 0.015*units.Inch
	spec.Layout = &ball.Layout{DrillingAngle: 60 * units.Degree, PinToPAP: 4 * units.Inch, VALAngle: 40 * units.Degree}
	if change != nil {
		change(&spec)
	}
	b, err := spec.Prepare(ball.DefaultPAP(), hand)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func referenceUsualRelease(hand ball.Hand) physics.Release {
	return physics.Release{Hand: hand, Speed: 8, RevRate: 320 * referenceRPM, AxisRotation: 50 * units.Degree,
		AxisTilt: 13 * units.Degree, Laydown: 22, Angle: 2.2 * units.Degree}
}

// TestReferenceEnergy: the mechanical energy falls by what friction takes, also
// with an offset centre of mass, pivot friction, a tilted lane and rolling
// resistance.
func TestReferenceEnergy(t *testing.T) {
	b := referenceBall(t, ball.Right, func(s *ball.Specification) {
		s.Offset = [3]float64{1e-3, -0.5e-3, 0.7e-3}
		s.Memory.Off = true
	})
	l := referenceTwoZones()
	l.Tilt, l.RollingResistance = 0.040*units.Inch, 0.005
	res := throwReference(l, b, referenceUsualRelease(ball.Right), defaultReference())
	if len(res.RollEntries) == 0 || res.EnergyLost < 10 {
		t.Fatalf("the shot tests little: %+v", res)
	}
	// Both sums carry the truncation of the steps, in J (measured: 2.5e-9).
	const accuracy = 2e-8
	referenceNear(t, "energy", res.EnergyFall, res.EnergyLost, accuracy)
	const rounding = 1e-12 // J, of energies of 10² J
	// Where roll begins |u| < 1e-5 m/s: at most m u²/2 is lost.
	if res.RollLoss < -rounding || res.RollLoss > float64(len(res.RollEntries))*b.Mass*referenceRollSlip*referenceRollSlip/2 {
		t.Errorf("roll loss %g J", res.RollLoss)
	}
}

// TestReferenceOrder: halving the step divides the error by about 2⁴.
func TestReferenceOrder(t *testing.T) {
	b := referenceBall(t, ball.Right, func(s *ball.Specification) {
		s.Offset = [3]float64{1e-3, -0.5e-3, 0.7e-3}
		s.Memory.Off = true
	})
	s := defaultReference()
	s.Step, s.MaxTime = 4e-3, 0.8
	var y [3]float64
	for i := range y {
		y[i] = throwReference(referenceEndless(0.1), b, referenceUsualRelease(ball.Right), s).End.Lateral
		s = s.refined(2)
	}
	order := math.Log2(math.Abs((y[0] - y[1]) / (y[1] - y[2])))
	t.Logf("order %.2f", order)
	if order < 3.6 || order > 4.6 {
		t.Errorf("order %.3f", order)
	}
}

// TestReferenceMirror: a left-hander's shot, computed as it is, is the mirror
// image of a right-hander's on the mirrored lane with the mirrored ball, whose
// turn by the phase has the opposite sense.
func TestReferenceMirror(t *testing.T) {
	b := referenceBall(t, ball.Left, func(s *ball.Specification) { s.Offset = [3]float64{1e-3, -0.5e-3, 0.7e-3} })
	l := lane.Default()
	l.Oil, l.Tilt = referencePattern(t, 60, 8), 0.03*units.Inch
	for i := range l.Oil.Film { // lopsided
		l.Oil.Film[i] *= 1 + 0.3*float64(i%lane.Boards)/lane.Boards
	}
	rel := referenceUsualRelease(ball.Left)
	rel.Phase = 1
	mirrored := rel
	mirrored.Hand, mirrored.Phase = ball.Right, -rel.Phase
	s := defaultReference()
	s.Marks = []float64{30 * units.Foot}
	p, q := throwReference(l, b, rel, s), throwReference(l.Mirror(), b.Mirror(), mirrored, s)
	if p.Status != physics.Pins || q.Status != physics.Pins {
		t.Fatalf("%v, %v", p.Status, q.Status)
	}
	// Rounding only; the cells are symmetric too.
	const bound = 1e-8
	for i, a := range []referencePoint{p.Marks[0], p.End} {
		c := []referencePoint{q.Marks[0], q.End}[i]
		referenceNear(t, "time", a.Time, c.Time, bound)
		referenceNear(t, "lateral", a.Lateral, -c.Lateral, bound)
		referenceNear(t, "velocity", a.Velocity[1], -c.Velocity[1], bound)
		referenceNear(t, "spin down-lane", a.Spin[0], -c.Spin[0], bound*30)
		referenceNear(t, "spin left", a.Spin[1], c.Spin[1], bound*30)
		referenceNear(t, "spin up", a.Spin[2], -c.Spin[2], bound*30)
	}
}
