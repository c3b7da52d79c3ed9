package main

import (
	"testing"
	"time"
)

func TestSweepProgressText(t *testing.T) {
	for _, c := range []struct {
		from, done, total uint64
		after             time.Duration
		want              string
	}{
		{0, 1, 1000, time.Millisecond, "row 1 of 1000"},
		{0, 400, 1000, 2 * time.Second, "row 400 of 1000, 200.0/s, 3 s left"},
		{600, 800, 1000, 4 * time.Second, "row 800 of 1000, 50.00/s, 4 s left"},
		{0, 1000, 10_000_000, time.Second, "row 1000 of 10000000, 1000/s, 2 h 47 min left"},
		{5, 5, 10, time.Second, "row 5 of 10"},
	} {
		s := sweepProgress{from: c.from, done: c.done, total: c.total}
		if got := s.line(c.after); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}
