package physics

import (
	"math"

	"lanesim/internal/portable"
)

// This file is the law of the contact. Per unit of the normal force N the lane acts on the
// ball with
//
//	F/N  = −μ û,   û = u/|u|,   u = v + R (−ω_y, ω_x)     where the contact slips,
//	|F|  ≤ μ N                                             where it does not,
//	τ/N  = τ_pivot/N ẑ − c_rr R ω_h/|ω_h|                  against turning on the spot and rolling,
//
// with v the velocity of the sphere's centre, ω the spin in the lane's axes and R the
// sphere's radius.

// pivotCoefficient and pivotMixing belong to a Hertz contact of radius a that
// slides and spins at once,
//
//	τ_pivot = −(3π/16) μ N a · a|ω_z| / (a|ω_z| + (15π/16)|u|) · sign ω_z
//
// (Contensou 1963; the fraction is Zhuravlev's Padé form, from memory).
const (
	pivotCoefficient = 3 * math.Pi / 16
	pivotMixing      = 15 * math.Pi / 16
)

// slip is the velocity u of the contact over the lane.
func (m *machine) slip(vx, vy, wx, wy float64) (ux, uy float64) {
	return vx - m.radius*wy, vy + m.radius*wx
}

// direction is a slip's size and its direction û, nothing where it is 0.
func direction(ux, uy float64) (size, ex, ey float64) {
	if size = math.Sqrt(ux*ux + uy*uy); size > 0 {
		per := 1 / size
		ex, ey = ux*per, uy*per
	}
	return size, ex, ey
}

// leverage is the torque about the mass centre per unit of normal force, −r × (ẑ − μ û)
// with r the arm from the contact to the mass centre.
func leverage(arm vector, mu, ex, ey float64) vector {
	return vector{-(arm.y + arm.z*mu*ey), arm.z*mu*ex + arm.x, arm.x*mu*ey - arm.y*mu*ex}
}

// pivot is the torque per unit of normal force that works against turning about
// the vertical while the contact slips.
func (m *machine) pivot(mu, turning, slip float64) float64 {
	a := m.contactRadius
	if a == 0 || turning == 0 {
		return 0
	}
	return pivotCoefficient * mu * a * a * turning / (a*math.Abs(turning) + pivotMixing*slip)
}

// pivotGrip is that torque at most, and while the contact does not slip.
func (m *machine) pivotGrip(mu float64) float64 { return pivotCoefficient * mu * m.contactRadius }

// against is the torque per unit of normal force that works against pivoting and rolling while
// the contact does not slip.
func (m *machine) against(mu float64, omega vector) (torque vector) {
	if m.mode == rolling {
		torque.z = -m.pivotGrip(mu) * m.pivotSide
	}
	m.resist(omega, &torque)
	return torque
}

// resist adds rolling resistance, τ_roll/N = −c_rr R ω_h/|ω_h|, with R|ω_h| no
// less than slowRoll.
func (m *machine) resist(omega vector, against *vector) {
	if m.resistance == 0 {
		return
	}
	c := m.resistance * m.radius / max(portable.Hypot(omega.x, omega.y), slowRoll/m.radius)
	against.x -= c * omega.x
	against.y -= c * omega.y
}

// slowRoll is a speed of rolling in m/s below which rolling resistance fades out, so that
// it does not jump where the turning passes through nothing: well below what counts as at
// rest. A ball that friction does not turn against it slides on with so little turning.
const slowRoll = 0.005

// gripped notes what holds where the contact does not slip: the force on the ball, and by how
// much friction and its pivot exceed what is asked of them.
func (m *machine) gripped(fx, fy, normal float64) {
	now := &m.now
	now.force, now.normal = [2]float64{fx, fy}, normal
	now.margin = now.holding*normal - math.Sqrt(fx*fx+fy*fy) + forceRounding*m.mass*m.g
	now.pivot = m.pivotGrip(now.holding)*normal - math.Abs(now.hold)
}
