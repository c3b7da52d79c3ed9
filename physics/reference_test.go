package physics_test

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
)

// The reference is a second opinion on the motion of the ball: the classical
// Runge–Kutta method with fixed steps, the equations of motion in body axes,
// left-handers computed as they are rather than as mirror images, and the film
// on the ball in cells all over its surface. It shares no code with
// the package that it checks. It is slow and plain on purpose.

// referenceSettings are the step lengths and limits of one run.
type referenceSettings struct {
	Gravity float64 // m/s²
	Step    float64 // s
	MaxTime float64 // s

	// SlipFraction limits a sliding step to this share of the time in which
	// friction alone would end the slip. Near zero slip the direction of the
	// friction relaxes at that rate, so that explicit steps must be shorter.
	SlipFraction float64

	// RollSlip is the slip in m/s below which a ball may begin to roll.
	RollSlip float64

	// Cells is about how many cells carry the film on the ball.
	Cells int

	Marks []float64 // m down-lane, to be reported
}

// defaultReference resolves 300 rpm with 800 steps per turn.
func defaultReference() referenceSettings {
	return referenceSettings{Gravity: referenceGravity, Step: 2.5e-4, MaxTime: 60, SlipFraction: 0.25, RollSlip: referenceRollSlip,
		Cells: 240_000}
}

// refined returns the same run with all steps and thresholds n times smaller.
func (s referenceSettings) refined(n float64) referenceSettings {
	s.Step /= n
	s.SlipFraction /= n
	s.RollSlip /= n
	return s
}

const (
	referenceGravity = 9.80665 // m/s², standard (3rd CGPM 1901)

	// referenceRollSlip is the default of RollSlip in m/s. On a dry board
	// friction covers it in about 2 µs.
	referenceRollSlip = 1e-5

	// referenceEventTime is how closely in s an event is located; a ball
	// moves by 1e-12 m in that time.
	referenceEventTime = 1e-13

	// referenceRest is the speed in m/s below which a ball has stopped.
	referenceRest = 1e-4
)

// referencePoint is the ball at one instant, in the lane's frame.
type referencePoint struct {
	Time, Distance, Lateral float64
	Velocity                [2]float64
	Spin                    [3]float64
	Slip, Friction, Normal  float64
	Oil, BallOil            float64
	SlipDistance            float64 // m, ∫|u|dt so far
	Flare                   float64
}

// referenceResult is what became of a shot.
type referenceResult struct {
	Status      physics.Status
	Marks       []referencePoint
	RollEntries []referencePoint // every time that the ball began to roll
	PatternEnd  *referencePoint
	End         referencePoint

	Flare, FlareOil float64 // m
	Revolutions     float64
	ReSlips         int
	SlipDistance    float64 // m
	EnergyLost      float64 // J, by the power of friction
	EnergyFall      float64 // J, mechanical energy at release less that at the end, plus the slope's work
	RollLoss        float64 // J, lost where roll began; part of EnergyLost
	FrictionRead    float64 // m; NaN if there is none
	Oil             referenceOil
	Covered         float64 // m² that the ball's surface touched
	Steps           int
}

// rollStart is where the ball begins to roll for good: it slips by no more than
// 5 mm after.
func (r *referenceResult) rollStart() (referencePoint, bool) {
	for _, p := range r.RollEntries {
		if r.SlipDistance-p.SlipDistance <= 5e-3 {
			return p, true
		}
	}
	return referencePoint{}, false
}

// referenceMode is what of the motion changes in jumps.
type referenceMode struct {
	Rolling bool
	Pivot   float64 // direction of ω_z while rolling; 0 if pivot friction holds it at zero
	Zone    int     // index of the friction zone
	Oiled   bool    // before the end of the pattern
}

// referenceStop is a distance at which a step must end.
type referenceStop struct {
	Distance float64
	Reached  func(*reference, *referenceMode, *referenceResult)
}

// reference is one shot under way.
type reference struct {
	settings referenceSettings
	lane     lane.Lane
	ball     ball.Ball
	slope    float64 // m/s², lateral acceleration of the tilted lane
	offset   r3.Vec

	time  float64
	y     referenceVector
	grid  *referenceGrid // nil if the ball stays clean
	grip  []referenceGrip
	stops []referenceStop
	over  physics.Status
}

