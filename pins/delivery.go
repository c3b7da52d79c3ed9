package pins

import (
	"math"

	"lanesim/ball"
	"lanesim/internal/check"
	"lanesim/lane"
	"lanesim/physics"
)

// HandOver is the distance in m from the foul line at which the deck takes over from
// the lane: the ball touches no pin before it.
const HandOver = lane.HeadPin - 10*inch

// Delivery is a ball on its way to the pins, in the bowler's frame of this package.
// It may slip.
type Delivery struct {
	Mass, Radius float64 // kg, m
	Gyration     float64 // m, radius of gyration, the same about every axis

	Position [2]float64 // m, of the centre: down-lane from the head pin's spot, to the off side
	Velocity [2]float64 // m/s, the same way
	Spin     [3]float64 // rad/s: down-lane, to the off side, up
}

// FromShot returns the delivery that continues a shot from one of its states. A state
// beyond [HandOver] is moved back to it along its heading. The ball's radius of
// gyration is that about the axis to its PAP.
func FromShot(b ball.Ball, s physics.State, hand ball.Hand) Delivery {
	d := Delivery{
		Mass: b.Mass, Radius: b.Radius, Gyration: b.RG(b.PAP),
		Position: [2]float64{s.Distance - lane.HeadPin, s.Lateral}, Velocity: s.Velocity, Spin: s.Spin,
	}
	if back := s.Distance - HandOver; back > 0 && s.Velocity[0] > 0 {
		d.Position[0] -= back
		d.Position[1] -= back * s.Velocity[1] / s.Velocity[0]
	}
	if hand == ball.Left {
		d.Position[1], d.Velocity[1] = -d.Position[1], -d.Velocity[1]
		d.Spin[0], d.Spin[2] = -d.Spin[0], -d.Spin[2] // a mirror image turns the other way
	}
	return d
}

// Rolling returns the delivery of a ball that rolls without spin about the vertical.
// Board is where its line crosses the head pin's distance, in the bowler's boards, and
// angle in rad is its heading, positive to the off side. The ball is 8.58 in across
// with a radius of gyration of 2.5 in.
func Rolling(board, angle, speed, mass float64) Delivery {
	const radius, gyration = 4.29 * inch, 2.5 * inch
	sin, cos := math.Sincos(angle)
	const back = lane.HeadPin - HandOver
	return Delivery{
		Mass: mass, Radius: radius, Gyration: gyration,
		Position: [2]float64{-back, lane.Lateral(board) - back*sin/cos},
		Velocity: [2]float64{speed * cos, speed * sin},
		Spin:     [3]float64{-speed * sin / radius, speed * cos / radius, 0},
	}
}

// Validate returns nil if a rack can be computed for the delivery, or all its faults
// joined, each a [*units.FieldError].
func (d Delivery) Validate() error {
	v := check.Of("pins")
	within := func(field string, value, least, most float64, rule string) {
		if !(value >= least && value <= most) {
			v.Refuse("Delivery."+field, value, rule)
		}
	}
	within("Mass", d.Mass, 1, 10, "must lie between 1 and 10 kg")
	within("Radius", d.Radius, 0.08, 0.13, "must lie between 0.08 and 0.13 m")
	within("Gyration", d.Gyration, 0.2*d.Radius, d.Radius, "must lie between a fifth of the radius and the radius")
	within("Position[0]", d.Position[0], -2, HandOver-lane.HeadPin+1e-9, "must lie between −2 m and the hand-over, 10 in before the head pin")
	within("Position[1]", d.Position[1], -2, 2, "must lie between −2 and 2 m")
	within("Velocity[0]", d.Velocity[0], 0.5, 30, "must lie between 0.5 and 30 m/s")
	within("Velocity[1]", d.Velocity[1], -30, 30, "must lie between −30 and 30 m/s")
	for i, name := range [3]string{"Spin[0]", "Spin[1]", "Spin[2]"} {
		within(name, d.Spin[i], -300, 300, "must lie between −300 and 300 rad/s")
	}
	return v.Err()
}
