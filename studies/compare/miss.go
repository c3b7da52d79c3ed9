package compare

import (
	"math"

	"lanesim/studies"
)

// MissedBoards is by how many boards a line is missed, at the arrows from the same
// laydown, where it is asked how much that changes the entry.
const MissedBoards = 1.0

// Misses says where the ball enters if its line is missed by [MissedBoards] to either
// side: boards at the pins, means over the phases, NaN if it does not get there at one
// of them.
type Misses struct{ Outside, Inside float64 }

// Range is how far apart, in boards, the entries of the line and of both misses lie:
// the smaller, the smoother the ball is. NaN if one of them is.
func (m Misses) Range(entry float64) float64 {
	return max(entry, m.Outside, m.Inside) - min(entry, m.Outside, m.Inside)
}

// missed puts the shots that miss the line of a delivery on the list, nil where the
// ball is laid down beyond the arrows.
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

// Smoother compares how far apart the shots of a pair enter when their lines are
// missed: −1 if b's entries lie closer together, 1 if a's do, 0 if neither's do by what
// could be seen or if one does not get to the pins.
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
