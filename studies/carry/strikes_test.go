package carry

import (
	"context"
	"math"
	"testing"

	"lanesim/ball"
	"lanesim/pins"
	"lanesim/studies"
	"lanesim/studies/internal/usual"
)

// Strikes from the table agree with racks rolled for the same deliveries, a left-hander's leaves are the
// mirror image, and a deviation that moves a straight ball at the pins costs strikes.
func TestStrikes(t *testing.T) {
	const shots = 250
	right, left := toBoard(ball.Right, 17.5), toBoard(ball.Left, 17.5)
	list := usual.Run(t, Strikes{Setups: []studies.Setup{right, left}, Shots: shots, Misses: 100, Seed: 2})
	rolled := usual.Run(t, Study{Setups: []studies.Setup{right}, Racks: shots, Seed: 2, Scatter: true})
	looked, counted := list[0], rolled[0].Tally.Strikes()
	t.Logf("strikes %.3f looked up, %.3f rolled; pins %.2f and %.2f", looked.Share.Value, counted.Share, looked.Down.Value, rolled[0].Tally.Down(pins.All))
	if math.Abs(looked.Share.Value-counted.Share) > 0.05+2*math.Sqrt(0.25/shots) || math.Abs(looked.Down.Value-rolled[0].Tally.Down(pins.All)) > 0.5 {
		t.Errorf("%v looked up, %v rolled", looked.Share, counted)
	}
	for l := range looked.Leaves {
		if mirror := list[1].Leaves[pins.Leave(l).Mirror()]; math.Abs(mirror.Value-looked.Leaves[l].Value) > 1e-12 {
			t.Errorf("%v: %v, mirrored %v", pins.Leave(l), looked.Leaves[l], mirror)
		}
	}
	if all, low := looked.Leaves[0], looked.Share.Low; math.Abs(all.Low-low) > 1e-9 {
		t.Errorf("without a leave from %v, strikes from %v", all.Low, low)
	}
	if off := looked.Less(list[1]); off.Value != 0 || off.Interval.Low != 0 {
		t.Errorf("the mirror image differs by %+v", off)
	}
	if len(looked.Without) != 3 {
		t.Fatalf("%d deviations", len(looked.Without))
	}
	for _, w := range looked.Without {
		if w.Of == studies.VariedAngle && !(w.Gain.Interval.Low > 0) {
			t.Errorf("without the deviation of the angle strikes gain %+v", w.Gain)
		}
	}
}

// The map is highest about the pocket, and wider scatter lowers it.
func TestMap(t *testing.T) {
	steady, loose := toBoard(ball.Right, 17.5), toBoard(ball.Right, 17.5)
	loose.Repeatability.Angle *= 4
	var highest [2]float64
	for i, s := range []studies.Setup{steady, loose} {
		m, err := Deliveries{Setup: s, Seed: 1}.Map(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		at := 0.0
		for a, board := range m.Boards {
			if share := m.Strikes[a][12]; share > highest[i] {
				highest[i], at = share, board
			}
		}
		t.Logf("scatter %.2f boards: at 6° up to %.3f on board %.2f", m.BoardScatter, highest[i], at)
		if i == 0 && (at < 16.75 || at > 18.25) {
			t.Errorf("at 6° the best board is %v", at)
		}
	}
	if highest[1] > highest[0]-0.1 {
		t.Errorf("with little scatter %v, with much %v", highest[0], highest[1])
	}
}
