package wear

import (
	"context"
	"crypto/sha256"
	"fmt"
	"math"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/internal/usual"
	"lanesim/units"
)

// alone is a bowler who bowls alone.
func alone(s studies.Setup, deliveries, sessions int) Study {
	return Study{Lane: s.Lane, Setups: []studies.Setup{s}, Order: make([]int, deliveries), Sessions: sessions, Seed: 1}
}

// oilKept is the share of the oil that may be lost in the books of a session.
const oilKept = 1e-9

func TestWearKeepsTheOil(t *testing.T) {
	r := usual.Run(t, alone(usual.Setup(t, ball.Right, 3.4, usual.League()), 60, 2))
	o := r.Oil
	off := math.Abs(o.Lane+o.Balls+o.Soaked-o.Start) / o.Start
	t.Logf("%.2g of the oil lost in the books (bound %g); %.3g mL of %.3g taken", off, oilKept, 1e6*(o.Start-o.Lane), 1e6*o.Start)
	if off > oilKept {
		t.Errorf("%.3g of the oil is lost", off)
	}
	if !(o.Balls > 0) || !(o.Soaked > 0) || !(o.Lane < o.Start) {
		t.Errorf("nothing was taken: %+v", o)
	}
	for _, f := range r.After.Film {
		if !(f >= 0) {
			t.Fatalf("film of %g m", f)
		}
	}
}

func TestWearChangesNothingWithoutPickUp(t *testing.T) {
	s := usual.Setup(t, ball.Right, 3.4, usual.League())
	s.Ball.Memory.PickUp = 0
	r := usual.Run(t, alone(s, 80, 5))
	for i, f := range r.After.Film {
		if f != r.Fresh.Film[i] {
			t.Fatalf("node %d: %g m, before %g", i, f, r.Fresh.Film[i])
		}
	}
	if r.Oil.Lane != r.Oil.Start || r.Oil.Balls != 0 {
		t.Errorf("oil moved: %+v", r.Oil)
	}
	// Each block's share lies about the mean of all by chance alone.
	mean := 0.0
	for _, b := range r.Blocks {
		mean += b.Pocket.Share() / float64(len(r.Blocks))
	}
	const chance = 4 // standard errors
	for _, b := range r.Blocks {
		if off := math.Abs(b.Pocket.Share() - mean); off > chance*math.Sqrt(mean*(1-mean)/float64(b.Pocket.Of)) {
			t.Errorf("deliveries %d to %d: share %.2f, mean %.2f", b.From, b.To, b.Pocket.Share(), mean)
		}
	}
}

// What is carried beyond the pattern's end comes off the balls.
func TestWearCarriesOilDown(t *testing.T) {
	s := usual.Setup(t, ball.Right, 6.1, studies.Repeatability{})
	beyond := func(giveBack float64) float64 {
		s := s
		s.Ball.Memory.GiveBack = giveBack
		r := usual.Run(t, alone(s, 10, 1))
		return r.After.Volume(s.Lane.Oil.Length()+0.01, s.Lane.Length)
	}
	if v := beyond(0.4); !(v > 0) {
		t.Error("no oil beyond the pattern")
	} else {
		t.Logf("%.3g mL beyond the pattern after 10 deliveries", v*1e6)
	}
	if v := beyond(0); v != 0 {
		t.Errorf("%g m³ beyond the pattern from a ball that gives none back", v)
	}
}

// The worn lane is mirrored but for rounding, by which the places move at which later
// balls look up the film on them: within the accuracy of studies.
func TestWearOfLeftHandersIsTheMirrorImage(t *testing.T) {
	right := usual.Run(t, alone(usual.Setup(t, ball.Right, 3.4, usual.League()), 12, 1))
	left := usual.Run(t, alone(usual.Setup(t, ball.Left, 3.4, usual.League()), 12, 1))
	for k, d := range right.Deliveries[0] {
		e := left.Deliveries[0][k]
		if math.Abs(d.EntryBoard-e.EntryBoard) > 0.02 || d.Pocket != e.Pocket {
			t.Fatalf("delivery %d enters on board %.9g, its mirror image on %.9g", k, d.EntryBoard, e.EntryBoard)
		}
	}
	n := right.After.Columns
	for i, f := range right.After.Film {
		if g := left.After.Film[i/n*n+n-1-i%n]; math.Abs(f-g) > 0.05*units.OilUnit {
			t.Fatalf("node %d: %g m, mirrored %g", i, f, g)
		}
	}
}

