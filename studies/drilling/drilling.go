package drilling

import (
	"cmp"
	"context"
	"math"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/compare"
	"lanesim/units"
)

// Study finds how the small errors of a pro shop change a bowler's shot: one error at a time, to both sides,
// on the same line, as means over release phases.
type Study struct {
	Setup studies.Undrilled // with its launch angle

	Settings physics.Settings
	Visible  compare.Visible

	// Deliveries is the number of deliveries for the bowler's own scatter; 0 means 48.
	Deliveries int
	Seed       uint64

	studies.Work // its progress counts shots
}

// The sizes of the errors: tolerances of a careful shop, common practice.
const (
	PinError   = units.Inch / 16
	AngleError = 2 * units.Degree
	PAPError   = units.Inch / 8
	DepthError = units.Inch / 16
	GritError  = 200 // grit

	scatterDeliveries = 48
)

// Effect has numbers of a shot, means over phases; in a [Change] the larger of the changes by the error to
// either side. A number that does not exist is NaN.
type Effect struct {
	Flare        float64 // m, over the whole shot
	FrictionRead float64 // m from the foul line
	AtPins       float64 // boards
}

// each applies a function to two effects, number by number.
func (e Effect) each(o Effect, join func(x, y float64) float64) Effect {
	return Effect{join(e.Flare, o.Flare), join(e.FrictionRead, o.FrictionRead), join(e.AtPins, o.AtPins)}
}

// Error is the name of an error of drilling.
type Error string

// The errors tried.
const (
	PinOff           Error = "pin"
	DrillingAngleOff Error = "drilling_angle"
	VALAngleOff      Error = "val_angle"
	PAPOverOff       Error = "pap_over"
	PAPUpOff         Error = "pap_up"
	DepthOff         Error = "depth"
	SurfaceOff       Error = "surface"
)

// Change is the effect of an error.
type Change struct {
	Of Error
	Effect
	Visible bool
}

// Result has the shot as intended and the effect of each error.
type Result struct {
	Nominal Effect
	Changes []Change

	// Scatter is the standard deviation of the bowler's own deliveries.
	Scatter    Effect
	Deliveries int
}

// drillingCase is an error to one side, with the ball drilled with it.
type drillingCase struct {
	of   Error
	ball ball.Ball
}

// Run throws all shots. It leaves out an error with which the ball cannot be drilled. The error is that of
// the intended ball, of a shot or of the context.
func (q Study) Run(ctx context.Context) (Result, error) {
	nominal, err := q.Setup.Drill()
	if err != nil {
		return Result{}, err
	}
	cases := append([]drillingCase{{"", nominal}}, q.cases()...)
	scatter := cmp.Or(q.Deliveries, scatterDeliveries)
	deliverer, err := q.Setup.Repeatability.Deliverer(q.Setup.Release)
	if err != nil {
		return Result{}, err
	}
	settings := studies.ForManyShots(q.Settings)
	shots := len(cases) * compare.Phases
	effects := make([]Effect, shots+scatter)
	err = studies.InParallel(ctx, q.Workers, len(effects), q.Progress, func(t *physics.Thrower, i int) error {
		b, release := nominal, q.Setup.Release
		if i < shots {
			b = cases[i/compare.Phases].ball
			release.Phase += 2 * math.Pi * float64(i%compare.Phases) / compare.Phases
		} else {
			release = deliverer.Delivery(studies.DrawDeviates(q.Seed, uint64(i-shots)))
		}
		shot, err := t.Throw(q.Setup.Lane, b, release, settings)
		if err != nil {
			return err
		}
		effects[i] = effectOf(&shot)
		return nil
	})
	if err != nil {
		return Result{}, err
	}
	r := Result{Nominal: meanEffect(effects[:compare.Phases]), Deliveries: scatter}
	for i, c := range cases[1:] {
		e := meanEffect(effects[(i+1)*compare.Phases : (i+2)*compare.Phases])
		if n := len(r.Changes); n == 0 || r.Changes[n-1].Of != c.of {
			r.Changes = append(r.Changes, Change{Of: c.of})
		}
		now := &r.Changes[len(r.Changes)-1]
		now.Effect = now.each(e.each(r.Nominal, func(x, y float64) float64 { return x - y }), larger)
		now.Visible = math.Abs(now.AtPins) >= q.Visible.Boards || math.Abs(now.FrictionRead) >= q.Visible.FrictionRead
	}
	r.Scatter = spreadOf(effects[shots:])
	return r, nil
}

