package wear_test

import (
	"math"
	"reflect"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/internal/usual"
	"lanesim/studies/wear"
)

// few are lines enough for a test.
var few = aim.Limits{Laydown: physics.Window{Min: 22, Max: 26}}

// plannedBalls are one bowler's setups with the pin near the axis and far from it.
func plannedBalls(t testing.TB) []studies.Setup {
	t.Helper()
	return []studies.Setup{usual.Setup(t, ball.Right, 3.4, usual.League()), usual.Setup(t, ball.Right, 6.1, usual.League())}
}

// A plan's periods follow on each other; what falls has lost what was said; a change
// brings more than chance explains; and all of it does not depend on the workers.
func TestPlan(t *testing.T) {
	balls := plannedBalls(t)
	q := wear.Plan{Lanes: []lane.Lane{balls[0].Lane}, Players: []wear.Player{{Balls: balls}}, Order: []int{0}, Shots: 40, Limit: 60, Block: 20, Sessions: 4, Judged: 100, Keep: 0.9, Farthest: 4, Limits: few,
		Settings: physics.Settings{}, Work: studies.Work{Workers: 1}}
	found := usual.Run(t, q)
	p := found.Players[0]
	if found.Played < 40 || found.Played > 60 {
		t.Errorf("%d played", found.Played)
	}
	for i, s := range p.Periods {
		if i > 0 {
			if before := p.Periods[i-1]; s.From != before.To+1 || !before.Fell || !s.Gain.Significant() || s.Gain.Difference() <= 0 {
				t.Errorf("period %d from %d after %+v", i, s.From, before)
			}
			if s.Feet == 0 && s.Ball == p.Periods[i-1].Ball && s.Arrows == 0 {
				t.Error("a change to the same")
			}
		}
		last := s.Judgements[len(s.Judgements)-1]
		if s.Share.Of != 100 || s.End != last.Share || last.Shot != s.To+1 && i < len(p.Periods)-1 {
			t.Errorf("period %d: %+v", i, s)
		}
		fell := false
		for _, j := range s.Judgements[1:] {
			fell = fell || j.Share.Share() < q.Keep*s.Share.Share()
		}
		if fell != s.Fell {
			t.Errorf("period %d fell: %v", i, s.Fell)
		}
	}
	if last := p.Periods[len(p.Periods)-1]; last.To != found.Played-1 {
		t.Errorf("the last period ends with %d of %d", last.To, found.Played)
	}
	if !p.Interval.Holds(p.Stays) || p.Fresh != p.Periods[0].Share {
		t.Errorf("stays %v, %v", p.Stays, p.Interval)
	}
	deliveries := 0
	for _, b := range found.Lanes[0].Blocks {
		deliveries += b.Pocket.Of
	}
	o := found.Lanes[0].Oil
	if off := math.Abs(o.Lane+o.Balls+o.Soaked-o.Start) / o.Start; deliveries != 4*found.Played || off > 1e-9 || !(o.Lane < o.Start) {
		t.Errorf("%d deliveries in blocks, %.2g of the oil lost: %+v", deliveries, off, o)
	}
	// The same with the lines given, on several workers.
	q.Workers, q.FirstLines = 3, []wear.FirstLine{{Ball: p.Periods[0].Ball, Release: p.Periods[0].Release}}
	again := usual.Run(t, q)
	if !reflect.DeepEqual(found.Players, again.Players) {
		t.Error("the plan depends on the workers")
	}
	// It may end once the first line has fallen.
	q.FirstLinesOnly = true
	again = usual.Run(t, q)
	if n := len(again.Players[0].Periods[0].Judgements); p.Periods[0].Fell && (again.Played != p.Periods[0].Judgements[n-1].Shot || !again.Players[0].Periods[0].Fell) {
		t.Errorf("%d played where the first line falls", again.Played)
	}
	// A line that falls with the last delivery is not changed any more.
	q.FirstLinesOnly, q.Shots, q.Limit, q.Block, q.Sessions = false, 200, 0, 200, 1
	again = usual.Run(t, q)
	if s := again.Players[0].Periods; len(s) != 1 || !s[0].Fell || s[0].Stuck {
		t.Errorf("%d periods, the first to %d, fell %v, stuck %v", len(s), s[0].To, s[0].Fell, s[0].Stuck)
	}
}

// A line that keeps nearly nothing does not fall, and is played on to the limit; two
// lanes wear apart.
func TestPlanIsPlayedOn(t *testing.T) {
	balls := plannedBalls(t)[:1]
	l := balls[0].Lane
	q := wear.Plan{Lanes: []lane.Lane{l, l}, Players: []wear.Player{{Balls: balls}, {Lane: 1, Balls: balls}}, Order: []int{0, 1, 1}, Shots: 6, Limit: 12, Block: 6, Sessions: 2, Judged: 40, Keep: 0.01, Limits: few}
	found := usual.Run(t, q)
	if found.Played != 12 || len(found.Players[0].Periods) != 1 || !math.IsInf(found.Players[0].Stays, 1) {
		t.Errorf("%d played, %+v", found.Played, found.Players[0])
	}
	volume := func(i int) float64 { return found.Lanes[i].After.Volume(0, l.Length) }
	if fresh := l.Oil.Volume(0, l.Length); !(volume(1) < volume(0) && volume(0) < fresh) {
		t.Errorf("twice as many on the second lane: %v and %v mL of %v", volume(0)*1e6, volume(1)*1e6, fresh*1e6)
	}
}
