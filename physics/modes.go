package physics

import (
	"math"

	"lanesim/internal/portable"
)

// This file has the changes between sliding and rolling. Rolling begins where the slip is below a floor ε and
// friction can give the force that rolling needs, |F| ≤ μN; it ends where that force exceeds μN.

// begin starts a smooth stretch, at release or after an edge: it looks the film up under the new conditions
// and chooses the mode.
func (t *Thrower) begin(now float64, y []float64) {
	if m := &t.m; m.remembers() {
		m.touchNow(now, y)
		m.ahead.carried = false
	}
	t.chooseMode(now, y)
}

// chooseMode changes the mode if it no longer fits after the rates have jumped.
func (t *Thrower) chooseMode(now float64, y []float64) {
	m := &t.m
	m.rate(now, y, t.rates[:])
	switch {
	case m.mode == sliding:
		if m.contact.slip < t.slipFloor {
			t.beginRoll(now, y)
		}
	case m.contact.margin < 0:
		t.endRoll(now, y)
	case m.mode == pinned && m.contact.pivot < 0:
		t.choosePinned(now, y)
	}
}

// beginRoll removes the remaining slip and makes the ball roll or, if friction is too weak for that, lets it
// slide on.
func (t *Thrower) beginRoll(now float64, y []float64) {
	m := &t.m
	var s motion
	m.motionIn(&s, y)
	fx, fy := m.applyImpulse(y, -s.ux, -s.uy)
	y[iWork] += (fx*s.ux + fy*s.uy) / 2
	m.mode = rolling
	m.constrain(y)
	t.choosePinned(now, y)
	m.rate(now, y, t.rates[:])
	if t.staysAtRest(y) {
		return
	}
	if m.contact.margin < 0 {
		t.beginSlide(y)
		return
	}
	if spin := t.rates[iTurned]; spin > 0 && t.coarse {
		t.control.InitialStep = afterCatch / spin
	}
	t.entries = append(t.entries, entry{now, y[iSlip]})
}

// staysAtRest reports whether a ball without slip has stopped and friction can keep it there, against the
// lane's slope and against a mass centre that circles while the ball turns about the vertical.
func (t *Thrower) staysAtRest(y []float64) bool {
	if !t.atRest(y) {
		return false
	}
	m := &t.m
	offset := m.start.times(m.offset)
	ax, ay := -y[iwz]*y[iwz]*offset.x-m.slope.x, -y[iwz]*y[iwz]*offset.y-m.slope.y
	return ax*ax+ay*ay <= m.contact.mu*m.g*m.contact.mu*m.g
}

// choosePinned decides whether pivot friction keeps a rolling ball from turning about the vertical.
func (t *Thrower) choosePinned(now float64, y []float64) {
	m := &t.m
	m.mode = rolling
	m.pivotSide = math.Copysign(1, y[iwz])
	if m.contactRadius == 0 || math.Abs(y[iwz]) >= pivotFloor {
		return
	}
	y[iwz] = 0
	if m.remembers() {
		// The polynomial of friction along a long step might undo this decision at once.
		t.control.InitialStep = afterBreakaway
	}
	m.mode = pinned
	m.rate(now, y, t.rates[:])
	if m.contact.pivot >= 0 && m.contact.margin >= 0 {
		return
	}
	// It turns against the torque that would have held it. A negligible spin makes its sign known from the
	// first instant.
	m.mode = rolling
	m.pivotSide = math.Copysign(1, -m.contact.hold)
	y[iwz] = m.pivotSide * pivotFloor
}

// endRoll counts a breakaway and makes the ball slide.
func (t *Thrower) endRoll(now float64, y []float64) {
	t.m.rate(now, y, t.rates[:])
	t.slips++
	t.beginSlide(y)
}

// beginSlide makes a rolling ball slide. The slip is opposite to the force that rolling would need, taken
// from the last evaluation.
func (t *Thrower) beginSlide(y []float64) {
	m := &t.m
	fx, fy := m.force(&m.contact.action)
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

// constrain sets the velocity of the mass centre to that of rolling, ω × r with r the arm from the contact.
func (m *machine) constrain(y []float64) {
	omega := vector{y[iwx], y[iwy], y[iwz]}
	arm := vector{0, 0, m.radius}
	if m.offCentre {
		arm = add(arm, m.start.times(m.offset))
	}
	v := cross(omega, arm)
	y[ivx], y[ivy] = v.x, v.y
}

// applyImpulse applies the horizontal impulse at the contact that changes the slip by (dux, duy), and returns
// it in N·s. With the arm −r from the mass centre to the contact, Δu = f/m + (I⁻¹(−r × f)) × −r.
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