// throwReference computes a shot to its end.
func throwReference(l lane.Lane, b ball.Ball, rel physics.Release, s referenceSettings) referenceResult {
	r := &reference{settings: s, lane: l, ball: b, slope: -s.Gravity * l.Tilt / lane.Width,
		offset: r3.Vec{X: b.Offset[0], Y: b.Offset[1], Z: b.Offset[2]}}
	if !b.Memory.Off {
		r.grid = newReferenceGrid(r, s.Cells)
	}
	r.y = referenceRelease(b, rel)
	mode := referenceMode{Oiled: l.Oil.Length() > rel.LaydownDistance}
	r.plan(&mode)
	var res referenceResult
	start := r.energy(&r.y)
	for r.over == "" {
		r.chooseMode(&mode, &res)
		r.step(&mode, &res)
	}
	res.Status = r.over
	res.End = r.point(mode)
	res.Flare, res.Revolutions, res.SlipDistance = r.y[flared], r.y[revolutions], r.y[slipped]
	if mode.Oiled {
		res.FlareOil = r.y[flared]
	}
	res.EnergyLost = r.y[dissipated] + res.RollLoss
	res.EnergyFall = start - r.energy(&r.y) + r.y[slopeWork]
	res.FrictionRead = r.read()
	res.Oil = referenceOil{Lane: r.y[oilLane], Ball: -r.y[oilLane]}
	if r.grid != nil {
		res.Oil, res.Covered = r.grid.balance(r.time), r.grid.covered
	}
	return res
}

// plan lists the distances at which steps must end and finds the zone at the
// start.
func (r *reference) plan(mode *referenceMode) {
	add := func(x float64, f func(*reference, *referenceMode, *referenceResult)) {
		if x > r.y[posX] && !math.IsInf(x, 1) {
			r.stops = append(r.stops, referenceStop{x, f})
		}
	}
	for _, x := range r.settings.Marks {
		add(x, func(r *reference, m *referenceMode, res *referenceResult) { res.Marks = append(res.Marks, r.point(*m)) })
	}
	if r.lane.Friction.Law == lane.Zones {
		for i, z := range r.lane.Friction.Zones {
			if z.To <= r.y[posX] {
				mode.Zone = i + 1
			}
			add(z.To, func(_ *reference, m *referenceMode, _ *referenceResult) { m.Zone = i + 1 })
		}
	}
	if r.lane.Oil != nil {
		add(r.lane.Oil.Length(), func(r *reference, m *referenceMode, res *referenceResult) {
			p := r.point(*m)
			res.PatternEnd, res.FlareOil = &p, r.y[flared]
			m.Oiled = false
		})
	}
	if !math.IsInf(r.lane.Length, 1) {
		add(r.lane.Length, func(r *reference, _ *referenceMode, _ *referenceResult) { r.over = physics.Pins })
	}
	slices.SortStableFunc(r.stops, func(a, b referenceStop) int {
		switch {
		case a.Distance < b.Distance:
			return -1
		case a.Distance > b.Distance:
			return 1
		}
		return 0
	})
}

// chooseMode changes between sliding and rolling, and between turning and held
// pivots, where the present state asks for it.
func (r *reference) chooseMode(mode *referenceMode, res *referenceResult) {
	if mode.Rolling {
		_, c := r.rates(r.time, &r.y, *mode)
		if c.force() > c.Mu*c.Normal {
			mode.Rolling = false
			res.ReSlips++
			return
		}
		if mode.Pivot*c.SpinUp < 0 {
			mode.Pivot = 0
			_, c = r.rates(r.time, &r.y, *mode)
		}
		if r.freed(*mode, c) {
			mode.Pivot = -referenceSign(c.Holding)
		}
		return
	}
	_, c := r.rates(r.time, &r.y, *mode)
	if c.Slip >= r.settings.RollSlip {
		return
	}
	roll := *mode
	roll.Rolling, roll.Pivot = true, referenceSign(c.SpinUp)
	_, c = r.rates(r.time, &r.y, roll)
	if c.force() > c.Mu*c.Normal {
		return
	}
	before := r.energy(&r.y)
	r.beginRoll(&r.y)
	res.RollLoss += before - r.energy(&r.y)
	*mode = roll
	res.RollEntries = append(res.RollEntries, r.point(*mode))
}

