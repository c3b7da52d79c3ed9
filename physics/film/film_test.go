package film

import (
	"math"
	"testing"

	"lanesim/ball"
)

const (
	radius = 0.109
	width  = 6.5e-3
	offer  = 1e-7 // m
)

// memory returns a film memory with which a touch of spinning takes up offer.
func memory(giveBack, soakIn float64) ball.FilmMemory {
	return ball.FilmMemory{PickUp: 0.1, GiveBack: giveBack, ContactWidth: width, SoakIn: soakIn}
}

// spinning returns the contact of a ball that has turned by an angle about an axis fixed in the ball, tilted
// from the vertical; the axis leans by lean about the ball's x-axis.
func spinning(turned, tilt, lean float64) Touch {
	// The contact moves on a circle about the spin, whose height is −sin tilt.
	sinT, cosT := math.Sincos(tilt)
	sin, cos := math.Sincos(turned)
	sinL, cosL := math.Sincos(lean)
	turn := func(v Vector) Vector { return Vector{v.X, cosL*v.Y - sinL*v.Z, sinL*v.Y + cosL*v.Z} }
	const spin = 30
	return Touch{
		Time: turned / spin, Turned: turned,
		Point: turn(Vector{cosT * cos, -cosT * sin, -sinT}), Spin: turn(Vector{0, 0, spin}),
		Speed: spin * radius * cosT, Sweep: spin * radius * cosT, Lane: 1e-6,
	}
}

// Turns on one track add up: Bₙ = a (1 − (1−q)ⁿ)/q, for any tilt with a circle wider than the contact.
func TestTurnsOnOneTrack(t *testing.T) {
	for _, tilt := range []float64{0, 0.2, -0.4, 1.2} {
		var f Field
		q := 0.1
		f.Reset(memory(q, math.Inf(1)), radius, 0.1, MostStrips)
		for k := 0; k < 400; k++ {
			touch := spinning(0.1*float64(k), tilt, 0)
			f.Meet(&touch)
			n := math.Floor(touch.Turned / (2 * math.Pi))
			if want := offer * (1 - math.Pow(1-q, n)) / q; math.Abs(touch.Found-want) > 1e-12*offer {
				t.Fatalf("tilt %v, after %.2f turns: %v m, want %v", tilt, touch.Turned/(2*math.Pi), touch.Found, want)
			}
			f.Append(&touch)
		}
	}
}

// A ball that spins on its own track covers it all the time and keeps the film that it found there, whether
// each touch is met at once or after the last one.
func TestSpinningKeepsWhatItFound(t *testing.T) {
	var met, asked Field
	met.Reset(memory(0.1, math.Inf(1)), radius, 0.1, MostStrips)
	asked.Reset(memory(0.1, math.Inf(1)), radius, 0.1, MostStrips)
	const rolled, spun = 90, 150
	for k := 0; k < rolled+spun; k++ {
		touch := spinning(0.1*float64(k), 0, 0)
		if k >= rolled { // the axis comes down to the track
			at, spin := spinning(0.1*rolled, 0, 0).Point, touch.Spin
			sin, cos := math.Sincos(0.1 * float64(k-rolled))
			along := cross(Vector{0, 0, 1}, at)
			touch.Spin = scale(math.Sqrt(dot(spin, spin)), at)
			// A circle of a millimetre about the axis.
			p := Vector{at.X + 0.01*(cos*along.X), at.Y + 0.01*(cos*along.Y), at.Z + 0.01*sin}
			touch.Point = scale(1/math.Sqrt(dot(p, p)), p)
			touch.Sweep = 0.01 * radius * 30
		}
		late := touch
		met.Meet(&touch)
		met.Append(&touch)
		asked.Append(&late)
	}
	kept := 0
	for k := range met.Touches() {
		want, got := met.Touches()[k], asked.Touches()[k]
		asked.Meet(&got)
		if got.Found != want.Found {
			t.Fatalf("touch %d found %v, asked late %v", k, want.Found, got.Found)
		}
		if k > rolled+20 && got.Found > 0 {
			kept++
		}
	}
	if kept == 0 {
		t.Error("nothing was kept")
	}
}
