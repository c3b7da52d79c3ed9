package physics

import (
	"math"
	"sort"

	"lanesim/ball"
	"lanesim/internal/portable"
	"lanesim/internal/root"
	"lanesim/lane"
	"lanesim/units"
)

const (
	// DefaultHookTurn is the change of heading in rad at which the hook starts.
	DefaultHookTurn = 1 * units.Degree

	// settledSlip is the distance in m that the contact may still slip in all after the roll start: slips
	// shorter than the width of the contact patch are part of the roll.
	settledSlip = 5e-3

	defaultSpacing = 0.25 * units.Foot
)

// MarkDistances are the distances in m at which shots are compared: the arrows and 20, 30, 40, 45, 50 and 55
// ft.
var MarkDistances = [...]float64{lane.Arrows, 20 * units.Foot, 30 * units.Foot, 40 * units.Foot, 45 * units.Foot, 50 * units.Foot, 55 * units.Foot}

// Default windows of the pocket, in boards, and of good entry angles, in rad. They are common practice.
var (
	DefaultPocket    = Window{17.5 - 0.75, 17.5 + 0.75}
	DefaultGoodAngle = Window{4 * units.Degree, 7 * units.Degree}
)

// instant is a time with the index of its piece of the dense solution.
type instant struct {
	piece int
	time  float64
}

// report evaluates the shot from the dense solution.
func (t *Thrower) report(status Status, r Release, s Settings) Shot {
	shot := Shot{Status: status, Stats: t.stats}
	end := instant{len(t.pieces) - 1, t.finalTime}
	if s.EndOnly {
		last := t.describe(end, r.Hand)
		t.reportEnd(&shot, &last, r, s)
		if s.FrictionRead {
			if at, ok := t.frictionRead(end); ok {
				read := t.describe(at, r.Hand)
				shot.Events.FrictionRead = &read
			}
		}
		return shot
	}
	states := make([]State, 0, len(MarkDistances)+7) // one block for all events and marks
	keep := func(at instant) *State {
		states = append(states, t.describe(at, r.Hand))
		return &states[len(states)-1]
	}
	reached := t.component(end, ix)

	piece := 0
	for _, x := range MarkDistances {
		if x <= r.LaydownDistance || x > reached {
			continue
		}
		if at, ok := t.reaches(x, piece); ok {
			state := keep(at)
			state.Distance = x
			piece = at.piece
		}
	}
	shot.Marks = states[:len(states):len(states)]

	e := &shot.Events
	last := keep(end)
	t.reportEnd(&shot, last, r, s)
	rolls, rolled := t.rollStart()
	if rolled {
		e.RollStart = keep(rolls)
	}
	oil := end
	if t.m.oil != nil && t.m.oilEnd > r.LaydownDistance && t.m.oilEnd <= reached {
		if at, ok := t.reaches(t.m.oilEnd, 0); ok {
			oil = at
			e.PatternEnd = keep(at)
			e.PatternEnd.Distance = t.m.oilEnd
		}
	}
	straight := end
	if rolled {
		straight = rolls
	}
	turn := s.HookTurn
	if turn == 0 {
		turn = DefaultHookTurn
	}
	if at, ok := t.turnsBy(turn, straight); ok {
		e.HookStart = keep(at)
	}
	if at, ok := t.frictionRead(end); ok {
		e.FrictionRead = keep(at)
	}

	u := &shot.Summary
	if at, ok := t.breakpoint(r.Backup(), end); ok {
		e.Breakpoint = keep(at)
		u.BreakpointInOil = t.m.oil != nil && e.Breakpoint.Distance < t.m.oilEnd
	}
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
	exchange := s.ExchangeSpacing >= 0 && t.m.oil != nil
	u.Oil = t.budget(y[iLane])
	if s.PathSpacing >= 0 {
		shot.Path = t.path(s.PathSpacing, end, r.Hand)
		shot.Path[len(shot.Path)-1].Distance = last.Distance
	}
	if s.TrackSpacing > 0 {
		shot.Track = t.track(s.TrackSpacing, end, r.Hand)
	}
	if exchange {
		shot.Exchange = t.exchanges(s.ExchangeSpacing)
	}
	return shot
}

// reportEnd fills in the event and the verdicts of the end of the shot.
func (t *Thrower) reportEnd(shot *Shot, last *State, r Release, s Settings) {
	switch shot.Status {
	case Gutter:
		shot.Events.Gutter = last
	case Pins:
		last.Distance = t.lane.Length
		shot.Events.Pins = last
		shot.Summary.Pocket, shot.Summary.GoodAngle = s.Verdicts(r, last.Board, last.Heading)
	}
}

// phases fills in the lengths of skid, hook and roll.
func (t *Thrower) phases(shot *Shot, r Release, reached float64) {
	u, e := &shot.Summary, &shot.Events
	slid := reached
	u.Hook, u.Roll = math.NaN(), math.NaN()
	if e.RollStart != nil {
		slid = e.RollStart.Distance
		u.Hook, u.Roll = 0, reached-slid
	}
	u.Skid = slid - r.LaydownDistance
	if e.HookStart != nil {
		u.Skid, u.Hook = e.HookStart.Distance-r.LaydownDistance, slid-e.HookStart.Distance
	}
}

