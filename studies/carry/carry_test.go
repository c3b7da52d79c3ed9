package carry

import (
	"context"
	"errors"
	"math"
	"reflect"
	"testing"

	"lanesim/ball"
	"lanesim/pins"
	"lanesim/studies"
	"lanesim/studies/internal/usual"
	"lanesim/units"
)

// toBoard returns the straight bowler with the launch angle that leads to a board at the
// pins.
func toBoard(hand ball.Hand, board float64) studies.Setup {
	s := straight(hand)
	s.Release.Angle = math.Atan((s.Release.Laydown - board) * 1.0641 / 720)
	return s
}

// A left-hander's racks are the mirror image, with the pins' own numbers; the number of
// workers has no influence.
func TestCarryMirrors(t *testing.T) {
	run := func(hand ball.Hand, workers int) Result {
		q := Study{Setups: []studies.Setup{toBoard(hand, 16)}, Racks: 80, Seed: 3, Work: studies.Work{Workers: workers}, Scatter: true}
		list := usual.Run(t, q)
		return list[0]
	}
	right, left, again := run(ball.Right, 1), run(ball.Left, 2), run(ball.Right, 3)
	if !reflect.DeepEqual(right.Tally, left.Tally.Mirror()) || right.EnteredBoard != left.EnteredBoard || right.Typical != left.Typical {
		t.Errorf("%+v\n%+v", right.Tally, left.Tally)
	}
	if !reflect.DeepEqual(right.Tally, again.Tally) {
		t.Error("the number of workers has an influence")
	}
	struck, err := Deliveries{Setup: toBoard(ball.Left, 16), Seed: 3}.Struck(context.Background(), pins.Settings{}, 80)
	hits := 0
	for _, hit := range struck {
		if hit {
			hits++
		}
	}
	if err != nil || hits != left.Tally.Leaves[0] || hits == 0 {
		t.Errorf("%d of the same deliveries strike, of the tally's %d: %v", hits, left.Tally.Leaves[0], err)
	}
	q := Study{Setups: []studies.Setup{toBoard(ball.Left, 16)}, Seed: 3}
	one, err := q.Again(left, left.Typical)
	if err != nil {
		t.Fatal(err)
	}
	if n := left.Tally.Leaves[one.Standing]; n == 0 || n < left.Tally.Leaves[left.Tally.Commonest(1)[0]] {
		t.Errorf("the typical rack leaves %v, %d times", one.Standing, n)
	}
	if first := one.Path[0]; first.Y < 0 {
		t.Errorf("the left-hander's ball begins at %+v, on the right", first)
	}
}

// With scatter each rack has its own delivery, a ball in the gutter leaves all pins, and deliveries that do
// not reach the pins are counted.
func TestCarryScatters(t *testing.T) {
	ctx := context.Background()
	s := toBoard(ball.Right, 3)
	s.Repeatability.Angle = 0.5 * units.Degree
	list := usual.Run(t, Study{Setups: []studies.Setup{s}, Standing: pins.Pins(10), Racks: 200, Scatter: true})
	r := list[0]
	if r.Missed < 10 || r.Missed > 190 || r.Tally.Racks != 200 || r.Tally.Leaves[pins.Pins(10)] < r.Missed || r.Tally.Leaves[0] == 0 {
		t.Errorf("%d not at the pins, %d racks, %d converted", r.Missed, r.Tally.Racks, r.Tally.Leaves[0])
	}
	if r.Tally.Leaves[0]+r.Tally.Leaves[pins.Pins(10)] != 200 {
		t.Errorf("%v", r.Tally.Commonest(5))
	}
	s.Release.Angle = 20 * units.Degree
	var not *NotAtPinsError
	if _, err := (Study{Setups: []studies.Setup{s}, Racks: 5}).Run(ctx); !errors.As(err, &not) {
		t.Errorf("%v", err)
	}
	s = toBoard(ball.Right, 17.5)
	s.Lane.Length /= 2
	if _, err := (Study{Setups: []studies.Setup{s}, Racks: 5}).Run(ctx); !errors.Is(err, errShortLane) {
		t.Errorf("%v", err)
	}
}

// What is finished is kept when the context ends.
func TestCarryKeepsWhatIsFinished(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	q := Study{Setups: []studies.Setup{toBoard(ball.Right, 17.5), toBoard(ball.Right, 16)}, Racks: 300, Work: studies.Work{Workers: 1}}
	q.Progress = func(done, total int) {
		if done > 300 {
			cancel()
		}
	}
	list, err := q.Run(ctx)
	if !errors.Is(err, context.Canceled) || len(list) != 2 || list[0].Tally.Racks != 300 || list[1].Tally.Racks == 0 || list[1].Tally.Racks == 300 {
		t.Fatalf("%d results, %v", len(list), err)
	}
}

// Games: a bowler without deviations strikes or spares nearly always, scores lie between 0 and 300, and all
// pins are counted.
func TestGames(t *testing.T) {
	s := toBoard(ball.Right, 17.5)
	loose := s
	loose.Repeatability = studies.Repeatability{Laydown: 1.2, Angle: 0.4 * units.Degree, Speed: 0.4}
	setups := []studies.Setup{s, loose}
	var spares []Spares
	for _, one := range setups {
		spares = append(spares, Spares{Setup: one})
	}
	calls := 0
	q := Games{Setups: setups, Spares: spares, Games: 10, Seed: 1, Work: studies.Work{Progress: func(done, total int) { calls++ }}}
	played := usual.Run(t, q)
	good, bad := played[0], played[1]
	t.Logf("%.1f ± %.1f, %.1f ± %.1f", good.Mean, good.SD, bad.Mean, bad.SD)
	for _, p := range played {
		if len(p.Scores) != 10 || p.First < 100 || p.First > 120 || p.Converted > p.Leaves || p.SinglesConverted > p.SinglePins || p.Strikes > p.First {
			t.Errorf("%+v", p)
		}
		for _, score := range p.Scores {
			if score < 0 || score > 300 {
				t.Errorf("a score of %d", score)
			}
		}
		if !(p.Interval.Low < p.Mean && p.Mean < p.Interval.High && p.SD > 0) {
			t.Errorf("%+v", p)
		}
	}
	if good.Mean < bad.Mean+15 || calls == 0 {
		t.Errorf("%v and %v pins a game, %d calls of progress", good.Mean, bad.Mean, calls)
	}
	off := good.Less(bad)
	if math.Abs(off.Value-(good.Mean-bad.Mean)) > 1e-9 || !(off.Low < off.Value && off.Value < off.High) {
		t.Errorf("%+v", off)
	}
	if _, err := (Games{}).Run(context.Background()); err == nil {
		t.Error("no games: no error")
	}
}
