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
				d, err := Combined(f)
				if err != nil {
					b.Fatal(err)
				}
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
