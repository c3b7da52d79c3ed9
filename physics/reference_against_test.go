package physics_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"lanesim/lane"
	"lanesim/physics"
	"lanesim/units"
)

// referenceApart has the differences of a shot from the reference.
type referenceApart struct {
	name   string
	boards float64 // at the pins
	roll   float64 // ft, where it begins to roll; NaN if it does not
	read   float64 // ft, where the friction is read; NaN if it is not
	oil    float64 // share of the oil that the lane loses
}

// referenceAgainst compares a shot with the reference. Where one of them ends in the
// gutter and the other arrives, or begins to roll and the other does not, it is as
// far as it was from doing so.
func referenceAgainst(t *testing.T, name string, got physics.Shot, want referenceResult) referenceApart {
	t.Helper()
	const foot = units.Foot
	end := got.Path[len(got.Path)-1]
	a := referenceApart{name: name, boards: math.Abs(end.Lateral-want.End.Lateral) / lane.BoardWidth, roll: math.NaN(), read: math.NaN()}
	if got.Status != want.Status {
		t.Logf("%s: ends by %q at %.3f ft, reference by %q at %.3f ft", name, got.Status, end.Distance/foot, want.Status, want.End.Distance/foot)
		if got.Status != physics.Gutter && want.Status != physics.Gutter {
			t.Errorf("%s: ends otherwise", name)
		}
	} else if got.Status == physics.Gutter {
		a.boards = math.Abs(end.Distance-want.End.Distance) * math.Abs(math.Tan(end.Heading)) / lane.BoardWidth
	}
	last := max(end.Distance, want.End.Distance)
	rolls, rolled := want.rollStart()
	if roll := got.Events.RollStart; roll != nil || rolled {
		from, to := last, last
		if roll != nil {
			from = roll.Distance
		}
		if rolled {
			to = rolls.Distance
		}
		a.roll = math.Abs(from-to) / foot
	}
	if read := got.Events.FrictionRead; read != nil || !math.IsNaN(want.FrictionRead) {
		from, to := last, want.FrictionRead
		if read != nil {
			from = read.Distance
		}
		if math.IsNaN(to) {
			to = last
		}
		a.read = math.Abs(from-to) / foot
	}
	if want.Oil.Lane != 0 {
		a.oil = math.Abs(got.Summary.Oil.Lane/want.Oil.Lane - 1)
	}
	return a
}

// referenceSummary returns the largest differences and the 90 % quantiles.
func referenceSummary(t *testing.T, what string, list []referenceApart) (largest, nine referenceApart) {
	t.Helper()
	share := func(of float64, value func(referenceApart) float64) float64 {
		var all []float64
		for _, a := range list {
			all = append(all, referenceZero(value(a)))
		}
		slices.Sort(all)
		return all[int(math.Ceil(of*float64(len(all))))-1]
	}
	at := func(of float64) referenceApart {
		return referenceApart{boards: share(of, func(a referenceApart) float64 { return a.boards }),
			roll: share(of, func(a referenceApart) float64 { return a.roll }),
			read: share(of, func(a referenceApart) float64 { return a.read }),
			oil:  share(of, func(a referenceApart) float64 { return a.oil })}
	}
	for _, of := range []float64{0.5, 0.9, 1} {
		a := at(of)
		t.Logf("%s, %.0f %% of %d shots: %.4f boards, roll start %.3f ft, friction read %.3f ft, oil from the lane %.2g",
			what, 100*of, len(list), a.boards, a.roll, a.read, a.oil)
	}
	return at(1), at(0.9)
}

func referenceZero(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return v
}

func referenceThrow(t *testing.T, s referenceShot, tolerance float64) physics.Shot {
	t.Helper()
	shot, err := physics.Throw(s.lane, s.ball, s.release, physics.Settings{Tolerance: tolerance, EvenNodes: true})
	if err != nil {
		t.Fatalf("%v: %v", s, err)
	}
	return shot
}

// referenceDrawn is the number of random shots compared with the reference.
const referenceDrawn = 40

// TestCleanAgainstReference: random shots of balls without film memory end where those of the reference end.
func TestCleanAgainstReference(t *testing.T) {
	rnd := referenceDraws()
	var list []referenceApart
	for n := range referenceDrawn {
		shot := referenceRandomShot(t, rnd)
		shot.ball.Memory.Off = true
		want := throwReference(shot.lane, shot.ball, shot.release, defaultReference())
		list = append(list, referenceAgainst(t, fmt.Sprint(n), referenceThrow(t, shot, 0), want))
	}
	worst, _ := referenceSummary(t, "default tolerance, clean balls", list)
	if worst.boards > 0.001 || worst.roll > 0.01 || worst.read > 0.01 || worst.oil > 1e-3 {
		t.Errorf("%+v", worst)
	}
}
