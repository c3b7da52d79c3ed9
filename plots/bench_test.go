package plots

import (
	"io"
	"testing"
)

func BenchmarkCombined(b *testing.B) {
	f := Figure{Title: "Four balls", Lane: inventedLane(), Series: four()}
	for _, format := range append(Formats(), "layout") {
		b.Run(format, func(b *testing.B) {
			for b.Loop() {
				d := drawn(b)(Combined(f))
				if format == "layout" {
					continue
				}
				if err := d.Write(io.Discard, format); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
