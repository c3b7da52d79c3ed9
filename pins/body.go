package pins

import "math"

// body is the ball or a pin. The orientation of a pin about its axis has no influence.
type body struct {
	x vector // m, mass centre
	u vector // unit vector along the axis, from the base to the head
	v vector // m/s
	w vector // rad/s

	mass, across, along          float64 // kg; kg·m² about the axes of symmetry
	perMass, perAcross, perAlong float64 // their inverses

	centre float64 // m, mass centre above the base; of pins
	radius float64 // m, of the ball; 0 for a pin

	restitution, friction float64 // factors of this pin

	asleep, gone bool
	resting      bool          // pressed on a floor in the last step
	held         [6][3]float64 // N, the floor's force in that step, upward and across, at its points of onPlane
	overhangs    bool          // hangs over an edge of the deck
	still        float64       // s for which it has hardly moved
}

func (b *body) setMass(mass, across, along float64) {
	b.mass, b.across, b.along = mass, across, along
	b.perMass, b.perAcross, b.perAlong = 1/mass, 1/across, 1/along
}

// turn returns the change of the spin by an angular impulse: I⁻¹ k.
func (b *body) turn(k vector) vector {
	return k.mul(b.perAcross).plus((b.perAlong-b.perAcross)*b.u.dot(k), b.u)
}

// momentum returns the angular momentum about the mass centre.
func (b *body) momentum() vector {
	return b.w.mul(b.across).plus((b.along-b.across)*b.u.dot(b.w), b.u)
}

// energy returns the energy of the motion in J.
func (b *body) energy() float64 {
	return 0.5 * (b.mass*b.v.dot(b.v) + b.momentum().dot(b.w))
}

// velocity returns the velocity of the point at r from the mass centre.
func (b *body) velocity(r vector) vector { return b.v.add(b.w.cross(r)) }

// spin turns the body freely for a time in s. The angular momentum L is constant, and
// the axis turns about it at |L|/I, with I the moment across: du/dt = L/I × u.
func (b *body) spin(time float64) {
	if b.radius > 0 {
		return // all axes of a ball are alike
	}
	l := b.momentum()
	angle := l.mul(time * b.perAcross)
	size2 := angle.dot(angle)
	cos, sinc, cosc := 1-size2/2*(1-size2/12*(1-size2/30*(1-size2/56))), 1-size2/6*(1-size2/20*(1-size2/42*(1-size2/72))), 0.5-size2/24*(1-size2/30*(1-size2/56*(1-size2/90)))
	if size2 > 0.06 { // the series would lose digits
		size := math.Sqrt(size2)
		var sin float64
		sin, cos = math.Sincos(size)
		sinc, cosc = sin/size, (1-cos)/size2
	}
	u := b.u.mul(cos).plus(sinc, angle.cross(b.u)).plus(cosc*angle.dot(b.u), angle)
	b.u = u.mul(1 / u.norm())
	b.w = b.turn(l)
}

// at returns the point of the axis at s above the base.
func (b *body) at(s float64) vector { return b.x.plus(s-b.centre, b.u) }

// reach is a length in m: no part of a pin is farther from its mass centre.
const reach = 9.8 * inch

// fastest returns an upper bound of the speed in m/s of the body's points.
func (b *body) fastest() float64 {
	if b.asleep {
		return 0
	}
	speed := b.v.norm()
	if b.radius == 0 {
		speed += b.w.norm() * reach
	}
	return speed
}
