package physics

import (
	"math"
	"sort"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics/ode"
)

const (
	// hookShare is the share of the total turn that ends the skid.
	hookShare = 0.1

	// leastTurn is the total turn in rad below which a shot has neither hook
	// start nor breakpoint.
	leastTurn = 0.1 * ball.Degree

	// settledSlip is the distance in m that the contact may still slip after
	// a ball has begun to roll for good: slips shorter than the contact patch
	// is wide are part of the roll.
	settledSlip = 5e-3

	defaultSpacing = 0.25 * lane.Foot
)

// MarkDistances are the distances in m at which shots are compared: the arrows
// and 20, 30, 40, 45, 50 and 55 ft.
var MarkDistances = [...]float64{lane.Arrows, 20 * lane.Foot, 30 * lane.Foot, 40 * lane.Foot, 45 * lane.Foot, 50 * lane.Foot, 55 * lane.Foot}

// Default windows of the two verdicts.
var (
	DefaultPocket    = Window{17.5 - 0.75, 17.5 + 0.75}
	DefaultGoodAngle = Window{4 * ball.Degree, 7 * ball.Degree}
)

// instant is a time with the piece of the dense solution that holds it.
type instant struct {
	piece int
	time  float64
}

// report reads the shot off the dense solution.
func (t *Thrower) report(status Status, r Release, s Settings) Shot {
	shot := Shot{Status: status, Stats: t.stats}
	states := make([]State, 0, len(MarkDistances)+6) // one block for all events and marks
	keep := func(at instant) *State {
		states = append(states, t.describe(at, r.Hand))
		return &states[len(states)-1]
	}
	first := instant{0, 0}
	end := instant{len(t.pieces) - 1, t.finalTime}
	reached := t.component(end, ix)

	for _, x := range MarkDistances {
		if x <= r.LaydownDistance || x > reached {
			continue
		}
		if at, ok := t.reaches(x); ok {
			state := keep(at)
			state.Distance = x
		}
	}
	shot.Marks = states[:len(states):len(states)]

	e := &shot.Events
	last := keep(end)
	switch status {
	case Pins:
		last.Distance = t.lane.Length
		e.Pins = last
	case Gutter:
		e.Gutter = last
	}
	rolls, rolled := t.rollStart()
	if rolled {
		e.RollStart = keep(rolls)
	}
	oil := end
	if t.m.oil != nil && t.m.oilEnd > r.LaydownDistance && t.m.oilEnd <= reached {
		if at, ok := t.reaches(t.m.oilEnd); ok {
			oil = at
			e.PatternEnd = keep(at)
			e.PatternEnd.Distance = t.m.oilEnd
		}
	}
	turned := end
	if rolled {
		turned = rolls
	}
	if turn := t.heading(turned) - t.heading(first); math.Abs(turn) >= leastTurn {
		if at, ok := t.turnsTo(t.heading(first)+hookShare*turn, turn > 0, turned); ok {
			e.HookStart = keep(at)
		}
		at, kind := t.breakpoint(turned)
		e.Breakpoint = &Breakpoint{State: t.describe(at, r.Hand), Kind: kind}
	}

	u := &shot.Summary
	t.phases(&shot, r, reached)
	y := t.scratch[:]
	t.pieces[end.piece].At(end.time, y)
	u.SpeedLoss = r.Speed - last.Speed
	u.EnergyLost = -y[iWork]
	u.Revolutions = y[iTurned] / (2 * math.Pi)
	u.Flare = y[iFlare]
	if t.m.oil != nil && t.m.oilEnd > r.LaydownDistance {
		u.FlareOil = t.component(oil, iFlare)
	}
	u.ReSlips = t.slips
	u.Oil = OilBudget{Lane: y[iLane], Track: y[iTrack], Rings: y[iRings], Soaked: y[iSoaked]}
	if e.Pins != nil {
		board, angle := e.Pins.Board, e.Pins.Heading
		u.EntryBoard, u.EntryAngle = &board, &angle
		pocket, good := s.Pocket, s.GoodAngle
		if pocket == (Window{}) {
			pocket = DefaultPocket
		}
		if good == (Window{}) {
			good = DefaultGoodAngle
		}
		u.Pocket, u.GoodAngle = pocket.Contains(board), good.Contains(angle)
	}
	if s.PathSpacing >= 0 {
		shot.Path = t.path(s.PathSpacing, end, r.Hand)
	}
	if s.ExchangeSpacing >= 0 && t.m.oil != nil {
		shot.Exchange = t.exchanges(s.ExchangeSpacing)
	}
	return shot
}