// step advances by one step, cut short where something happens in it.
func (r *reference) step(mode *referenceMode, res *referenceResult) {
	_, c := r.rates(r.time, &r.y, *mode)
	h := r.settings.Step
	if !mode.Rolling {
		i := slices.Min(r.ball.Moments[:])
		rate := c.Mu * c.Normal * (1/r.ball.Mass + r.ball.Radius*r.ball.Radius/i)
		h = min(h, r.settings.SlipFraction*max(c.Slip, r.settings.RollSlip)/rate)
	}
	h = min(h, r.settings.MaxTime-r.time)
	start := r.strip(r.time, &r.y, *mode)
	if r.grid != nil {
		// Where the strip comes hardly depends on the film that it meets. A step
		// cut short looks as far ahead, so that sliding and rolling meet the same.
		next := r.rungeKutta(r.settings.Step, *mode)
		r.grid.meet(start, r.strip(r.time+r.settings.Step, &next, *mode), false)
		_, c = r.rates(r.time, &r.y, *mode)
	}
	grip := referenceGrip{Mu: [2]float64{c.Mu}, Turned: [2]float64{start.turned}, Distance: [2]float64{r.y[posX]}}
	next := r.rungeKutta(h, *mode)
	if r.happened(r.time+h, &next, *mode) {
		low, high := 0.0, h
		for high-low > referenceEventTime {
			middle := (low + high) / 2
			trial := r.rungeKutta(middle, *mode)
			if r.happened(r.time+middle, &trial, *mode) {
				high = middle
			} else {
				low = middle
			}
		}
		h, next = high, r.rungeKutta(high, *mode)
	}
	r.y, r.time = next, r.time+h
	res.Steps++
	_, c = r.rates(r.time, &r.y, *mode)
	end := r.strip(r.time, &r.y, *mode)
	if r.grid != nil {
		r.grid.meet(start, end, true)
	}
	grip.Mu[1], grip.Turned[1], grip.Distance[1] = c.Mu, end.turned, r.y[posX]
	if n := len(r.grip); n > 0 {
		g := &r.grip[n-1]
		grip.Sum = g.Sum + (g.Mu[0]+g.Mu[1])/2*(g.Turned[1]-g.Turned[0])
	}
	r.grip = append(r.grip, grip)
	for len(r.stops) > 0 && r.y[posX] >= r.stops[0].Distance {
		r.stops[0].Reached(r, mode, res)
		r.stops = r.stops[1:]
	}
	switch {
	case r.over != "":
	case c.Normal <= 0:
		r.over = physics.Lifted
	case r.offLane(&r.y):
		r.over = physics.Gutter
	case mode.Rolling && c.Speed < referenceRest:
		r.over = physics.Stopped
	case r.time >= r.settings.MaxTime:
		r.over = physics.TimeLimit
	}
}

// happened reports whether y lies past anything at which a step must end.
func (r *reference) happened(t float64, y *referenceVector, mode referenceMode) bool {
	if len(r.stops) > 0 && y[posX] >= r.stops[0].Distance || r.offLane(y) {
		return true
	}
	_, c := r.rates(t, y, mode)
	if c.Normal <= 0 {
		return true
	}
	if !mode.Rolling {
		return false
	}
	return c.Speed < referenceRest || c.force() > c.Mu*c.Normal || mode.Pivot*c.SpinUp < 0 || r.freed(mode, c)
}

// freed reports whether a held pivot must give way.
func (r *reference) freed(mode referenceMode, c referenceContact) bool {
	return mode.Pivot == 0 && math.Abs(c.Holding) > r.pivotLimit(c)
}

func (r *reference) offLane(y *referenceVector) bool {
	return !r.lane.Edgeless && math.Abs(y[posY]) > lane.Width/2
}

// rungeKutta returns the state after a step of the classical fourth-order
// method (Kutta 1901).
func (r *reference) rungeKutta(h float64, mode referenceMode) referenceVector {
	k1, _ := r.rates(r.time, &r.y, mode)
	y := r.y.plus(h/2, &k1)
	k2, _ := r.rates(r.time+h/2, &y, mode)
	y = r.y.plus(h/2, &k2)
	k3, _ := r.rates(r.time+h/2, &y, mode)
	y = r.y.plus(h, &k3)
	k4, _ := r.rates(r.time+h, &y, mode)
	y = r.y
	for i := range y {
		y[i] += h / 6 * (k1[i] + 2*k2[i] + 2*k3[i] + k4[i])
	}
	y.normalise()
	if mode.Rolling {
		r.constrain(&y)
	}
	return y
}

// point reports the present state.
func (r *reference) point(mode referenceMode) referencePoint {
	_, c := r.rates(r.time, &r.y, mode)
	x, y, z := r.y.axes()
	w := r.y.spin()
	return referencePoint{Time: r.time, Distance: r.y[posX], Lateral: r.y[posY], Velocity: c.Velocity,
		Spin: [3]float64{r3.Dot(x, w), r3.Dot(y, w), r3.Dot(z, w)},
		Slip: c.Slip, Friction: c.Mu, Normal: c.Normal, Oil: c.Lane + c.Ball, BallOil: c.Ball,
		SlipDistance: r.y[slipped], Flare: r.y[flared]}
}

func referenceSign(v float64) float64 {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}
