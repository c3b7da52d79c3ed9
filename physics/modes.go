package physics

import (
	"math"

	"lanesim/internal/portable"
)

// This file holds the changes between sliding and rolling. Roll begins where
// the slip is below a floor ε and the force that rolling needs is within
// friction, |F| ≤ μN; it ends where that force exceeds friction.

// begin starts a smooth stretch at release or behind an edge: looks the film up
// under what holds from here on and makes sure that the mode is right.
func (t *Thrower) begin(now float64, y []float64) {
	if m := &t.m; m.remembers() {
		m.touchNow(now, y)
		m.ahead.carried = false
	}
	t.chooseMode(now, y)
}

// chooseMode makes the mode right where the rates have jumped.
func (t *Thrower) chooseMode(now float64, y []float64) {
	m := &t.m
	m.rate(now, y, t.rates[:])
	switch {
	case m.mode == sliding:
		if m.now.slip < t.slipFloor {
			t.beginRoll(now, y)
		}
	case m.now.margin < 0:
		t.endRoll(now, y)
	case m.mode == pinned && m.now.pivot < 0:
		t.hold(now, y)
	}
}

// beginRoll takes away the remaining slip and begins to roll or, if friction
// cannot hold the ball, lets it slide on.
func (t *Thrower) beginRoll(now float64, y []float64) {
	m := &t.m
	var s motion
	m.motionIn(&s, y)
	fx, fy := m.applyImpulse(y, -s.ux, -s.uy)
	y[iWork] += (fx*s.ux + fy*s.uy) / 2
	m.mode = rolling
	m.constrain(y)
	t.hold(now, y)
	m.rate(now, y, t.rates[:])
	if t.rests(y) {
		return
	}
	if m.now.margin < 0 {
		t.beginSlide(y)
		return
	}
	if spin := t.rates[iTurned]; spin > 0 && t.coarse {
		t.control.InitialStep = afterCatch / spin
	}
	t.entries = append(t.entries, entry{now, y[iSlip]})
}

// rests reports that a ball without slip stands and stays, as friction can hold it there:
// against the lane's slope, and a mass centre that goes round as the ball turns about the
// vertical.
func (t *Thrower) rests(y []float64) bool {
	if !t.stands(y) {
		return false
	}
	m := &t.m
	offset := m.start.times(m.offset)
	ax, ay := -y[iwz]*y[iwz]*offset.x-m.slope.x, -y[iwz]*y[iwz]*offset.y-m.slope.y
	return ax*ax+ay*ay <= m.now.mu*m.g*m.now.mu*m.g
}

// hold decides, for a rolling ball, whether pivot friction keeps it from
// turning about the vertical.
func (t *Thrower) hold(now float64, y []float64) {
	m := &t.m
	m.mode = rolling
	m.pivotSide = math.Copysign(1, y[iwz])
	if m.contactRadius == 0 || math.Abs(y[iwz]) >= pivotFloor {
		return
	}
	y[iwz] = 0
	if m.remembers() {
		// The polynomial in place of the friction along a long step might undo at once what is
		// decided here.
		t.control.InitialStep = afterBreakaway
	}
	m.mode = pinned
	m.rate(now, y, t.rates[:])
	if m.now.pivot >= 0 && m.now.margin >= 0 {
		return
	}
	// It turns against the torque that would have held it. A turning of no
	// consequence shows from the first instant on which side of zero it is.
	m.mode = rolling
	m.pivotSide = math.Copysign(1, -m.now.hold)
	y[iwz] = m.pivotSide * pivotFloor
}

// endRoll ends the roll.
func (t *Thrower) endRoll(now float64, y []float64) {
	t.m.rate(now, y, t.rates[:])
	t.slips++
	t.beginSlide(y)
}

// beginSlide sets a rolling ball sliding against the force that friction cannot
// give, which the last evaluation found.
func (t *Thrower) beginSlide(y []float64) {
	m := &t.m
	fx, fy := m.force(&m.now.action)
	size := portable.Hypot(fx, fy)
	m.mode = sliding
	t.control.InitialStep = afterBreakaway
	if t.coarse {
		t.control.InitialStep = afterBreakawayCoarse
	}
	if size > 0 {
		ux, uy := -breakaway*t.slipFloor*fx/size, -breakaway*t.slipFloor*fy/size
		fx, fy := m.applyImpulse(y, ux, uy)
		y[iWork] += (fx*ux + fy*uy) / 2
	}
}

// constrain sets the velocity of the mass centre to what rolling makes it,
// ω × r with r the arm from the contact.
func (m *machine) constrain(y []float64) {
	omega := vector{y[iwx], y[iwy], y[iwz]}
	arm := vector{0, 0, m.radius}
	if m.offCentre {
		arm = add(arm, m.start.times(m.offset))
	}
	v := cross(omega, arm)
	y[ivx], y[ivy] = v.x, v.y
}

// applyImpulse gives the ball the horizontal impulse at the contact that changes the
// slip by (dux, duy), and returns the impulse in N·s. With the arm −r from
// centre of mass to contact, Δu = f/m + (I⁻¹(−r × f)) × −r.
func (m *machine) applyImpulse(y []float64, dux, duy float64) (fx, fy float64) {
	q := &m.start
	arm := vector{0, 0, m.radius}
	if m.offCentre {
		arm = add(arm, q.times(m.offset))
	}
	response := func(f vector) (spin vector, slip [2]float64) {
		torque := q.transposed(cross(f, arm))
		spin = q.times(each(m.inverse, torque))
		moved := cross(arm, spin)
		return spin, [2]float64{f.x/m.mass + moved.x, f.y/m.mass + moved.y}
	}
	_, a := response(vector{1, 0, 0})
	_, b := response(vector{0, 1, 0})
	det := a[0]*b[1] - a[1]*b[0]
	fx = (dux*b[1] - duy*b[0]) / det
	fy = (duy*a[0] - dux*a[1]) / det
	spin, _ := response(vector{fx, fy, 0})
	y[ivx] += fx / m.mass
	y[ivy] += fy / m.mass
	y[iwx] += spin.x
	y[iwy] += spin.y
	y[iwz] += spin.z
	return fx, fy
}