// phases fills in the lengths of skid, hook and roll.
func (t *Thrower) phases(shot *Shot, r Release, reached float64) {
	u, e := &shot.Summary, &shot.Events
	length := func(from, to float64) *float64 {
		v := to - from
		return &v
	}
	slid := reached
	if e.RollStart != nil {
		slid = e.RollStart.Distance
		u.Roll = length(slid, reached)
	}
	if e.HookStart == nil {
		u.Skid = length(r.LaydownDistance, slid)
		return
	}
	u.Skid = length(r.LaydownDistance, e.HookStart.Distance)
	u.Hook = length(e.HookStart.Distance, slid)
}

// component returns one component of the state.
func (t *Thrower) component(at instant, i int) float64 {
	return t.pieces[at.piece].Component(i, at.time)
}

// find returns the piece that holds a time.
func (t *Thrower) find(time float64) instant {
	i := sort.Search(len(t.pieces)-1, func(i int) bool { return time < t.pieces[i].End })
	return instant{i, time}
}

// reaches finds the first time at which the ball is at distance x in m.
func (t *Thrower) reaches(x float64) (instant, bool) {
	for i := range t.pieces {
		p := &t.pieces[i]
		after := p.Component(ix, p.End) - x
		if after < 0 {
			continue
		}
		before := p.Component(ix, p.Start) - x
		if before >= 0 {
			return instant{i, p.Start}, true
		}
		if after == 0 {
			return instant{i, p.End}, true
		}
		at := ode.Root(func(u float64) float64 { return p.Component(ix, u) - x }, p.Start, p.End, before, after)
		return instant{i, at}, true
	}
	return instant{}, false
}

// rollStart finds the first moment of rolling after which the contact slips no
// farther than settledSlip in all.
func (t *Thrower) rollStart() (instant, bool) {
	last := len(t.pieces) - 1
	total := t.pieces[last].Component(iSlip, t.finalTime)
	for _, e := range t.entries {
		if total-e.slipped <= settledSlip {
			at := t.find(e.time)
			if at.time >= t.finalTime {
				at.piece = last
			}
			return at, true
		}
	}
	return instant{}, false
}

// enter puts the machine into the conditions of a piece.
func (t *Thrower) enter(p *piece) {
	m := &t.m
	m.mode, m.oiled, m.stretch, m.pivotSide = p.mode, p.oiled, p.stretch, p.pivotSide
	m.start = p.start
	m.tensor = diagonal(m.inertia, &p.start)
	m.inverted = diagonal(m.inverse, &p.start)
}

// motion returns the velocity of the sphere's centre.
func (t *Thrower) motion(at instant) (vx, vy float64) {
	p := &t.pieces[at.piece]
	r := t.m.radius
	if p.mode != sliding {
		return r * p.Component(iwy, at.time), -r * p.Component(iwx, at.time)
	}
	if !t.m.offCentre {
		return p.Component(ivx, at.time), p.Component(ivy, at.time)
	}
	t.enter(p)
	y := t.scratch[:]
	p.At(at.time, y)
	var q matrix
	advance(&q, vector{y[itx], y[ity], y[itz]}, &p.start)
	return t.m.centre(y, &q)
}

// heading is the direction of travel in rad, positive to the left.
func (t *Thrower) heading(at instant) float64 {
	vx, vy := t.motion(at)
	return math.Atan2(vy, vx)
}

