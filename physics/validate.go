package physics

import (
	"errors"
	"fmt"
	"math"

	"lanesim/ball"
	"lanesim/internal/check"
	"lanesim/lane"
	"lanesim/units"
)

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// rounding is the distance in boards by which a laydown may lie beside the lane by rounding.
const rounding = 1e-9

// Validate returns nil for a release that is possible, or all errors joined, each a [*units.FieldError].
func (r Release) Validate() error {
	v := check.Of("physics")
	if r.Hand != ball.Right && r.Hand != ball.Left {
		v.Refuse("Hand", int(r.Hand), "must be right or left")
	}
	v.That(r.Speed > 0 && finite(r.Speed), "Speed", r.Speed, "must be positive and finite")
	v.That(r.RevRate >= 0 && finite(r.RevRate), "RevRate", r.RevRate, "must be 0 or more and finite")
	v.That(finite(r.AxisRotation), "AxisRotation", r.AxisRotation, "must be finite")
	v.That(math.Abs(r.AxisTilt) < math.Pi/2, "AxisTilt", r.AxisTilt, "must lie between −π/2 and π/2, at which the fingers have no direction")
	v.That(finite(r.Phase), "Phase", r.Phase, "must be finite")
	v.That(r.Laydown >= 0.5-rounding && r.Laydown <= lane.Boards+0.5+rounding, "Laydown", r.Laydown, "must be a board on the lane, from 0.5 to 39.5")
	v.That(r.LaydownDistance >= 0 && finite(r.LaydownDistance), "LaydownDistance", r.LaydownDistance, "must be 0 or more and finite")
	v.That(math.Abs(r.Angle) < math.Pi/2, "Angle", r.Angle, "must lie between −π/2 and π/2")
	return v.Err()
}

// coarsestTolerance is the largest tolerance allowed.
const coarsestTolerance = 1e-2

// Validate returns nil for usable settings, or all errors joined, each a [*units.FieldError].
func (s Settings) Validate() error {
	v := check.Of("physics")
	v.That(s.Tolerance >= 0 && s.Tolerance <= coarsestTolerance, "Tolerance", s.Tolerance, "must lie between 0 and 0.01")
	for _, w := range []struct {
		field string
		Window
	}{{"Pocket", s.Pocket}, {"GoodAngle", s.GoodAngle}} {
		if !(w.Min <= w.Max) {
			v.Refuse(w.field, w.Window, "must not end before it begins")
		}
	}
	v.That(s.HookTurn >= 0 && s.HookTurn < math.Pi, "HookTurn", s.HookTurn, "must lie between 0 and π")
	v.That(!math.IsNaN(s.PathSpacing), "PathSpacing", s.PathSpacing, "must be a number")
	v.That(s.TrackSpacing >= 0, "TrackSpacing", s.TrackSpacing, "must be 0 or more")
	v.That(!math.IsNaN(s.ExchangeSpacing), "ExchangeSpacing", s.ExchangeSpacing, "must be a number")
	v.That(s.Gravity >= 0 && finite(s.Gravity), "Gravity", s.Gravity, "must be 0 or more and finite")
	v.That(s.MaxTime >= 0, "MaxTime", s.MaxTime, "must be 0 or more")
	return v.Err()
}

// validate returns the errors of the inputs of a shot, joined.
func (t *Thrower) validate(l lane.Lane, b ball.Ball, r Release, s Settings) error {
	err := errors.Join(t.validateLane(l, b), b.Validate(), r.Validate(), s.Validate())
	if err == nil && !(r.LaydownDistance < l.Length) {
		err = &units.FieldError{Package: "physics", Field: "LaydownDistance", Value: r.LaydownDistance, Rule: fmt.Sprintf("must be less than the lane's length, %g", l.Length)}
	}
	return err
}

// validateLane returns the errors of a lane, and of its friction for the ball's cover. It does not validate
// the same oil map again.
func (t *Thrower) validateLane(l lane.Lane, b ball.Ball) error {
	oil := l.Oil
	if oil == t.validOil {
		l.Oil = nil
	}
	err := l.Validate()
	if err == nil {
		t.validOil = oil
		if met := FrictionOf(l.Friction, b.Cover).Validate(); met != nil {
			err = fmt.Errorf("physics: of the friction that the cover meets: %w", met)
		}
	}
	return err
}
