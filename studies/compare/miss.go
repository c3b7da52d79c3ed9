package compare

import (
	"math"

	"lanesim/studies"
)

// MissedBoards is the miss of a line in boards at the arrows, from the same laydown, whose effect on the
// entry is reported.
const MissedBoards = 1.0

// Misses has the entry boards if the line is missed by [MissedBoards] to either side: means over the phases,
// NaN if the ball does not reach the pins at one of them.
type Misses struct{ Outside, Inside float64 }

// Range returns the range in boards of the entries of the line and of both misses: the smaller, the smoother
// the ball. NaN if one of them is.
func (m Misses) Range(entry float64) float64 {
	return max(entry, m.Outside, m.Inside) - min(entry, m.Outside, m.Inside)
}

// missed adds the shots that miss the line of a delivery to the list, nil if the laydown is beyond the
// arrows.
func (b *shotList) missed(d studies.Undrilled) (shots [2]*phasedShot) {
	at := studies.BoardAtArrows(d.Release)
	if math.IsNaN(at) {
		return shots
	}
	for i, by := range []float64{-MissedBoards, MissedBoards} {
		miss := d
		miss.Release = studies.OverArrows(d.Release, d.Release.Laydown, at+by)
		shots[i] = b.add(&phasedShot{Undrilled: miss, given: true})
	}
	return shots
}

func misses(shots [2]*phasedShot) Misses {
	entry := func(t *phasedShot) float64 {
		if t == nil {
			return math.NaN()
		}
		sum := 0.0
		for _, r := range t.readings {
			sum += r.AtPins + r.exists.AtPins
		}
		return sum / float64(len(t.readings))
	}
	return Misses{entry(shots[0]), entry(shots[1])}
}

// Smoother compares the ranges of entries of a pair when their lines are missed: −1 if b's is smaller, 1 if
// a's is, 0 if the difference cannot be seen or a shot does not reach the pins.
func (r Result) Smoother(p Pair) int {
	of := func(i int) float64 {
		t := r.Shots[i]
		return t.Misses.Range(t.Shot.EntryBoard())
	}
	switch d := of(p.B) - of(p.A); {
	case d <= -r.Visible.Boards:
		return -1
	case d >= r.Visible.Boards:
		return 1
	}
	return 0
}