func TestWearDoesNotDependOnTheWorkers(t *testing.T) {
	a, b := usual.Setup(t, ball.Right, 3.4, usual.League()), usual.Setup(t, ball.Left, 6.1, usual.League())
	var first string
	for _, workers := range []int{1, 2, 7} {
		w := Study{Lane: a.Lane, Setups: []studies.Setup{a, b}, Order: []int{0, 1, 0, 1, 1, 0}, Sessions: 7, Seed: 3, Work: studies.Work{Workers: workers}}
		r := usual.Run(t, w)
		hash := fmt.Sprintf("%x", sha256.Sum256(fmt.Append(nil, r.Deliveries, r.Blocks, r.Stays, r.Oil, r.After.Film)))
		if first == "" {
			first = hash
		}
		if hash != first {
			t.Errorf("%d workers: another result", workers)
		}
	}
}

// The lane's depletion is the same on a grid of half the spacing.
func TestWearConvergesWithTheGrid(t *testing.T) {
	s := usual.Setup(t, ball.Right, 3.4, usual.League())
	band := func(columns int, rows float64) (left, board float64) {
		w := alone(s, 60, 4)
		w.ColumnsPerBoard, w.RowSpacing = columns, rows
		r := usual.Run(t, w)
		n := 0.0
		for _, b := range r.Blocks[len(r.Blocks)-3:] {
			board += b.EntryBoardMean / 3
			n++
		}
		return heads(r, s), board
	}
	l4, b4 := band(4, units.Foot/2)
	l8, b8 := band(8, units.Foot/4)
	t.Logf("oil left in the heads: %.4f on a quarter board, %.4f on an eighth; entry board %.3f and %.3f", l4, l8, b4, b8)
	if math.Abs(l4-l8) > 0.01 {
		t.Errorf("%.4f of the oil left in the heads, %.4f on a finer grid", l4, l8)
	}
	// The same deliveries on the two grids part by little shot noise.
	if math.Abs(b4-b8) > 0.1 {
		t.Errorf("entry board %.3f, %.3f on a finer grid", b4, b8)
	}
}

// heads is the share of the oil that is left in the first 20 ft within a board of
// the line.
func heads(r Result, s studies.Setup) float64 {
	fresh, after := 0.0, 0.0
	const steps = 100
	for k := range steps {
		x := (float64(k) + 0.5) / steps * 20 * units.Foot
		centre := lane.Lateral(s.Release.Laydown) - x*math.Tan(s.Release.Angle)
		for j := -10; j <= 10; j++ {
			y := centre + float64(j)/10*lane.BoardWidth
			fresh += r.Fresh.Thickness(x, y)
			after += r.After.Thickness(x, y)
		}
	}
	return after / fresh
}

// Common practice: after 12 to 15 games in one area about half of the oil in the
// heads of the played band is left. The assumed pick-up is set by it.
func TestHalfTheOilInTheHeadsIsLeftAfterAShift(t *testing.T) {
	s := usual.Setup(t, ball.Right, 3.4, usual.League())
	const game = 16 // deliveries
	for _, games := range []int{12, 15} {
		left := heads(usual.Run(t, alone(s, games*game, 1)), s)
		t.Logf("after %d games %.2f of the oil within a board of the line is left in the first 20 ft", games, left)
		if left < 0.4 || left > 0.6 {
			t.Errorf("after %d games %.2f is left", games, left)
		}
	}
}

