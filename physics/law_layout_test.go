package physics

import (
	"math"
	"testing"

	"lanesim/ball"
	"lanesim/units"
)

// The path follows the layout without a jump: where the board at the pins or the place
// where the friction is read changes most over a grid of drilling angles, pin distances
// or VAL angles, it changes by ever less over ever shorter stretches.
func TestLawPathFollowsTheLayoutContinuously(t *testing.T) {
	// What is left over a stretch of a millionth of the range is the numerical error
	// with film on the ball. The place where the friction is read jumps where its mean
	// falls again, as the ball takes up film, just before it has passed the limit: with
	// next to no flare.
	board := lawBound{what: "jump of the board at the pins", bound: 0.02}
	read := lawBound{what: "jump of the place where the friction is read, in ft", bound: 3}
	unread := 0
	thrower := NewThrower()
	for _, axis := range []struct {
		name     string
		from, to float64
		set      func(*ball.Layout, float64)
	}{
		{"drilling angle", 0, math.Pi, func(l *ball.Layout, v float64) { l.DrillingAngle = v }},
		{"pin distance", 0, 6.75 * units.Inch, func(l *ball.Layout, v float64) { l.PinToPAP = v }},
		{"VAL angle", 0, math.Pi / 2, func(l *ball.Layout, v float64) { l.VALAngle = v }},
	} {
		for _, differential := range []float64{0.03, 0.05} {
			l, _, r := lawFlatShot(t, 5, lawFlatReleases[1])
			at := func(v float64) [2]float64 {
				s := ball.Default()
				s.Differential, s.IntermediateDifferential = differential*units.Inch, differential/3*units.Inch
				s.Layout = &ball.Layout{DrillingAngle: 60 * units.Degree, PinToPAP: 4.5 * units.Inch, VALAngle: 40 * units.Degree}
				axis.set(s.Layout, v)
				e := lawThrow(t, thrower, l, lawPrepare(t, s, ball.Right), r, Settings{EndOnly: true, FrictionRead: true}).Events
				read := l.Length / units.Foot // a ball that runs on its own film to the end has not read it yet
				if e.FrictionRead != nil {
					read = e.FrictionRead.Distance / units.Foot
				} else {
					unread++
				}
				return [2]float64{e.Pins.Board, read}
			}
			const cells = 60
			step := (axis.to - axis.from) / cells
			var values [cells + 1][2]float64
			for i := range values {
				values[i] = at(axis.from + float64(i)*step)
			}
			for k, bound := range []*lawBound{&board, &read} {
				worst := 0
				for i := range cells {
					if math.Abs(values[i+1][k]-values[i][k]) > math.Abs(values[worst+1][k]-values[worst][k]) {
						worst = i
					}
				}
				a, b := axis.from+float64(worst)*step, axis.from+float64(worst+1)*step
				x, y := values[worst][k], values[worst+1][k]
				first := math.Abs(y - x)
				for range 14 {
					middle := a + (b-a)/2
					if v := at(middle)[k]; math.Abs(v-x) > math.Abs(y-v) {
						b, y = middle, v
					} else {
						a, x = middle, v
					}
				}
				t.Logf("%s, differential %.2f in, %s: at most %.3f over a cell, %.5f over a stretch of it 2⁻¹⁴ as long", axis.name, differential, bound.what, first, math.Abs(y-x))
				bound.hold(t, math.Abs(y-x))
			}
		}
	}
	t.Logf("%d shots do not read the friction", unread)
	board.report(t)
	read.report(t)
}
