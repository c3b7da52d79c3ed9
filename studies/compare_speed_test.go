package studies_test

import (
	"context"
	"testing"

	"lanesim/studies"
)

// Three bowlers with two balls each, on lines to the pocket, with causes and 24
// sets of assumed values.
func BenchmarkCompare(b *testing.B) {
	var c studies.Comparison
	for _, revs := range []float64{220, 325, 520} {
		first := len(c.Deliveries)
		for _, pin := range []float64{3.4, 6.1} {
			d := laid(b, pin, 0.03)
			d.Release.RevRate = revs * rpm
			c.Deliveries, c.Lines = append(c.Deliveries, d), append(c.Lines, first)
		}
		c.Pairs = append(c.Pairs, [2]int{first, first + 1})
	}
	c.Visible = studies.DefaultVisible()
	for b.Loop() {
		if _, err := c.Run(context.Background()); err != nil {
			b.Fatal(err)
		}
	}
}