func TestStaysAreFoundWhereTheShareFalls(t *testing.T) {
	// Two sessions in which the pocket is hit until delivery 12 of 20.
	w := Study{Setups: make([]studies.Setup, 1), Order: make([]int, 20), Block: 5, Seed: 1}
	session := make([]DeliveryResult, 20)
	for k := range session {
		session[k].Pocket = k < 12
	}
	// Of the last five, fewer than half of five are hits from delivery 15 on.
	s := w.stays([][]DeliveryResult{session, session})[0]
	if s.Share != 0.5 || s.Median != 15 || s.Interval != (studies.Interval{Low: 15, High: 15}) {
		t.Errorf("stays %+v, want down to 0.5 by delivery 15", s)
	}
	never := make([]DeliveryResult, 20)
	if n := w.stays([][]DeliveryResult{never, never})[0]; !math.IsNaN(n.Median) {
		t.Errorf("a line that never hits stays %+v", n)
	}
	if one := w.stays([][]DeliveryResult{session})[0]; one.Median != 15 || !math.IsNaN(one.Interval.Low) {
		t.Errorf("one session stays %+v", one)
	}
	for k := range session {
		session[k].Pocket = true
	}
	if s := w.stays([][]DeliveryResult{session, session})[0]; !math.IsInf(s.Median, 1) {
		t.Errorf("a line that never misses stays %+v", s)
	}
}

func TestPracticeWearsTheLaneAndIsNotCounted(t *testing.T) {
	s := usual.Setup(t, ball.Right, 3.4, usual.League())
	all := usual.Run(t, alone(s, 30, 1))
	w := alone(s, 30, 1)
	w.Practice = 10
	r := usual.Run(t, w)
	if r.Oil != all.Oil {
		t.Errorf("oil %+v, without practice %+v", r.Oil, all.Oil)
	}
	if len(r.Blocks) != 2 || r.Blocks[0].From != 0 || r.Blocks[1].To != 19 {
		t.Fatalf("blocks %+v", r.Blocks)
	}
	for i, b := range r.Blocks {
		if want := all.Blocks[i+1]; b.Pocket.Share() != want.Pocket.Share() || b.EntryBoardMean != want.EntryBoardMean {
			t.Errorf("block %+v, want the shares of %+v", b, want)
		}
	}
	w.Practice = 30
	if _, err := w.Run(context.Background()); err == nil {
		t.Error("all deliveries are practice")
	}
}

func TestMovesBringBackTheShare(t *testing.T) {
	const mph = units.MPH
	s := usual.Setup(t, ball.Right, 3.4, studies.Repeatability{Laydown: 0.2, Angle: 0.05 * units.Degree, Speed: 0.1 * mph})
	worn := s
	worn.Lane.Oil = usual.Run(t, alone(s, 200, 1)).After
	m := usual.Run(t, Move{Setup: worn, Shots: 150, Seed: 1})
	t.Logf("%+.1f boards at the feet, %+.2f at the arrows: share %.2f, before %.2f", m.Feet, m.Arrows, m.After.Share(), m.Before.Share())
	entry := func(r physics.Release) float64 {
		shot, err := physics.Throw(worn.Lane, worn.Ball, r, studies.ForManyShots(physics.Settings{}))
		if err != nil || shot.Events.Pins == nil {
			t.Fatal(shot.Status, err)
		}
		return shot.EntryBoard()
	}
	before, after := entry(s.Release), entry(m.Release)
	t.Logf("without misses the old line enters on board %.2f, the new one on %.2f", before, after)
	pocket := physics.DefaultPocket
	if pocket.Contains(before) || !pocket.Contains(after) || !m.Found || !(m.After.Share() > m.Before.Share()) || !m.Gain.Significant() {
		t.Errorf("moved from board %.2f to %.2f: %+v", before, after, m.Gain)
	}
}

func TestWearEndsWithItsContext(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	w := alone(usual.Setup(t, ball.Right, 3.4, usual.League()), 10, 50)
	w.Workers = 1
	w.Progress = func(done, _ int) {
		if done == 3 {
			stop()
		}
	}
	r, err := w.Run(ctx)
	if err == nil || r.Sessions != 3 || len(r.Blocks) == 0 {
		t.Errorf("%d sessions in the result, error %v", r.Sessions, err)
	}
	if _, err := (Study{}).Run(context.Background()); err == nil {
		t.Error("a session without bowlers was played")
	}
}

