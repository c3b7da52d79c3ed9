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

// memory makes a ball take up offer at a touch with the speeds that spinning uses.
func memory(giveBack, soakIn float64) ball.FilmMemory {
	return ball.FilmMemory{PickUp: 0.1, GiveBack: giveBack, ContactWidth: width, SoakIn: soakIn}
}

// spinning is the contact of a ball that has turned by an angle about an axis in its own
// axes, tilted so far from the vertical; the axis leans by lean about the ball's x-axis.
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

// Turns on one track add up: Bₙ = a (1 − (1−q)ⁿ)/q, whatever the tilt as long as the
// circle is wider than the contact.
func TestTurnsOnOneTrack(t *testing.T) {
	for _, tilt := range []float64{0, 0.2, -0.4, 1.2} {
		var f Field
		q := 0.1
		f.Reset(memory(q, math.Inf(1)), radius, 0.1)
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

// A contact that stays on one place meets what the touch before met, whenever it is asked.
func TestOnePlaceKeepsWhatItFound(t *testing.T) {
	var f Field
	f.Reset(memory(0.1, math.Inf(1)), radius, 0.1)
	for k := 0; k <= 90; k++ { // a turn and a half
		touch := spinning(0.1*float64(k), 0, 0)
		f.Meet(&touch)
		f.Append(&touch)
	}
	// From here on the ball spins about the place of its contact.
	place := spinning(9, 0, 0)
	var asked []Touch
	for k := 1; k <= 60; k++ {
		touch := place
		touch.Turned, touch.Time = 9+0.05*float64(k), place.Time+0.01*float64(k)
		touch.Spin = scale(5, touch.Point)
		if k%2 == 0 {
			f.Meet(&touch) // the others are left for later
		}
		f.Append(&touch)
		asked = append(asked, touch)
	}
	clean := spinning(12.5, 0, 1.2) // it rolls on elsewhere
	f.Meet(&clean)
	f.Append(&clean)
	want := f.Touches()[90].Found
	for k := range asked {
		again := asked[k]
		if f.Meet(&again); math.Abs(again.Found-want) > 1e-12*want || asked[k].Met && math.Abs(asked[k].Found-want) > 1e-12*want {
			t.Fatalf("touch %d found %v at first and %v afterwards, want %v", k, asked[k].Found, again.Found, want)
		}
	}
}
