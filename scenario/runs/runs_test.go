package runs

import (
	"context"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"lanesim/internal/input"
	"lanesim/physics"
	"lanesim/report/studied"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/bag"
	"lanesim/studies/wear"
	"lanesim/units"
)

func quiet(done, total int) {}

func silent(text string) {}

// read reads a scenario of shots that take no time: two zones, equal moments, no oil.
func read(t *testing.T, more string) *scenario.Scenario {
	t.Helper()
	const usual = "title: quick\nlane: {name: dry lane, friction: {law: zones, zones: [{to: 40 ft, mu: 0.04}, {mu: 0.2}]}}\n"
	s, err := scenario.Read("quick.yaml", []byte(usual+more), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

const twoBalls = "balls: [{name: A, differential: 0 in, film_memory: off}, {name: B, rg: 2.6 in, differential: 0 in, film_memory: off}]\n"

// A line is the one that is given, or the one that the bowler asks for, moved as the bowler moves.
func TestLinesAreFoundAsBowlersAsk(t *testing.T) {
	s := read(t, twoBalls+`
bowlers:
  - {like: medium revs, name: given, laydown: 22, angle: 1.5 deg, repeatability: machine}
  - {like: medium revs, name: pocket, laydown: 22}
  - {like: medium revs, name: moved, laydown: 22, move: 2 left}
  - {like: medium revs, name: breakpoint, line: {arrows: 14, breakpoint: 9}}
`)
	list, err := s.Deliveries()
	if err != nil {
		t.Fatal(err)
	}
	thrower := physics.NewThrower()
	var pocket physics.Release
	for _, d := range list {
		name := s.Bowlers[d.Bowler].Name
		release, aimed, shot, err := Deliver(context.Background(), thrower, s, d, s.Settings, studies.Work{})
		if err != nil || shot.Events.Pins == nil {
			t.Fatalf("%s: %v, %s", name, err, shot.Status)
		}
		board := shot.Events.Pins.Board
		switch name {
		case "given":
			if release != s.Bowlers[0].Release || aimed != nil {
				t.Errorf("the line is not the one given: %+v", release)
			}
		case "pocket":
			pocket = release
			if !s.Settings.Pocket.Contains(board) || aimed == nil {
				t.Errorf("the ball arrives on board %g", board)
			}
		case "moved":
			if d.Ball == 1 && (release.Laydown != 24 || math.Abs(release.Angle-pocket.Angle) > 1e-9) {
				t.Errorf("moved from %+v to %+v", pocket, release)
			}
		case "breakpoint":
			if at := shot.Events.Breakpoint; at == nil || math.Abs(at.Board-9) > 0.05 || aimed != nil {
				t.Errorf("the breakpoint is at %+v", at)
			}
		}
	}
	if r := RepeatabilityOf(s.Bowlers[0]); r.Speed != 0 {
		t.Errorf("a machine deviates: %+v", r)
	}
	league, _ := scenario.SkillLevel(scenario.AssumedLevel)
	if r := RepeatabilityOf(s.Bowlers[1]); !reflect.DeepEqual(r, league.Repeatability) {
		t.Errorf("assumed %+v, not the level %s", r, scenario.AssumedLevel)
	}
}

func TestThrowAllKeepsPathsWhereTheyAreWanted(t *testing.T) {
	s := read(t, twoBalls+"bowler: {like: low revs, angle: 1 deg}\n")
	for _, paths := range []bool{false, true} {
		steps := 0
		shots, err := ThrowAll(context.Background(), s, paths, 0.5, studies.Work{Progress: func(done, total int) { steps++ }}, silent)
		if err != nil || len(shots) != 2 || steps != 2 {
			t.Fatalf("%d shots, %d steps, %v", len(shots), steps, err)
		}
		for i, made := range MadeOf(shots) {
			if made.Ball != []string{"A", "B"}[i] || (made.Inputs != nil) != paths || (len(made.Shot.Path) > 2) != paths {
				t.Errorf("paths %v: ball %s, inputs %s, %d points", paths, made.Ball, made.Inputs, len(made.Shot.Path))
			}
		}
	}
}

func TestPlayersHaveARepeatability(t *testing.T) {
	s := read(t, twoBalls+"bowlers: [{like: low revs, angle: 1 deg}, {like: high revs, angle: 3 deg, repeatability: {speed: 1 mph}}]\n")
	list, warnings, err := Players(context.Background(), s, "", studies.Work{})
	if err != nil || len(list) != 4 || len(warnings) != 1 || list[0].Level != scenario.AssumedLevel || list[3].Level != "" {
		t.Fatalf("%d players, %q, %v", len(list), warnings, err)
	}
	if setups, names := Setups(list), Names(list); setups[3].Repeatability.Speed != units.MPH || names[3].Ball != "B" {
		t.Errorf("%+v of %s", setups[3].Repeatability, names[3].Ball)
	}
	if want := [][2]int{{0, 1}, {2, 3}}; !slices.Equal(SpreadPairs(list), want) {
		t.Errorf("pairs %v, not %v", SpreadPairs(list), want)
	}
	if list, _, err = Players(context.Background(), s, "machine", studies.Work{}); err != nil || list[3].Level != "machine" {
		t.Errorf("%v", err)
	}
	if _, _, err = Players(context.Background(), s, "expert", studies.Work{}); !errors.As(err, &input.Error{}) {
		t.Errorf("error %v", err)
	}
	order := SessionOrder(s, list, 5)
	if want := []int{0, 1, 2, 3, 0}; !slices.Equal(order, want) || len(SessionOrder(s, list, 0)) != DefaultSession {
		t.Errorf("order %v", order)
	}
	if marks := LineMarks(50); !slices.Equal(marks, []int{0, 19, 39}) {
		t.Errorf("marks %v", marks)
	}
	w := studied.Spread{Players: Names(list[:1])}
	w.Study.Settings, w.Result.Shots = s.Settings, 3
	if err := ThrowSpreadPaths(&w); err != nil || len(w.Paths[0].Shots) != 3 || len(w.Paths[0].Line.Path) < 3 {
		t.Errorf("paths %+v, %v", w.Paths, err)
	}
	at := SpreadAtPins{Games: 1, SpareBall: "C", Progress: func(string) func(done, total int) { return quiet }}
	if err := at.Run(context.Background(), &w, list, s); !errors.As(err, &input.Error{}) || !strings.Contains(err.Error(), "A, B") {
		t.Errorf("error %v", err)
	}
}

func TestPairsAreThoseThatDifferInOneThing(t *testing.T) {
	s := read(t, twoBalls+"bowlers: [{like: low revs, name: X, laydown: 20}, {like: high revs, name: Y, angle: 3 deg}]\n")
	var c Comparison
	if err := c.Add(context.Background(), "quick.yaml", s.Heading(), s, studies.Work{}); err != nil {
		t.Fatal(err)
	}
	if err := c.ChoosePairs(""); err != nil || !slices.Equal(c.Chosen, [][2]int{{0, 1}, {2, 3}}) {
		t.Errorf("pairs %v, %v", c.Chosen, err)
	}
	if panels := c.Panels(); !reflect.DeepEqual(panels, [][]int{{0, 1}, {2, 3}}) || len(c.Lanes()) != 4 {
		t.Errorf("panels %v", panels)
	}
	if same, each := c.Lines(false), c.Lines(true); !slices.Equal(same, []int{0, 0, -1, -1}) || !slices.Equal(each, []int{0, 1, 2, 3}) {
		t.Errorf("lines %v and %v", same, each)
	}
	if k, err := c.Detailed([]string{"B , A"}); err != nil || !slices.Equal(k, []int{0, 1}) {
		t.Errorf("details of %v, %v", k, err)
	}
	if k, err := c.Detailed([]string{"B, C"}); !errors.As(err, &input.Error{}) || !strings.Contains(err.Error(), `"A, B"`) {
		t.Errorf("details of %v, %v", k, err)
	}
	if k, err := c.Detailed(nil); err != nil || !slices.Equal(k, []int{0}) {
		t.Errorf("details of %v, %v", k, err)
	}
	for between, want := range map[string]int{"bowlers": 2, "all": 6, "lanes": 0} {
		if err := c.ChoosePairs(between); (err != nil) != (want == 0) || want > 0 && len(c.Chosen) != want || !slices.Contains(Betweens(), between) {
			t.Errorf("%s: %v, %v", between, c.Chosen, err)
		}
	}
}

func TestRowsOfBagsComeBack(t *testing.T) {
	s := read(t, twoBalls+"bowler: {like: low revs, angle: 1 deg}\n")
	w := Bag{Bag: studied.Bag{Title: "bag"}, Study: bag.Study{Shots: 3}}
	if err := w.AddLanes(context.Background(), s.Lanes); err != nil || !slices.Equal(w.States, []string{"dry lane"}) {
		t.Fatalf("%v, %v", w.States, err)
	}
	one, err := w.Fingerprint(s)
	w.Study.Seed++
	if other, e := w.Fingerprint(s); err != nil || e != nil || one == other || len(one) != 64 {
		t.Fatalf("%v, %v: %s for one seed, %s for another", err, e, one, other)
	}
	cell := bag.Cell{Reaches: true, Laydown: 21.25, Angle: 0.1 + 0.2, By: aim.ByGoodShare, Gutter: []bool{false, false, false}}
	cell.Pocket, cell.Good, cell.Strikes = []bool{true, false, true}, []bool{false, false, true}, []bool{true, true, true}
	if got, err := ReadBagRow(BagRow(0, cell), 3); err != nil || !reflect.DeepEqual(got, cell) {
		t.Errorf("%+v, %v", got, err)
	}
	if _, err := ReadBagRow(BagRow(0, cell), 4); err == nil {
		t.Error("a row of three deliveries stands for four")
	}
	w.Worn = 5
	if err := w.AddLanes(context.Background(), s.Lanes); err == nil {
		t.Error("a dry lane wears")
	}
}

// An interrupt keeps the conclusions that were to be tried.
func TestInterruptedSetsKeepTheirConclusions(t *testing.T) {
	s := read(t, twoBalls+"bowler: {like: low revs, angle: 1 deg}\n")
	players, _, err := Players(context.Background(), s, "machine", studies.Work{})
	if err != nil {
		t.Fatal(err)
	}
	ended, end := context.WithCancel(context.Background())
	end()
	a := studied.Aim{By: aim.ByPocketShare}
	for i, n := range []int{5, 9} {
		ball := studied.AimedBall{Player: players[i].Player}
		ball.By = aim.ByPocketShare
		ball.Best.Pocket = studies.Count{Hits: n, Of: 10}
		a.List = append(a.List, ball)
	}
	search := func(setup studies.Setup) aim.Search { return aim.Search{Setup: setup, By: a.By, Shots: 5} }
	w := studied.Wear{Players: Names(players)}
	w.Study = wear.Study{Lane: s.Lanes[0], Setups: Setups(players), Order: []int{0, 1}, Settings: s.Settings}
	w.Result.Stays = []wear.Stay{{Setup: 0, Median: 20}, {Setup: 1, Median: math.NaN()}}
	b := Bag{Bag: studied.Bag{Balls: []string{"A", "B"}, Choice: bag.Result{Chosen: []int{1}}}, Study: bag.Study{Size: 1, Balls: nil}}
	for _, c := range []struct {
		name   string
		try    func() error
		tried  func() *studied.Tried
		claims []string
	}{
		{"aim", func() error { return TryFirstChoices(ended, &a, 2, s.Rack, quiet, search) }, func() *studied.Tried { return a.Tried },
			[]string{"B is the first choice of " + players[0].Bowler + " on dry lane"}},
		{"wear", func() error { return TryLasting(ended, &w, players, s, 2, quiet) }, func() *studied.Tried { return w.Tried }, []string{"A lasts longer than B"}},
		{"bag", func() error { return b.TryAssumed(ended, s, 2, quiet) }, func() *studied.Tried { return b.Tried }, []string{"B is the best ball", "B is among those chosen"}},
	} {
		err := c.try()
		got := c.tried()
		if err == nil || got == nil || got.Of != 0 || got.Asked != 2 {
			t.Errorf("%s: %v, %+v", c.name, err, got)
			continue
		}
		if claims := input.Each(got.Conclusions, func(c studied.Conclusion) string { return c.Claim }); !slices.Equal(claims, c.claims) {
			t.Errorf("%s: %q, not %q", c.name, claims, c.claims)
		}
	}
	if err := FindMoves(ended, &w, 1, quiet); err == nil || len(w.Moves) > 0 {
		t.Errorf("moves %v, %v", w.Moves, err)
	}
	w.Result.Marked = slices.Repeat(w.Result.Marked, 0)
	if err := ThrowWornLines(&w, 1); err != nil || len(w.Lines) != 1 {
		t.Errorf("%d lines, %v", len(w.Lines), err)
	}
	if _, err := (Layouts{Warn: silent}).Run(ended, s); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
	list, err := Layouts{Warn: silent}.Run(context.Background(), s)
	if err != nil || len(list) != 2 || list[1].Ball != "B" || len(list[1].Flares) != 1 || list[1].Flares[0].Lane != "dry lane" {
		t.Errorf("%+v, %v", list, err)
	}
}

const sweepText = `
title: quick sweep
scenario:
  lane: {name: dry lane, friction: {law: zones, zones: [{to: 40 ft, mu: 0.04}, {mu: 0.2}]}}
  balls: [{name: A, differential: 0 in, film_memory: off}, {name: B, rg: 2.6 in, differential: 0 in, film_memory: off}]
  bowler: {like: low revs, angle: 1 deg}
`

func TestSeeksLookAtPlacesInTheirRanges(t *testing.T) {
	text := strings.Replace(sweepText, "balls: [{name: A, differential: 0 in, film_memory: off}, ", "balls: [", 1) +
		"vary: {bowler.speed: {from: 17 mph, to: 19 mph}}\nwant: {entry_board: 17.5}\n"
	s, err := scenario.ReadSeek("quick.yaml", []byte(text), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	study := SeekStudy(s)
	study.Points, study.Keep, study.Sets = 4, 1, -1
	found, err := study.Run(context.Background())
	if err != nil || len(found) != 1 {
		t.Fatalf("%d found, %v", len(found), err)
	}
	r := Sought(s, found)
	speed := found[0].Setup.Release.Speed / units.MPH
	if got := fmt.Sprint(r.Varied[0].Path, " ", r.Varied[0].Unit); got != "bowler.speed mph" || math.Abs(r.Values[0][0].Number-speed) > 1e-9 || speed < 17 || speed > 19 {
		t.Errorf("%s: %v at %g mph", got, r.Values, speed)
	}
	if err := ThrowSought(&r, s.Base.Settings); err != nil || len(r.Shots) != 1 || len(r.Shots[0]) != 4 {
		t.Errorf("%d shots, %v", len(r.Shots), err)
	}
}
