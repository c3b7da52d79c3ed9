package drilling

import (
	"context"
	"math"
	"reflect"
	"testing"

	"lanesim/ball"
	"lanesim/studies"
	"lanesim/studies/compare"
	"lanesim/studies/internal/usual"
	"lanesim/units"
)

func tolerances(t *testing.T) Study {
	s := usual.Setup(t, ball.Right, 4, studies.Repeatability{})
	specification := ball.Default()
	specification.Differential = 0.048 * units.Inch
	specification.IntermediateDifferential = 0.012 * units.Inch
	specification.Layout = &ball.Layout{DrillingAngle: 50 * units.Degree, PinToPAP: 4 * units.Inch, VALAngle: 40 * units.Degree}
	s.Repeatability = studies.Repeatability{Laydown: 1, Angle: 0.3 * units.Degree}
	return Study{Setup: studies.Undrilled{Setup: s, Specification: specification, Grip: ball.DefaultGrip(), PAP: ball.DefaultPAP()}, Visible: compare.DefaultVisible(), Deliveries: 6}
}

// A ball drilled by the right PAP is the ball itself, and one drilled by a wrong PAP has its pin where the
// wrong PAP puts it.
func TestPAPErrorMovesTheAxisOverTheBall(t *testing.T) {
	q := tolerances(t)
	same := q.seenFrom(q.Setup.PAP)
	if l := same.Layout; math.Abs(l.PinToPAP-q.Setup.Specification.Layout.PinToPAP) > 1e-12 || math.Abs(l.VALAngle-q.Setup.Specification.Layout.VALAngle) > 1e-9 ||
		math.Abs(l.DrillingAngle-q.Setup.Specification.Layout.DrillingAngle) > 1e-9 {
		t.Errorf("%+v became %+v", *q.Setup.Specification.Layout, *l)
	}
	p := ball.PAP{Over: q.Setup.PAP.Over + PAPError, Up: q.Setup.PAP.Up}
	radius := q.Setup.Specification.Diameter / 2
	drilled := q.Setup.Specification.Layout.Frame(q.Setup.PAP, ball.Right, radius)
	seen := q.seenFrom(p).Layout.Frame(p, ball.Right, radius)
	for _, d := range []float64{seen.Pin.X - drilled.Pin.X, seen.Pin.Y - drilled.Pin.Y, seen.PSA.Z - drilled.PSA.Z, seen.PSA.Y - drilled.PSA.Y} {
		if math.Abs(d) > 1e-12 {
			t.Errorf("the pin moved over the ball: %+v, %+v", drilled, seen)
		}
	}
}

// The result is the same for any number of workers, changes are those of the shots, and a ball without layout
// and holes has fewer errors.
func TestDrillingTolerances(t *testing.T) {
	q := tolerances(t)
	q.Workers = 1
	a := usual.Run(t, q)
	q.Workers = 3
	if b, err := q.Run(context.Background()); err != nil || !reflect.DeepEqual(a, b) {
		t.Errorf("%v: other workers find %+v, not %+v", err, b, a)
	}
	if len(a.Changes) != 7 || !(a.Nominal.Flare > 0) || !(a.Scatter.AtPins > 0) {
		t.Errorf("%+v", a)
	}
	for _, c := range a.Changes {
		if c.Visible != (math.Abs(c.AtPins) >= 0.5 || math.Abs(c.FrictionRead) >= units.Foot) {
			t.Errorf("%+v", c)
		}
	}
	q.Setup.Specification.Layout, q.Setup.Specification.Differential, q.Setup.Specification.IntermediateDifferential = nil, 0, 0
	q.Setup.Grip, _ = ball.NewGrip(ball.Undrilled)
	if b, err := q.Run(context.Background()); err != nil || len(b.Changes) != 1 {
		t.Errorf("%v: %+v", err, b)
	}
	done, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := q.Run(done); err == nil {
		t.Error("an ended context has no error")
	}
}
