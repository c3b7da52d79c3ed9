package aim_test

import (
	"context"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/internal/usual"
	"lanesim/units"

	"github.com/google/go-cmp/cmp"
)

// tournament is the assumed repeatability of a good bowler.
func tournament() studies.Repeatability {
	return studies.Repeatability{
		Laydown: 0.5, Angle: 0.15 * units.Degree, Speed: 0.25 * units.MPH, RevRate: 8 * units.RPM, AxisRotation: 2 * units.Degree, AxisTilt: units.Degree,
	}
}

// slippery is a lane without friction.
func slippery() lane.Lane {
	l := lane.Default()
	l.Friction = lane.Friction{Law: lane.Constant}
	return l
}

// straightShare returns the pocket share of a ball that goes straight: with a laydown L + σ z, z normal, and
// a normally distributed launch angle θ it enters at L + σ z − H tan θ. The probability over z is a
// difference of normal distribution functions; that over θ is integrated by Simpson's rule.
func straightShare(laydown, angle, boards, sigma float64) float64 {
	below := func(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
	const n, wide = 400, 8.0
	sum := 0.0
	for i := range n + 1 {
		z := wide * (2*float64(i)/n - 1)
		entry := laydown - lane.HeadPin/lane.BoardWidth*math.Tan(angle+z*sigma)
		share := below((18.25-entry)/boards) - below((16.75-entry)/boards)
		weight := 2.0
		switch {
		case i == 0 || i == n:
			weight = 1
		case i%2 == 1:
			weight = 4
		}
		sum += weight * share * math.Exp(-z*z/2) / math.Sqrt(2*math.Pi)
	}
	return sum * 2 * wide / n / 3
}

// standardErrors is the allowed difference of a counted share from its expectation in standard errors:
// exceeded by chance once in 16 000.
const standardErrors = 4

// The share of a ball that goes straight is a normal probability: that of every
// line of the map and the counted one of the best, which goes straight down the
// lane from the middle of the pocket.
func TestTheSharesOfAStraightBallAreKnown(t *testing.T) {
	const boards, sigma = 0.6, 0.2 * units.Degree
	found := usual.Run(t, aim.Search{
		Setup: studies.Setup{
			Lane: slippery(), Ball: usual.LaidOut(t, ball.Right, false),
			Release:       physics.Release{Speed: 18 * units.MPH, RevRate: 300 * units.RPM, AxisRotation: 45 * units.Degree},
			Repeatability: studies.Repeatability{Laydown: boards, Angle: sigma, Speed: 0.3 * units.MPH},
		},
		By: aim.ByPocketShare, Seed: 5,
	})
	cells, deviation := 0, 0.0
	for i, laydown := range found.Map.Laydown {
		for j, arrows := range found.Map.Arrows {
			angle := math.Atan((laydown - arrows) * lane.BoardWidth / lane.Arrows)
			want := straightShare(laydown, angle, boards, sigma)
			// The search takes its shares from 2000 deliveries.
			allowed := standardErrors*math.Sqrt(want*(1-want)/2000) + 1.0/2000
			if off := math.Abs(found.Map.Pocket[i][j] - want); !(off <= allowed) {
				if math.Abs(angle) <= 6*units.Degree {
					t.Errorf("from %g over %g: share %.4f, expected %.4f ± %.4f", laydown, arrows, found.Map.Pocket[i][j], want, allowed)
				}
			} else if want > 0.1 {
				cells++
				deviation += off
			}
		}
	}
	if cells < 50 {
		t.Errorf("only %d cells of the map hit", cells)
	}
	best := found.Best
	want := straightShare(best.Release.Laydown, best.Release.Angle, boards, sigma)
	if off := math.Abs(best.Pocket.Share() - want); off > standardErrors*math.Sqrt(want*(1-want)/2000) {
		t.Errorf("the best line's share is %.4f, expected %.4f", best.Pocket.Share(), want)
	}
	if entry := best.Shot.EntryBoard(); !(math.Abs(entry-17.5) <= 0.25) {
		t.Errorf("the best line enters on board %.3f", entry)
	}
	// No line is better than the one straight down the lane, and by hardly anything.
	if most := straightShare(17.5, 0, boards, sigma); most-want > 0.01 {
		t.Errorf("the best line has a share of %.4f, the best possible is %.4f", want, most)
	}
	// A board at the arrows is four at the pins.
	for _, room := range []float64{found.Room.Right, found.Room.Left} {
		if math.Abs(room-0.75/4) > 0.25/4+0.01 {
			t.Errorf("room of %.4f boards at the arrows, expected about %.4f", room, 0.75/4)
		}
	}
	if sum := found.Room.Right + found.Room.Left; math.Abs(sum-1.5/4) > 0.005 {
		t.Errorf("room of %.4f boards on both sides, expected %.4f", sum, 1.5/4)
	}
	for name, v := range map[string]float64{"slower": found.Room.Slower, "faster": found.Room.Faster, "more": found.Room.More} {
		if !math.IsNaN(v) {
			t.Errorf("%s: leaves the pocket at %g although speed and revs do not matter", name, v)
		}
	}
	if found.Best.Good.Hits > 0 {
		t.Errorf("%d straight balls at a good angle", found.Best.Good.Hits)
	}
}

// The map's interpolated shares agree with those counted from shots, with film and a ball whose entry angle
// swings with speed and revs.
func TestTheMapAgreesWithShots(t *testing.T) {
	// Beside chance; 0.04 was measured at most, in the share at a good angle.
	const interpolation = 0.05

	settings := physics.Settings{GoodAngle: physics.Window{Min: 3.5 * units.Degree, Max: 6 * units.Degree}}
	setup := studies.Setup{
		Lane: usual.Crowned(t, 40, 24.5, 10), Ball: usual.LaidOut(t, ball.Right, true), Release: usual.Release(), Repeatability: tournament(),
	}
	setup.Release.AxisRotation = 60 * units.Degree
	found := usual.Run(t, aim.Search{
		Setup: setup, Shots: 200, Seed: 3, Settings: settings,
		Limits: aim.Limits{Laydown: physics.Window{Min: 16, Max: 30}},
	})
	const n = 400
	thrower := physics.NewThrower()
	settings = studies.ForManyShots(settings)
	compared := 0
	for i := 0; i < len(found.Map.Laydown); i += 6 {
		for j := i % 3; j < len(found.Map.Arrows); j += 3 {
			if found.Map.Pocket[i][j] < 0.08 {
				continue
			}
			compared++
			r := setup.Release
			r.Laydown = found.Map.Laydown[i]
			r.Angle = math.Atan((r.Laydown - found.Map.Arrows[j]) * lane.BoardWidth / lane.Arrows)
			deliverer := usual.Deliverer(t, setup.Repeatability, r)
			pocket, good := 0.0, 0.0
			for k := range uint64(n) {
				shot := usual.Throw(t, thrower, setup.Lane, setup.Ball, deliverer.Delivery(studies.DrawDeviates(99, k)), settings)
				if shot.Summary.Pocket {
					pocket += 1.0 / n
					if shot.Summary.GoodAngle {
						good += 1.0 / n
					}
				}
			}
			for _, c := range [][2]float64{{pocket, found.Map.Pocket[i][j]}, {good, found.Map.Good[i][j]}} {
				p := (c[0] + c[1]) / 2
				allowed := interpolation + 3*math.Sqrt((p*(1-p)+0.5/n)*(1.0/n+1.0/2000))
				t.Logf("from %g over %g: %.3f in the map, %.3f of shots", r.Laydown, found.Map.Arrows[j], c[1], c[0])
				if !(math.Abs(c[0]-c[1]) <= allowed) {
					t.Errorf("from %g over %g: %.3f in the map, %.3f of shots, allowed %.3f", r.Laydown, found.Map.Arrows[j], c[1], c[0], allowed)
				}
			}
		}
	}
	if compared < 4 {
		t.Errorf("%d lines compared", compared)
	}
}

// walls returns a lane with two steps from little oil to much, one at board 4 and
// one from 10 to 17: lines along either have room, and those between have none.
func walls(t testing.TB) lane.Lane {
	t.Helper()
	row := make([]float64, lane.Boards)
	for b := range row {
		for _, step := range [][2]float64{{4, 2}, {7, 40}, {10, 2}, {13, 10}, {16, 25}, {lane.Boards, 70}} {
			if float64(b+1) <= step[0] {
				row[b] = step[1]
				break
			}
		}
	}
	oil, err := lane.NewBoardOilMap([]float64{0, 40 * units.Foot}, [][]float64{row, row})
	if err != nil {
		t.Fatal(err)
	}
	l := lane.Default()
	l.Oil = oil
	return l
}

// shareByLaydown counts the share of the line from each laydown to the middle of
// the pocket.
func shareByLaydown(t testing.TB, setup studies.Setup, from, to int, n uint64) []float64 {
	t.Helper()
	settings := studies.ForManyShots(physics.Settings{})
	thrower := physics.NewThrower()
	var shares []float64
	for board := from; board <= to; board++ {
		r := setup.Release
		r.Laydown = float64(board)
		r, err := aim.AtPocket(studies.Setup{Lane: setup.Lane, Ball: setup.Ball, Release: r}, settings)
		if err != nil {
			shares = append(shares, 0)
			continue
		}
		deliverer := usual.Deliverer(t, setup.Repeatability, r)
		hits := 0.0
		for k := range n {
			shot := usual.Throw(t, thrower, setup.Lane, setup.Ball, deliverer.Delivery(studies.DrawDeviates(7, k)), settings)
			if shot.Summary.Pocket {
				hits++
			}
		}
		shares = append(shares, hits/float64(n))
	}
	return shares
}

// Of two regions with room, separated by one without, the better is found, as by throwing from every laydown;
// within limits that contain only the worse one, that is found.
func TestTheBetterOfTwoRegionsIsFound(t *testing.T) {
	const n = 300
	setup := studies.Setup{Lane: walls(t), Ball: usual.LaidOut(t, ball.Right, false), Release: usual.Release(), Repeatability: tournament()}
	shares := shareByLaydown(t, setup, 8, 34, n)
	outer, valley, best, at := shares[0], 1.0, 0.0, 0
	for i, share := range shares {
		if share > best {
			best, at = share, i
		}
	}
	for _, share := range shares[:at] {
		valley = min(valley, share)
	}
	if valley > outer-0.1 || best < outer+0.1 {
		t.Fatalf("shares of %.2f, %.2f and %.2f: no two regions", outer, valley, best)
	}
	q := aim.Search{Setup: setup, By: aim.ByPocketShare, Shots: 1000}
	found := usual.Run(t, q)
	if laydown := found.Best.Release.Laydown; math.Abs(laydown-float64(8+at)) > 1.5 {
		t.Errorf("laid down on %.2f, the best of all whole boards is %d", laydown, 8+at)
	}
	if share := found.Best.Pocket.Share(); share < best-0.08 {
		t.Errorf("a share of %.3f, %.3f from board %d", share, best, 8+at)
	}
	q.Limits.Laydown = physics.Window{Min: 5, Max: 14}
	worse := usual.Run(t, q).Best
	if share := worse.Pocket.Share(); share < outer-0.08 {
		t.Errorf("a share of %.3f in the outer region, %.3f from board 8", share, outer)
	}
	if pair := found.Best.Against(worse, q.By); !(pair.Difference() > 0) {
		t.Errorf("the worse region's share is larger by %.3f", -pair.Difference())
	}
}

// On a crowned pattern a miss finds less oil on one side and more on the other, on
// a flat one it does not: the crown leaves more room by the board.
func TestACrownLeavesMoreRoomThanAFlatPattern(t *testing.T) {
	var shares [2]studies.Count
	for i, ratio := range []float64{10, 1} {
		setup := studies.Setup{Lane: usual.Crowned(t, 40, 24.5, ratio), Ball: usual.LaidOut(t, ball.Right, false), Release: usual.Release(), Repeatability: tournament()}
		found := usual.Run(t, aim.Search{Setup: setup, By: aim.ByPocketShare, Shots: 1000, RunnersUp: -1})
		shares[i] = found.Best.Pocket
	}
	house, flat := shares[0].Share(), shares[1].Share()
	t.Logf("pocket share of the best line: %.3f on 10:1, %.3f on 1:1", house, flat)
	// 0.52 and 0.26 were measured.
	if house < flat+0.15 {
		t.Errorf("%.3f on the crown, %.3f on flat oil", house, flat)
	}
}

// A left-hander finds the mirror image of the line on a mirrored lane.
func TestLeftHandersLineIsTheMirrorImage(t *testing.T) {
	l := usual.Crowned(t, 40, 24.5, 10)
	for i := range l.Oil.Film {
		l.Oil.Film[i] *= 1 + 0.01*float64(i%l.Oil.Columns) // more oil to the left
	}
	find := func(l lane.Lane, hand ball.Hand) aim.Result {
		r := usual.Release()
		r.Hand = hand
		return usual.Run(t, aim.Search{
			Setup: studies.Setup{Lane: l, Ball: usual.LaidOut(t, hand, false), Release: r, Repeatability: tournament()},
			By:    aim.ByPocketShare, Shots: 400, RunnersUp: -1, Seed: 2,
			Limits: aim.Limits{Laydown: physics.Window{Min: 20, Max: 29}},
		})
	}
	right, left := find(l, ball.Right), find(l.Mirror(), ball.Left)
	a, b := right.Best, left.Best
	// The mirrored map rounds otherwise; a delivery at the very edge of the pocket
	// may change sides.
	if math.Abs(a.Release.Laydown-b.Release.Laydown) > 0.3 || math.Abs(a.Arrows-b.Arrows) > 0.3 || math.Abs(a.Pocket.Share()-b.Pocket.Share()) > 0.02 {
		t.Errorf("from %.2f over %.2f, %.3f to the right; from %.2f over %.2f, %.3f to the left",
			a.Release.Laydown, a.Arrows, a.Pocket.Share(), b.Release.Laydown, b.Arrows, b.Pocket.Share())
	}
	if d := math.Abs(right.Room.Right-left.Room.Left) + math.Abs(right.Room.Left-left.Room.Right); a.Release == b.Release && d > 0.02 {
		t.Errorf("room %+v and %+v", right.Room, left.Room)
	}
	same := find(l, ball.Left).Best
	if math.Abs(same.Pocket.Share()-a.Pocket.Share()) < 0.02 && math.Abs(same.Arrows-a.Arrows) < 0.3 {
		t.Error("the lane is too even to test anything")
	}
}

// The result depends only on the seed, for any number of workers.
func TestLinesDoNotDependOnTheWorkers(t *testing.T) {
	q := aim.Search{
		Setup: studies.Setup{Lane: usual.Crowned(t, 40, 24.5, 10), Ball: usual.LaidOut(t, ball.Right, true), Release: usual.Release(), Repeatability: tournament()},
		Shots: 100, Seed: 11, Own: true,
		Limits: aim.Limits{Laydown: physics.Window{Min: 24, Max: 25.5}, Arrows: physics.Window{Min: 12, Max: 20}},
	}
	q.Setup.Release.Angle = 2 * units.Degree
	var first aim.Result
	for i, workers := range []int{1, 7} {
		q.Workers = workers
		found := usual.Run(t, q)
		if i == 0 {
			first = found
		} else if !reflect.DeepEqual(found, first) {
			t.Errorf("%d workers: %s", workers, cmp.Diff(first.Best.Release, found.Best.Release))
		}
	}
	q.Seed++
	if found := usual.Run(t, q); reflect.DeepEqual(found.Map, first.Map) {
		t.Error("another seed gives the same map")
	}
	if first.Own == nil || first.Own.Release != q.Setup.Release || first.Own.Pocket.Of != 100 {
		t.Errorf("own line: %+v", first.Own)
	}
}

// Lines are within the limits, the runners-up apart from each other.
func TestLinesKeepTheLimits(t *testing.T) {
	q := aim.Search{
		Setup: studies.Setup{Lane: usual.Crowned(t, 40, 24.5, 10), Ball: usual.LaidOut(t, ball.Right, false), Release: usual.Release(), Repeatability: tournament()},
		By:    aim.ByPocketShare, Shots: 200, RunnersUp: 5,
		Limits: aim.Limits{Laydown: physics.Window{Min: 15, Max: 20.5}, Arrows: physics.Window{Min: 2, Max: 14}},
	}
	const rounding = 1e-9 // of the board that follows from an angle
	found := usual.Run(t, q)
	lines := append([]aim.Line{found.Best}, found.RunnersUp...)
	for i, l := range lines {
		if !q.Limits.Laydown.Contains(l.Release.Laydown) || l.Arrows < 2-rounding || l.Arrows > 14+rounding {
			t.Errorf("from %g over %g", l.Release.Laydown, l.Arrows)
		}
		for _, o := range lines[:i] {
			if math.Hypot(l.Release.Laydown-o.Release.Laydown, l.Arrows-o.Arrows) < 1 || o.Pocket.Hits < l.Pocket.Hits {
				t.Errorf("%g over %g after %g over %g", l.Release.Laydown, l.Arrows, o.Release.Laydown, o.Arrows)
			}
		}
	}
	if len(lines) < 2 {
		t.Error("no runner-up")
	}
	// One laydown only, and near one's own line.
	q.Limits.Laydown = physics.Window{Min: 18, Max: 18}
	if r := usual.Run(t, q).Best.Release; r.Laydown != 18 {
		t.Errorf("laid down at %g", r.Laydown)
	}
	own := lines[0].Release
	q.Setup.Release, q.Limits = own, aim.About(own, 2, 1)
	if r := usual.Run(t, q).Best.Release; math.Abs(r.Laydown-own.Laydown) > 2 {
		t.Errorf("moved from %g to %g", own.Laydown, r.Laydown)
	}
}

// A bowler who may choose the speed does not choose worse.
func TestASpeedThatIsFreeIsChosen(t *testing.T) {
	q := aim.Search{
		Setup: studies.Setup{Lane: usual.Crowned(t, 40, 24.5, 4), Ball: usual.LaidOut(t, ball.Right, false), Release: usual.Release(), Repeatability: tournament()},
		By:    aim.ByPocketShare, Shots: 600,
		Limits: aim.Limits{Laydown: physics.Window{Min: 23, Max: 25.5}},
	}
	fixed := usual.Run(t, q)
	q.Limits.Speed = physics.Window{Min: 16 * units.MPH, Max: 20 * units.MPH}
	free := usual.Run(t, q)
	if !q.Limits.Speed.Contains(free.Best.Release.Speed) {
		t.Errorf("%g mph", free.Best.Release.Speed/units.MPH)
	}
	if free.Best.Pocket.Share() < fixed.Best.Pocket.Share()-0.03 {
		t.Errorf("%.3f at %.3g mph, %.3f at the usual speed", free.Best.Pocket.Share(), free.Best.Release.Speed/units.MPH, fixed.Best.Pocket.Share())
	}
}

// A machine hits always or never: the best line is in the middle of the pocket.
func TestAMachinesLineIsTheMiddle(t *testing.T) {
	found := usual.Run(t, aim.Search{
		Setup: studies.Setup{Lane: usual.Crowned(t, 40, 24.5, 10), Ball: usual.LaidOut(t, ball.Right, false), Release: usual.Release()},
		By:    aim.ByPocketShare, Shots: 10, RunnersUp: -1,
	})
	if found.Best.Pocket.Share() != 1 || !(math.Abs(found.Best.Shot.EntryBoard()-17.5) <= 0.2) {
		t.Errorf("share %g, entry board %g", found.Best.Pocket.Share(), found.Best.Shot.EntryBoard())
	}
}

func TestWithoutALineTheNearestBoardIsNamed(t *testing.T) {
	q := aim.Search{
		Setup:  studies.Setup{Lane: lane.Default(), Ball: usual.LaidOut(t, ball.Right, false), Release: usual.Release(), Repeatability: tournament()},
		Limits: aim.Limits{Laydown: physics.Window{Min: 20, Max: 30}},
	}
	q.Setup.Release.RevRate = 520 * units.RPM
	_, err := q.Run(context.Background())
	none := (*aim.NoLineError)(nil)
	if !errors.As(err, &none) || !(none.Nearest > 18.25) || !strings.Contains(err.Error(), "the nearest board reached is") {
		t.Fatalf("error %v", err)
	}
	r := q.Setup.Release
	r.Laydown = none.Laydown
	angle := math.Atan((none.Laydown - none.Arrows) * lane.BoardWidth / lane.Arrows)
	if board := usual.Entry(t, physics.NewThrower(), q.Setup.Lane, q.Setup.Ball, r, angle, 1e-4); math.Abs(board-none.Nearest) > 0.01 {
		t.Errorf("enters on board %g, said to be %g", board, none.Nearest)
	}
	q.Setup.Lane.Friction.Law = "none such"
	if _, err := q.Run(context.Background()); err == nil || errors.As(err, &none) {
		t.Errorf("error %v", err)
	}
	q.Limits.Laydown = physics.Window{Min: 30, Max: 20}
	if _, err := q.Run(context.Background()); err == nil {
		t.Error("limits that hold nothing are no error")
	}
	q.Limits = aim.Limits{}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := q.Run(ctx); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
}

// If the interpolated share at a good angle is above two per cent but the counted one is not, lines are
// judged by the pocket share.
func TestTooFewGoodAnglesAreNotJudgedBy(t *testing.T) {
	q := aim.Search{Setup: usual.Setup(t, ball.Right, 3.4, usual.League()), Limits: aim.Limits{Laydown: physics.Window{Min: 24, Max: 26}}, Shots: 600, RunnersUp: -1}
	q.Setup.Lane = usual.Crowned(t, 40, 24.5, 10)
	q.Settings.GoodAngle = physics.Window{Min: 4.4 * units.Degree, Max: 9 * units.Degree}
	if found := usual.Run(t, q); found.By != aim.ByPocketShare {
		t.Errorf("judged by the %s with %v of the best line", found.By, found.Best.Good)
	}
}
