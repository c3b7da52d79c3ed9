package pins

import (
	"encoding/binary"
	"math"
	"math/rand/v2"

	"lanesim/internal/statistics"
)

// draws gives the random numbers of one rack. They follow from seed and number alone:
// the two are the key of a ChaCha8 generator (Bernstein, "ChaCha, a variant of Salsa20",
// 2008, with 8 rounds), so that racks can be computed in any order.
type draws struct{ source *rand.ChaCha8 }

func (d draws) begin(seed, number uint64) {
	var key [32]byte
	copy(key[:], "lanesim rack")
	binary.LittleEndian.PutUint64(key[16:], seed)
	binary.LittleEndian.PutUint64(key[24:], number)
	d.source.Seed(key)
}

// normal returns a number of the standard normal distribution, within three standard
// deviations: from the middle of one of 2⁵³ equal parts of the interval from 0 to 1.
func (d draws) normal() float64 {
	z := statistics.Normal((float64(d.source.Uint64()>>11) + 0.5) / (1 << 53))
	return min(max(z, -3), 3)
}

// set puts the pins on their spots, upright and asleep, each a little different. The
// random numbers of all ten are drawn whichever stand, so that a pin is the same in
// every leave.
func (d *Deck) set(standing Leave, seed, number uint64) {
	d.draws.begin(seed, number)
	s := &d.settings
	for i := range Count {
		b := &d.bodies[i]
		mass := s.Mass + s.MassScatter*d.draws.normal()
		b.setMass(mass, mass*s.AcrossGyration*s.AcrossGyration, mass*s.AlongGyration*s.AlongGyration)
		b.centre = s.MassCentre + s.MassCentreScatter*d.draws.normal()
		b.x = vector{Spots[i][0] + s.SpotScatter*d.draws.normal(), Spots[i][1] + s.SpotScatter*d.draws.normal(), b.centre}
		b.restitution = 1 + s.RestitutionScatter*d.draws.normal()
		b.friction = 1 + s.FrictionScatter*d.draws.normal()
		b.u, b.v, b.w = vector{0, 0, 1}, vector{}, vector{}
		b.asleep, b.gone, b.overhangs, b.still = true, !standing.Has(i+1), false, 0
		b.resting, b.held = false, [6][3]float64{}
	}
}

// place sets the ball's position and motion from the delivery.
func (d *Deck) place(r Delivery) {
	b := &d.bodies[ballIndex]
	*b = body{u: vector{0, 0, 1}, radius: r.Radius, restitution: 1, friction: 1}
	i := r.Mass * r.Gyration * r.Gyration
	b.setMass(r.Mass, i, i)
	b.x = vector{r.Position[0], r.Position[1], r.Radius}
	b.v = vector{r.Velocity[0], r.Velocity[1], 0}
	b.w = vector{r.Spin[0], r.Spin[1], r.Spin[2]}
}

// coefficients returns those of a contact of two bodies, a the ball or both pins.
func (d *Deck) coefficients(a, b *body) (restitution, friction float64) {
	if a.radius > 0 {
		return min(1, d.settings.BallPinRestitution*b.restitution), d.settings.BallPinFriction * b.friction
	}
	return min(1, d.settings.PinPinRestitution*(a.restitution+b.restitution)/2), d.settings.PinPinFriction * (a.friction + b.friction) / 2
}

// uprightCosine is the cosine of the lean beyond which a pin is down.
const uprightCosine = math.Sqrt2 / 2
