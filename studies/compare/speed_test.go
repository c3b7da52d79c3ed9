package compare_test

import (
	"context"
	"testing"

	"lanesim/studies/compare"
	"lanesim/units"
)

// Three bowlers with two balls each, on lines to the pocket, with causes and 24
// sets of assumed values.
func BenchmarkCompare(b *testing.B) {
	var c compare.Study
	for _, bowler := range []struct{ speed, revs, rotation, laydown float64 }{{19, 220, 60, 22}, {18, 325, 60, 28}, {19, 520, 50, 30}} {
		first := len(c.Deliveries)
		for _, pin := range []float64{3.4, 6.1} {
			d := laid(b, pin, 0.03)
			d.Release.Speed, d.Release.RevRate, d.Release.AxisRotation, d.Release.Laydown = bowler.speed*units.MPH, bowler.revs*units.RPM, bowler.rotation*units.Degree, bowler.laydown
			c.Deliveries, c.Lines = append(c.Deliveries, d), append(c.Lines, first)
		}
		c.Pairs = append(c.Pairs, [2]int{first, first + 1})
	}
	c.Visible = compare.DefaultVisible()
	for b.Loop() {
		if _, err := c.Run(context.Background()); err != nil {
			b.Fatal(err)
		}
	}
}
