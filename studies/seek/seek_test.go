package seek_test

import (
	"math"
	"reflect"
	"testing"

	"lanesim/ball"
	"lanesim/studies"
	"lanesim/studies/internal/usual"
	"lanesim/studies/seek"
	"lanesim/studies/sweep"
	"lanesim/units"
)

// lines is a study of laydowns 20 to 30 and launch angles 1 to 4 degrees.
func lines(t *testing.T) seek.Study {
	t.Helper()
	base := studies.Setup{Lane: usual.Crowned(t, 40, 24.5, 10), Ball: usual.LaidOut(t, ball.Right, false), Release: usual.Release()}
	return seek.Study{
		Want: seek.None(), Dimensions: make([]sweep.Dimension, 2), Points: 64, Sets: 3,
		Worker: func() func([]sweep.Coordinate) (studies.Setup, bool, error) {
			return func(at []sweep.Coordinate) (studies.Setup, bool, error) {
				s := base
				s.Release.Laydown = 20 + 10*at[0].Share
				s.Release.Angle = (1 + 3*at[1].Share) * units.Degree
				return s, false, nil
			}
		},
	}
}

// What a place does is found again when it is wished for, by any number of workers; the
// places that are found are not alike.
func TestWishIsFound(t *testing.T) {
	q := lines(t)
	q.Want.EntryBoard, q.Want.Breakpoint = 17.5, 9.5
	q.Workers = 1
	found := usual.Run(t, q)
	best := found[0]
	if !best.Near || best.Off > 0.1 || math.Abs(best.Outcome.EntryBoard-17.5) > 0.05 || math.Abs(best.Outcome.Breakpoint-9.5) > 0.05 {
		t.Errorf("%+v", best)
	}
	if best.Sets != 3 || best.NearIn > 3 || !(best.Low.EntryBoard <= best.High.EntryBoard) {
		t.Errorf("sets: %+v", best)
	}
	for i := 1; i < len(found); i++ {
		if found[i].Off < found[i-1].Off {
			t.Error("the better is not first")
		}
		if d := max(math.Abs(found[i].At[0].Share-best.At[0].Share), math.Abs(found[i].At[1].Share-best.At[1].Share)); d < 0.08 {
			t.Errorf("place %d is like the best", i)
		}
	}
	q.Workers = 3
	if again := usual.Run(t, q); !reflect.DeepEqual(found, again) {
		t.Error("what is found depends on the workers")
	}
}

// An impossible wish gets the nearest, which no other place of a fine grid beats.
func TestImpossibleWishGetsTheNearest(t *testing.T) {
	q := lines(t)
	q.Want.EntryAngle, q.Sets, q.Keep = 15*units.Degree, -1, 1
	best := usual.Run(t, q)[0]
	if best.Near {
		t.Fatalf("%+v", best)
	}
	grid := q
	grid.Points = 400
	if other := usual.Run(t, grid)[0]; other.Off < best.Off-0.5 {
		t.Errorf("%v off, %v with more points", best.Off, other.Off)
	}
	if best.Sets != 0 {
		t.Error("no sets were asked for")
	}
}