func BenchmarkWear(b *testing.B) {
	w := alone(usual.Setup(b, ball.Right, 3.4, usual.League()), 240, 1)
	for b.Loop() {
		usual.Run(b, w)
	}
}

// Common practice: a low-flare layout of a ball keeps its line playable at least as
// long as a high-flare one on a flat pattern, both thrown in turn on one lane.
func TestLowFlareStaysAtLeastAsLong(t *testing.T) {
	sigmas := usual.League()
	const halved = 0.5 // a tournament bowler's
	sigmas = studies.Repeatability{Laydown: halved * sigmas.Laydown, Angle: halved * sigmas.Angle, Speed: halved * sigmas.Speed,
		RevRate: halved * sigmas.RevRate, AxisRotation: halved * sigmas.AxisRotation, AxisTilt: halved * sigmas.AxisTilt}
	high, low := usual.Setup(t, ball.Right, 3.4, sigmas), usual.Setup(t, ball.Right, 6.1, sigmas)
	w := Study{Lane: high.Lane, Setups: []studies.Setup{high, low}, Sessions: 20, Seed: 1, Block: 20}
	for k := range 280 {
		w.Order = append(w.Order, k%2)
	}
	r := usual.Run(t, w)
	a, b := r.Stays[0], r.Stays[1]
	t.Logf("pin 3.4 in stays above %.2f until shot %.0f (%.0f to %.0f), pin 6.1 in above %.2f until %.0f (%.0f to %.0f)",
		a.Share, a.Median, a.Interval.Low, a.Interval.High, b.Share, b.Median, b.Interval.Low, b.Interval.High)
	// Not shorter beyond chance: the two differ by less than their intervals here,
	// by more on flatter oil.
	if b.Interval.High < a.Interval.Low {
		t.Errorf("the low-flare layout stays until shot %.0f, the high-flare one until %.0f", b.Median, a.Median)
	}

	// Wilson's intervals of blocks take a session's deliveries as independent, though they share a lane: the
	// hits of sessions vary as the binomial distribution has it.
	sum, n, skipped := 0.0, 0.0, 0
	for _, block := range r.Blocks {
		p := block.Pocket.Share()
		if p == 0 || p == 1 {
			skipped++ // nothing varies
			continue
		}
		for _, session := range r.Deliveries {
			var c studies.Count
			for _, d := range session[block.From : block.To+1] {
				if d.Setup == block.Setup {
					c = c.Plus(studies.CountOf([]bool{d.Pocket}))
				}
			}
			off := float64(c.Hits) - p*float64(c.Of)
			sum += off * off / (float64(c.Of) * p * (1 - p))
		}
		n += float64(len(r.Deliveries) - 1)
	}
	t.Logf("hits of sessions vary by %.2f of the binomial variance, over %.0f degrees of freedom; %d of %d blocks do not", sum/n, n, skipped, len(r.Blocks))
	if !(math.Abs(sum/n-1) <= 4*math.Sqrt(2/n)) || skipped > len(r.Blocks)/4 {
		t.Errorf("hits of sessions vary by %.2f of the binomial variance", sum/n)
	}
}

// What would never end or panic is refused.
func TestWearRefusesNonsense(t *testing.T) {
	s := usual.Setup(t, ball.Right, 3.4, studies.Repeatability{})
	for name, change := range map[string]func(*Study){
		"block": func(w *Study) { w.Block = -1 }, "columns": func(w *Study) { w.ColumnsPerBoard = -1 },
		"rows": func(w *Study) { w.RowSpacing = math.NaN() }, "share": func(w *Study) { w.Share = 2 },
	} {
		w := alone(s, 2, 1)
		change(&w)
		if _, err := w.Run(context.Background()); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	for _, m := range []Move{{Setup: s, Farthest: -1}, {Setup: s, Shots: -1}} {
		if _, err := m.Run(context.Background()); err == nil {
			t.Errorf("no error for %d boards, %d shots", m.Farthest, m.Shots)
		}
	}
}