// larger returns the value of the larger size; NaN if either does not exist.
func larger(a, b float64) float64 {
	if math.IsNaN(a) || math.IsNaN(b) {
		return math.NaN()
	}
	if math.Abs(b) > math.Abs(a) {
		return b
	}
	return a
}

func effectOf(s *physics.Shot) Effect {
	e := Effect{s.Summary.Flare, math.NaN(), s.EntryBoard()}
	if f := s.Events.FrictionRead; f != nil {
		e.FrictionRead = f.Distance
	}
	return e
}

// meanEffect returns the mean, NaN for a quantity that a shot lacks.
func meanEffect(list []Effect) (m Effect) {
	for _, e := range list {
		m = m.each(e, func(sum, v float64) float64 { return sum + v/float64(len(list)) })
	}
	return m
}

// spreadOf returns standard deviations over the shots that have each quantity.
func spreadOf(list []Effect) Effect {
	deviation := func(of func(Effect) float64) float64 {
		var values []float64
		for _, e := range list {
			if v := of(e); !math.IsNaN(v) {
				values = append(values, v)
			}
		}
		return studies.NewDistribution(values).SD
	}
	return Effect{
		deviation(func(e Effect) float64 { return e.Flare }),
		deviation(func(e Effect) float64 { return e.FrictionRead }),
		deviation(func(e Effect) float64 { return e.AtPins }),
	}
}

// cases lists every error to both sides, one after the other.
func (q Study) cases() []drillingCase {
	var list []drillingCase
	add := func(of Error, u studies.Undrilled) {
		if b, err := u.Drill(); err == nil {
			list = append(list, drillingCase{of, b})
		}
	}
	both := func(of Error, change func(u *studies.Undrilled, sign float64)) {
		for _, sign := range []float64{1, -1} {
			u := q.Setup
			change(&u, sign)
			add(of, u)
		}
	}
	if q.Setup.Specification.Layout != nil {
		moved := func(of Error, change func(l *ball.Layout, sign float64)) {
			both(of, func(u *studies.Undrilled, sign float64) {
				l := *u.Specification.Layout
				change(&l, sign)
				u.Specification.Layout = &l
			})
		}
		moved(PinOff, func(l *ball.Layout, sign float64) { l.PinToPAP += sign * PinError })
		moved(DrillingAngleOff, func(l *ball.Layout, sign float64) { l.DrillingAngle += sign * AngleError })
		moved(VALAngleOff, func(l *ball.Layout, sign float64) { l.VALAngle += sign * AngleError })
		missed := func(of Error, over, up float64) {
			both(of, func(u *studies.Undrilled, sign float64) {
				u.PAP = ball.PAP{Over: u.PAP.Over + sign*over, Up: u.PAP.Up + sign*up}
				u.Specification = q.seenFrom(u.PAP)
			})
		}
		missed(PAPOverOff, PAPError, 0)
		missed(PAPUpOff, 0, PAPError)
	}
	if q.Setup.Grip.Middle != nil {
		both(DepthOff, func(u *studies.Undrilled, sign float64) {
			for _, h := range []**ball.Hole{&u.Grip.Middle, &u.Grip.Ring, &u.Grip.Thumb} {
				if *h != nil {
					c := **h
					c.Depth += sign * DepthError
					*h = &c
				}
			}
		})
	}
	if grit, ok := ball.GritOfRoughness(q.Setup.Specification.Roughness); ok {
		for _, by := range []float64{GritError, -GritError} {
			u := q.Setup
			if u.Specification.Roughness, ok = ball.RoughnessOfGrit(grit + by); ok {
				add(SurfaceOff, u)
			}
		}
	}
	return list
}

// seenFrom returns the ball drilled by the setup's PAP, with the layout measured from p, the PAP that the
// bowler really has.
func (q Study) seenFrom(p ball.PAP) ball.Specification {
	s, hand := q.Setup.Specification, q.Setup.Release.Hand
	radius := s.Diameter / 2
	drilled := s.Layout.Frame(q.Setup.PAP, hand, radius)
	f := ball.Layout{}.Frame(p, hand, radius)
	f.Pin, f.Intermediate, f.PSA = drilled.Pin, drilled.Intermediate, drilled.PSA
	l, _ := f.Layout(hand, radius)
	s.Layout = &l
	return s
}
