package physics_test

import (
	"fmt"
	"math"
	"os"
	"testing"

	"lanesim/physics"
)

// TestFilmAgainstGrid holds random shots of balls that carry oil, and those of
// TestReferenceCompare on oil, against the grid of cells. At the default tolerance all lie within
// 0.02 board at the pins and 0.1 ft of the roll start, and nine of ten within 0.1 ft of where
// the friction is read; at that of studies nine of ten lie within 0.05 board. The grid is
// good to some 0.005 board (TestReferenceGridConverges); LANESIM_GRID=fine takes half
// the step and twice the cells.
func TestFilmAgainstGrid(t *testing.T) {
	const studies = 1e-4 // tolerance
	rnd := referenceDraws()
	type named struct {
		name string
		referenceShot
	}
	var shots []named
	for n := range referenceNumber(referenceDrawn) {
		s := referenceRandomShot(t, rnd)
		shots = append(shots, named{fmt.Sprintf("shot %d (%v)", n, s), s})
	}
	for _, c := range referenceComparisons(t) {
		if !c.ball.Memory.Off && c.lane.Oil != nil {
			shots = append(shots, named{c.name, referenceShot{c.lane, c.ball, c.release}})
		}
	}
	var fine, coarse []referenceApart
	gutters, rolled, read := 0, 0, 0
	for _, s := range shots {
		settings := referenceConverged(s.ball)
		if os.Getenv("LANESIM_GRID") == "fine" {
			settings.Step /= 2
			settings.Cells *= 2
		}
		want := throwReference(s.lane, s.ball, s.release, settings)
		if want.Status == physics.Gutter {
			gutters++
		}
		a := referenceAgainst(t, s.name, referenceThrow(t, s.referenceShot, 0), want)
		b := referenceAgainst(t, s.name+", as in studies", referenceThrow(t, s.referenceShot, studies), want)
		if !math.IsNaN(a.roll) {
			rolled++
		}
		if !math.IsNaN(a.read) {
			read++
		}
		fine, coarse = append(fine, a), append(coarse, b)
		line := fmt.Sprintf("%s: %.4f boards, roll start %.3f ft, friction read %.3f ft, oil %.2g; as in studies %.4f boards", s.name, a.boards, a.roll, a.read, a.oil, b.boards)
		if a.boards > 0.02 || a.roll > 0.1 {
			t.Error(line)
		} else {
			t.Log(line)
		}
	}
	worst, nine := referenceSummary(t, "default tolerance", fine)
	if worst.oil > 0.02 || nine.read > 0.1 {
		t.Errorf("oil from the lane off by %g, the friction read in one of ten by %g ft", worst.oil, nine.read)
	}
	if _, nine := referenceSummary(t, "tolerance of studies", coarse); nine.boards > 0.05 {
		t.Errorf("at the tolerance of studies one in ten is %g boards off or more", nine.boards)
	}
	t.Logf("of %d shots %d end in the gutter, %d begin to roll, %d read the friction", len(shots), gutters, rolled, read)
	if gutters > len(shots)/3 || rolled < len(shots)/4 || read < len(shots)/2 {
		t.Error("too few arrive, roll or read the friction")
	}
}

// TestLowFlare: the recorded answers are those of the engine, too.
func TestLowFlare(t *testing.T) {
	referenceLowFlare(t, func(s referenceShot) (read, lateral float64) {
		shot := referenceThrow(t, s, 0)
		if shot.Events.Pins == nil || shot.Events.FrictionRead == nil {
			t.Fatalf("ends by %q", shot.Status)
		}
		return shot.Events.FrictionRead.Distance, shot.Events.Pins.Lateral
	})
}
