package drilling

import (
	"context"
	"math"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/compare"
	"lanesim/units"
)

// Study asks what the small errors of a shop change in a bowler's shot:
// each way of one error at a time, on the same line, as means over release phases.
type Study struct {
	Lane          lane.Lane
	Specification ball.Specification
	Grip          ball.Grip
	PAP           ball.PAP
	Release       physics.Release // with its launch angle
	Repeatability studies.Repeatability
	Settings      physics.Settings
	Visible       compare.Visible

	// Deliveries are thrown for the bowler's own scatter; 0 stands for 48.
	Deliveries int
	Seed       uint64
	Workers    int // 0 stands for one for each processor

	Progress func(done, total int) // may be nil
}

// The errors tried, common practice for what a careful shop keeps.
const (
	PinError   = units.Inch / 16
	AngleError = 2 * units.Degree
	PAPError   = units.Inch / 8
	DepthError = units.Inch / 16
	GritError  = 200 // grit

	scatterDeliveries = 48
)

// Effect is what a shot has: means over phases or, of changes, the larger of
// both ways. Quantities that do not exist are NaN.
type Effect struct {
	Flare        float64 // m, over the whole shot
	FrictionRead float64 // m from the foul line
	AtPins       float64 // boards
}

// Change is what an error does.
type Change struct {
	Name string
	Effect
	Visible bool
}

// Result is what comes of it.
type Result struct {
	Nominal Effect
	Changes []Change

	// Scatter is the standard deviation of the bowler's own deliveries.
	Scatter    Effect
	Deliveries int
}

// drillingCase is an error one way: the ball as it is then thrown.
type drillingCase struct {
	name string
	ball ball.Ball
}