// component returns one component of the state.
func (t *Thrower) component(at instant, i int) float64 {
	return t.pieces[at.piece].Component(i, at.time)
}

// instantAt returns the instant of a time, with its piece.
func (t *Thrower) instantAt(time float64) instant {
	i := sort.Search(len(t.pieces)-1, func(i int) bool { return time < t.pieces[i].End })
	return instant{i, time}
}

// reaches finds the first time, from piece from on, at which the ball is at distance x in m.
func (t *Thrower) reaches(x float64, from int) (instant, bool) {
	for i := from; i < len(t.pieces); i++ {
		if p := &t.pieces[i]; p.Component(ix, p.End) >= x {
			return t.reachesWithin(i, x)
		}
	}
	return instant{}, false
}

// reachesWithin finds the time within piece i at which the ball is at distance x in m. Neighbouring pieces
// may differ by rounding where they meet: a piece that starts beyond x reaches it at its start.
func (t *Thrower) reachesWithin(i int, x float64) (instant, bool) {
	p := &t.pieces[i]
	before, after := p.Component(ix, p.Start)-x, p.Component(ix, p.End)-x
	switch {
	case after < 0:
		return instant{}, false
	case before >= 0:
		return instant{i, p.Start}, true
	case after == 0:
		return instant{i, p.End}, true
	}
	at := root.Find(func(u float64) float64 { return p.Component(ix, u) - x }, p.Start, p.End, before, after, 0)
	return instant{i, at}, true
}

// rollStart finds the first instant of rolling after which the contact slips by no more than settledSlip in
// all.
func (t *Thrower) rollStart() (instant, bool) {
	last := len(t.pieces) - 1
	total := t.pieces[last].Component(iSlip, t.finalTime)
	for _, e := range t.entries {
		if total-e.slipped <= settledSlip {
			at := t.instantAt(e.time)
			if at.time >= t.finalTime {
				at.piece = last
			}
			return at, true
		}
	}
	return instant{}, false
}

// conditions returns a piece with the present conditions, which resume restores.
func (m *machine) conditions() piece {
	return piece{start: m.start, mode: m.mode, oiled: m.oiled, patch: m.patch, stretch: m.stretch, pivotSide: m.pivotSide}
}

// resume sets the machine to the conditions of a piece.
func (t *Thrower) resume(p *piece) {
	m := &t.m
	m.start, m.mode, m.oiled, m.patch, m.stretch, m.pivotSide = p.start, p.mode, p.oiled, p.patch, p.stretch, p.pivotSide
}

// describe returns the state at one instant. For a left-hander it mirrors the computed shot back.
func (t *Thrower) describe(at instant, hand ball.Hand) State {
	p := &t.pieces[at.piece]
	m, y := &t.m, t.scratch[:]
	p.At(at.time, y)
	moves := t.contactIn(p, at.time, y)
	vx, vy := moves.cx, moves.cy
	s := State{
		Time:     at.time,
		Distance: y[ix],
		Lateral:  y[iy],
		Board:    lane.Board(y[iy]),
		Heading:  math.Atan2(vy, vx),
		Speed:    portable.Hypot(vx, vy),
		Velocity: [2]float64{vx, vy},
		Spin:     [3]float64{y[iwx], y[iwy], y[iwz]},
		RevRate:  norm(vector{y[iwx], y[iwy], y[iwz]}),
		Slip:     m.contact.slip,
		Friction: m.contact.mu,
		Normal:   m.contact.normal,
		Oil:      m.contact.gap,
		BallOil:  m.contact.own,
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
	s.Orientation = moves.q.quaternion()
	if hand == ball.Left {
		s.Lateral = -s.Lateral
		s.Velocity[1] = -s.Velocity[1]
		s.Spin[0], s.Spin[2] = -s.Spin[0], -s.Spin[2]
		// Lane and ball are both mirrored, M Q M with M = diag(1, −1, 1).
		s.Orientation[1], s.Orientation[3] = -s.Orientation[1], -s.Orientation[3]
	}
	return s
}

// contactIn evaluates the contact in a state within a piece, and returns the motion of the ball.
func (t *Thrower) contactIn(p *piece, time float64, y []float64) *motion {
	m := &t.m
	s := &m.motion
	t.resume(p)
	if m.offCentre {
		m.rate(time, y, t.rates[:])
		return s
	}
	m.motionIn(s, y)
	m.exchange(time, y, s, t.rates[:])
	m.contact.mu, m.contact.normal, m.contact.slip = m.law.coefficient(m.contact.gap, m.stretch), m.mass*m.g, portable.Hypot(s.ux, s.uy)
	return s
}

// path describes the shot at equal distances and at its end.
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
		at, ok := t.reachesWithin(i, x)
		if !ok {
			continue
		}
		points = append(points, t.describe(at, hand))
		points[len(points)-1].Distance = x
	}
	return append(points, t.describe(end, hand))
}