// turnsTo finds the first time before limit at which the heading has turned to
// the given one, to the left or to the right.
func (t *Thrower) turnsTo(heading float64, left bool, limit instant) (instant, bool) {
	sin, cos := math.Sincos(heading)
	if !left {
		sin, cos = -sin, -cos
	}
	ahead := func(at instant) float64 {
		vx, vy := t.motion(at)
		return cos*vy - sin*vx
	}
	before := ahead(instant{0, 0})
	for i := 0; i <= limit.piece; i++ {
		p := &t.pieces[i]
		end := p.End
		if i == limit.piece {
			end = limit.time
		}
		after := ahead(instant{i, end})
		if before < 0 && after >= 0 {
			if after == 0 || end == p.Start {
				return instant{i, end}, true
			}
			at := ode.Root(func(u float64) float64 { return ahead(instant{i, u}) }, p.Start, end, before, after)
			return instant{i, at}, true
		}
		before = after
	}
	return instant{}, false
}

// breakpoint finds the point farthest to the right where the path turns back
// or, on a path that does not, the point of greatest curvature before limit.
func (t *Thrower) breakpoint(limit instant) (instant, BreakpointKind) {
	last := len(t.pieces) - 1
	lowest := min(t.component(instant{0, 0}, iy), t.component(instant{last, t.finalTime}, iy))
	best, found := instant{}, false
	_, before := t.motion(instant{0, 0})
	for i := range t.pieces {
		p := &t.pieces[i]
		_, after := t.motion(instant{i, p.End})
		if before < 0 && after >= 0 {
			at := instant{i, p.End}
			if after > 0 {
				at.time = ode.Root(func(u float64) float64 {
					_, v := t.motion(instant{i, u})
					return v
				}, p.Start, p.End, before, after)
			}
			if y := t.component(at, iy); y < lowest {
				best, found, lowest = at, true, y
			}
		}
		before = after
	}
	if found {
		return best, Turn
	}
	return t.sharpest(limit), Curvature
}

// curvature of the path of the sphere's centre in 1/m.
func (t *Thrower) curvature(at instant) float64 {
	p := &t.pieces[at.piece]
	t.enter(p)
	m, y := &t.m, t.scratch[:]
	p.At(at.time, y)
	m.rate(at.time, y, t.rates[:])
	ax, ay := t.rates[ivx], t.rates[ivy]
	if m.offCentre {
		var q matrix
		advance(&q, vector{y[itx], y[ity], y[itz]}, &m.start)
		offset := q.times(m.offset)
		omega := vector{y[iwx], y[iwy], y[iwz]}
		change := add(cross(vector{t.rates[iwx], t.rates[iwy], t.rates[iwz]}, offset), cross(omega, cross(omega, offset)))
		ax, ay = ax-change.x, ay-change.y
	}
	vx, vy := t.rates[ix], t.rates[iy]
	v2 := vx*vx + vy*vy
	return math.Abs(vx*ay-vy*ax) / (v2 * math.Sqrt(v2))
}

// sharpest finds the point of greatest curvature before limit: the best of a
// few samples of every piece, refined by golden-section search between its
// neighbours.
func (t *Thrower) sharpest(limit instant) instant {
	const samples = 4
	best, most := instant{}, -1.0
	for i := 0; i <= limit.piece; i++ {
		p := &t.pieces[i]
		end := p.End
		if i == limit.piece {
			end = limit.time
		}
		for k := 0; k <= samples; k++ {
			at := instant{i, p.Start + (end-p.Start)*float64(k)/samples}
			if c := t.curvature(at); c > most {
				best, most = at, c
			}
		}
	}
	p := &t.pieces[best.piece]
	end := p.End
	if best.piece == limit.piece {
		end = limit.time
	}
	step := (end - p.Start) / samples
	a, b := max(p.Start, best.time-step), min(end, best.time+step)
	const golden = 0.6180339887498949 // (√5 − 1)/2
	// Curvature is flat at its maximum: a millionth of a second is finer than
	// it can be told.
	for b-a > 1e-6 {
		x1, x2 := b-golden*(b-a), a+golden*(b-a)
		if t.curvature(instant{best.piece, x1}) >= t.curvature(instant{best.piece, x2}) {
			b = x2
		} else {
			a = x1
		}
	}
	if at := (instant{best.piece, (a + b) / 2}); t.curvature(at) > most {
		return at
	}
	return best
}

