package main

import (
	"context"
	"os"
	"testing"
)

// BenchmarkSweepRow measures rows of a sweep that varies only the release, and of one that
// varies the ball, which is drilled for each row.
func BenchmarkSweepRow(b *testing.B) {
	for _, name := range []string{"sweep-speed-revs", "sweep-layout"} {
		b.Run(name, func(b *testing.B) {
			p := &program{err: os.Stderr, common: commonFlags{quiet: true}}
			s, err := p.readSweep(context.Background(), examples+"/"+name+".yaml", scenarioFlags{})
			if err != nil {
				b.Fatal(err)
			}
			row := s.Worker(context.Background())
			for k := uint64(0); b.Loop(); k++ {
				if _, err := row(k % s.Rows()); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