// Run throws all of it. An error of a ball that cannot be drilled leaves its case out;
// one of the ball as asked for is returned, as is the context's.
func (q Study) Run(ctx context.Context) (*Result, error) {
	nominal, _, err := q.Specification.Drill(q.PAP, q.Release.Hand, q.Grip)
	if err != nil {
		return nil, err
	}
	cases := append([]drillingCase{{"", nominal}}, q.cases()...)
	scatter := q.Deliveries
	if scatter == 0 {
		scatter = scatterDeliveries
	}
	deliverer, err := q.Repeatability.Deliverer(q.Release)
	if err != nil {
		return nil, err
	}
	settings := studies.ForManyShots(q.Settings)
	shots := len(cases) * compare.Phases
	effects := make([]Effect, shots+scatter)
	err = studies.InParallel(ctx, q.Workers, len(effects), q.Progress, func(t *physics.Thrower, i int) error {
		b, release := nominal, q.Release
		if i < shots {
			b = cases[i/compare.Phases].ball
			release.Phase += 2 * math.Pi * float64(i%compare.Phases) / compare.Phases
		} else {
			release = deliverer.Delivery(studies.DrawDeviates(q.Seed, uint64(i-shots)))
		}
		shot, err := t.Throw(q.Lane, b, release, settings)
		if err != nil {
			return err
		}
		effects[i] = effectOf(&shot)
		return nil
	})
	if err != nil {
		return nil, err
	}
	r := &Result{Nominal: meanEffect(effects[:compare.Phases]), Deliveries: scatter}
	for i, c := range cases[1:] {
		e := meanEffect(effects[(i+1)*compare.Phases : (i+2)*compare.Phases])
		change := Effect{e.Flare - r.Nominal.Flare, e.FrictionRead - r.Nominal.FrictionRead, e.AtPins - r.Nominal.AtPins}
		if n := len(r.Changes); n == 0 || r.Changes[n-1].Name != c.name {
			r.Changes = append(r.Changes, Change{Name: c.name})
		}
		now := &r.Changes[len(r.Changes)-1]
		now.Flare, now.FrictionRead, now.AtPins = larger(now.Flare, change.Flare), larger(now.FrictionRead, change.FrictionRead), larger(now.AtPins, change.AtPins)
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
	e := Effect{s.Summary.Flare, math.NaN(), math.NaN()}
	if f := s.Events.FrictionRead; f != nil {
		e.FrictionRead = f.Distance
	}
	if s.Summary.EntryBoard != nil {
		e.AtPins = *s.Summary.EntryBoard
	}
	return e
}

// meanEffect is NaN where a shot lacks the quantity.
func meanEffect(list []Effect) Effect {
	var m Effect
	for _, e := range list {
		m.Flare += e.Flare / float64(len(list))
		m.FrictionRead += e.FrictionRead / float64(len(list))
		m.AtPins += e.AtPins / float64(len(list))
	}
	return m
}

// spreadOf returns standard deviations over the shots that have each quantity.
func spreadOf(list []Effect) Effect {
	deviation := func(of func(Effect) float64) float64 {
		n, mean, squares := 0.0, 0.0, 0.0
		for _, e := range list {
			if v := of(e); !math.IsNaN(v) { // Welford (1962)
				n++
				d := v - mean
				mean += d / n
				squares += d * (v - mean)
			}
		}
		return math.Sqrt(squares / (n - 1))
	}
	return Effect{
		deviation(func(e Effect) float64 { return e.Flare }),
		deviation(func(e Effect) float64 { return e.FrictionRead }),
		deviation(func(e Effect) float64 { return e.AtPins }),
	}
}

// cases lists every error both ways; ways of one error follow each other.
func (q Study) cases() []drillingCase {
	var list []drillingCase
	add := func(name string, s ball.Specification, p ball.PAP, g ball.Grip) {
		if b, _, err := s.Drill(p, q.Release.Hand, g); err == nil {
			list = append(list, drillingCase{name, b})
		}
	}
	both := func(do func(sign float64)) { do(1); do(-1) }
	if q.Specification.Layout != nil {
		moved := func(name string, change func(l *ball.Layout, sign float64)) {
			both(func(sign float64) {
				s, l := q.Specification, *q.Specification.Layout
				change(&l, sign)
				s.Layout = &l
				add(name, s, q.PAP, q.Grip)
			})
		}
		moved("pin 1/16 in off", func(l *ball.Layout, sign float64) { l.PinToPAP += sign * PinError })
		moved("drilling angle 2° off", func(l *ball.Layout, sign float64) { l.DrillingAngle += sign * AngleError })
		moved("VAL angle 2° off", func(l *ball.Layout, sign float64) { l.VALAngle += sign * AngleError })
		missed := func(name string, over, up float64) {
			both(func(sign float64) {
				p := ball.PAP{Over: q.PAP.Over + sign*over, Up: q.PAP.Up + sign*up}
				add(name, q.seenFrom(p), p, q.Grip)
			})
		}
		missed("PAP 1/8 in off, over", PAPError, 0)
		missed("PAP 1/8 in off, up", 0, PAPError)
	}
	if q.Grip.Middle != nil {
		both(func(sign float64) {
			g := q.Grip
			for _, h := range []**ball.Hole{&g.Middle, &g.Ring, &g.Thumb} {
				if *h != nil {
					c := **h
					c.Depth += sign * DepthError
					*h = &c
				}
			}
			add("holes 1/16 in off in depth", q.Specification, q.PAP, g)
		})
	}
	if grit, ok := ball.GritOfRoughness(q.Specification.Roughness); ok {
		both(func(sign float64) {
			if ra, ok := ball.RoughnessOfGrit(grit + sign*GritError); ok {
				s := q.Specification
				s.Roughness = ra
				add("surface 200 grit off", s, q.PAP, q.Grip)
			}
		})
	}
	return list
}

// seenFrom returns the ball as it is drilled by the PAP asked for, with its layout
// measured from the PAP that the bowler really has.
func (q Study) seenFrom(p ball.PAP) ball.Specification {
	s := q.Specification
	radius := s.Diameter / 2
	drilled := s.Layout.Frame(q.PAP, q.Release.Hand, radius)
	f := ball.Layout{}.Frame(p, q.Release.Hand, radius)
	f.Pin, f.Intermediate, f.PSA = drilled.Pin, drilled.Intermediate, drilled.PSA
	l, _ := f.Layout(q.Release.Hand, radius)
	s.Layout = &l
	return s
}