// describe tells the state at one instant, in the bowler's own terms where
// they differ.
func (t *Thrower) describe(at instant, hand ball.Hand) State {
	p := &t.pieces[at.piece]
	t.enter(p)
	m, y := &t.m, t.scratch[:]
	p.At(at.time, y)
	m.rate(at.time, y, t.rates[:])
	vx, vy := t.rates[ix], t.rates[iy]
	s := State{
		Time:     at.time,
		Distance: y[ix],
		Lateral:  y[iy],
		Board:    lane.Board(y[iy]),
		Heading:  math.Atan2(vy, vx),
		Speed:    math.Hypot(vx, vy),
		Velocity: [2]float64{vx, vy},
		Spin:     [3]float64{y[iwx], y[iwy], y[iwz]},
		RevRate:  norm(vector{y[iwx], y[iwy], y[iwz]}),
		Slip:     m.now.slip,
		Friction: m.now.mu,
		Normal:   m.now.normal,
		Oil:      m.now.gap,
		BallOil:  m.now.own,
	}
	s.AxisRotation, s.AxisTilt = math.NaN(), math.NaN()
	if s.RevRate > 0 {
		s.AxisTilt = math.Asin(max(-1, min(1, y[iwz]/s.RevRate)))
	}
	if y[iwx] != 0 || y[iwy] != 0 {
		// ω_h = |ω_h| (−sin α, cos α) in axes along and left of the heading.
		sin, cos := math.Sincos(s.Heading)
		s.AxisRotation = math.Atan2(-(y[iwx]*cos + y[iwy]*sin), y[iwy]*cos-y[iwx]*sin)
	}
	if hand == ball.Left {
		s.Lateral = -s.Lateral
		s.Velocity[1] = -s.Velocity[1]
		s.Spin[0], s.Spin[2] = -s.Spin[0], -s.Spin[2]
	}
	return s
}

// path describes the shot at even distances and at its end.
func (t *Thrower) path(spacing float64, end instant, hand ball.Hand) []State {
	if spacing == 0 {
		spacing = defaultSpacing
	}
	start := t.component(instant{0, 0}, ix)
	reached := t.component(end, ix)
	points := make([]State, 0, max(2, 2+int((reached-start)/spacing)))
	points = append(points, t.describe(instant{0, 0}, hand))
	i := 0
	for k := 1; ; k++ {
		x := start + float64(k)*spacing
		if x > reached-spacing/2 {
			break
		}
		for i < len(t.pieces)-1 && t.component(instant{i, t.pieces[i].End}, ix) < x {
			i++
		}
		p := &t.pieces[i]
		before, after := p.Component(ix, p.Start)-x, p.Component(ix, p.End)-x
		if !(before < 0 && after > 0) {
			continue
		}
		at := ode.Root(func(u float64) float64 { return p.Component(ix, u) - x }, p.Start, p.End, before, after)
		points = append(points, t.describe(instant{i, at}, hand))
		points[len(points)-1].Distance = x
	}
	return append(points, t.describe(end, hand))
}

// exchanges adds up the oil taken over short pieces of the way.
func (t *Thrower) exchanges(spacing float64) []Exchange {
	if spacing == 0 {
		spacing = defaultSpacing
	}
	var list []Exchange
	side := t.m.oilSide
	for i := range t.pieces {
		p := &t.pieces[i]
		length := math.Abs(p.Component(ix, p.End) - p.Component(ix, p.Start))
		n := max(1, int(math.Ceil(length/spacing)))
		x0, o0 := p.Component(ix, p.Start), p.Component(iLane, p.Start)
		for k := 1; k <= n; k++ {
			at := p.Start + (p.End-p.Start)*float64(k)/float64(n)
			middle := p.Start + (p.End-p.Start)*(float64(k)-0.5)/float64(n)
			x1, o1 := p.Component(ix, at), p.Component(iLane, at)
			if x1 != x0 || o1 != o0 {
				list = append(list, Exchange{
					Distance: (x0 + x1) / 2,
					Lateral:  side * p.Component(iy, middle),
					Length:   x1 - x0,
					Volume:   o0 - o1,
				})
			}
			x0, o0 = x1, o1
		}
	}
	return list
}
