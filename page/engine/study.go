package engine

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/studied"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/spread"
	"lanesim/studies/wear"
)

// Limits of a request: with more it would run for hours.
const (
	mostSets       = 1000
	mostDeliveries = 100_000
	mostSessions   = 1000
	mostRacks      = 100_000
	mostMoves      = 50
)

func errTooMany(what string, most int) error {
	return fmt.Errorf("the number of %s can be up to %d", what, most)
}

// lineOfA makes an error of a line found for both balls one of A's line.
func lineOfA(err error) error {
	var none *aim.NoPocketError
	if errors.As(err, &none) {
		return &noLineError{sideA, none}
	}
	return err
}

// players returns both balls on their lines, with the bowler's scatter. It is that of a skill
// level if one is named or if the scenario has none; a caution says what was assumed.
func (e *Engine) players(ctx context.Context, s *setup, level string) (list []studied.Player, cautions []string, err error) {
	lines, err := e.linesOf(ctx, s, true)
	if err != nil {
		return nil, nil, err
	}
	b := s.bowler()
	repeatability, assumed := b.Repeatability, ""
	if level != "" || repeatability == nil {
		if assumed = level; level == "" {
			assumed = scenario.AssumedLevel
			cautions = append(cautions, studied.Player{Bowler: b.Name, Level: assumed}.LevelCaution())
		}
		var known bool
		if repeatability, known = scenario.SkillLevel(assumed); !known {
			return nil, nil, fmt.Errorf("there is no skill level %q", assumed)
		}
	}
	for side := range sides {
		list = append(list, studied.Player{Lane: s.lane().Name, Ball: s.Balls[side].Name, Bowler: b.Name, Level: assumed,
			Setup: studies.Setup{Lane: s.lane(), Ball: s.balls[side].Prepared, Release: lines[side].Release, Repeatability: repeatability.Repeatability}})
	}
	return list, cautions, nil
}

func setups(players []studied.Player) []studies.Setup {
	var list []studies.Setup
	for _, p := range players {
		list = append(list, p.Setup)
	}
	return list
}

// spread answers with scattered deliveries of both balls.
func (e *Engine) spread(ctx context.Context, s *setup, r request, progress Progress) (answer, error) {
	if r.Deliveries < 1 || r.Deliveries > mostDeliveries {
		return answer{}, errTooMany("deliveries", mostDeliveries)
	}
	players, cautions, err := e.players(ctx, s, r.Level)
	if err != nil {
		return answer{}, err
	}
	w := studied.Spread{Title: s.Title, Warnings: cautions, Players: players, Study: spread.Study{
		Setups: setups(players), Pairs: [][2]int{{sideA, sideB}}, Shots: r.Deliveries, Misses: -1, Seed: r.Seed, Settings: s.Scenario.Settings,
		Work: studies.Work{Progress: func(done, of int) { progress("delivery", done, of) }},
	}}
	if w.Result, err = w.Study.Run(ctx); err != nil {
		if ctx.Err() == nil || w.Result.Shots == 0 {
			return answer{}, err
		}
		cautions = append(cautions, w.StoppedCaution())
	}
	a := answer{is: "spread"}
	var balls report.List
	for i, result := range w.Result.Setups {
		from := len(a.packed)
		for _, d := range result.Each {
			a.packed.add(d.EntryBoard, report.Degree.In(d.EntryAngle))
		}
		hits := report.List{}
		for k, count := range w.Hits(i) {
			hits = append(hits, report.ObjectOf("hit", string(physics.AllHits()[k]), "share", share(count)))
		}
		balls = append(balls, report.ObjectOf(
			"name", players[i].Ball, "pocket", share(result.Pocket), "good", share(result.GoodAngle),
			"gutter", share(studies.Count{Hits: result.Ends[physics.Gutter], Of: len(result.Each)}),
			"hits", hits, "ends", a.packed.array(from),
			"mean", result.EntryBoard.Mean, "deviation", result.EntryBoard.SD, "misses", misses(result),
		))
	}
	a.members = report.ObjectOf("deliveries", w.Result.Shots, "balls", balls, "blocks", blocks(w.Document()),
		"words", sentence(w.DifferenceWords()), "cautions", texts(cautions))
	return a, nil
}

// sentence makes words a sentence; "" stays "".
func sentence(words string) string {
	if words == "" {
		return ""
	}
	return strings.ToUpper(words[:1]) + words[1:] + "."
}

// misses returns the share of the spread at the pins that each deviation explains alone, the
// largest first.
func misses(result spread.SetupResult) report.List {
	list := slices.Clone(result.Misses)
	sort.SliceStable(list, func(i, j int) bool { return list[i].Board.Value > list[j].Board.Value })
	return report.Each(list, func(m spread.Miss) report.Object {
		return report.ObjectOf("label", studied.MissNames[m.Of], "share", m.Board.Value, "text", report.Share(max(0, m.Board.Value)))
	})
}

// lineSearch answers with the line that has the most room, for each ball.
func (e *Engine) lineSearch(ctx context.Context, s *setup, r request, progress Progress) (answer, error) {
	given := !s.bowler().AimAtPocket
	s.Bowlers[0].AimAtPocket = false // the search finds the line
	players, cautions, err := e.players(ctx, s, r.Level)
	if err != nil {
		return answer{}, err
	}
	by := aim.Measure(r.By)
	switch by {
	case "":
		by = aim.ByGoodShare
	case aim.ByGoodShare, aim.ByPocketShare, aim.ByStrikeShare:
	default:
		return answer{}, fmt.Errorf("there is no measure %q of lines", r.By)
	}
	a := studied.Aim{Title: s.Title, Warnings: cautions, Players: players, By: by, Shots: aim.DefaultShots}
	var balls report.List
	var maps packed
	for i, p := range players {
		what := fmt.Sprintf("line of %s, shot", p.Ball)
		found, err := aim.Search{Setup: p.Setup, By: by, Own: given, RunnersUp: -1, Seed: r.Seed, Settings: s.Scenario.Settings,
			Work: studies.Work{Progress: func(done, of int) { progress(what, done, of) }}}.Run(ctx)
		var none *aim.NoLineError
		if err != nil && !errors.As(err, &none) {
			return answer{}, err
		}
		if none != nil {
			cautions = append(cautions, fmt.Sprintf("%s: %v", p.Ball, none))
		} else {
			balls = append(balls, lineObject(i, p.Ball, found, &maps))
		}
		a.List = append(a.List, studied.AimedBall{Player: p, Result: found, None: none})
	}
	if len(balls) == 0 {
		none := a.List[0].None
		return answer{is: "noline", members: report.ObjectOf("side", "a", "message", none.Error(), "nearest", none.Nearest)}, nil
	}
	return answer{is: "lines", packed: maps, members: report.ObjectOf("balls", balls, "blocks", blocks(a.Document()),
		"words", a.BestLines(), "cautions", texts(cautions))}, nil
}

func lineObject(side int, name string, found aim.Result, maps *packed) report.Object {
	best := found.Best
	var own report.Object
	if found.Own != nil {
		own = share(found.Own.Of(found.By))
	}
	from := len(*maps)
	for _, row := range found.Map.Of(found.By) {
		maps.add(row...)
	}
	return report.ObjectOf("map", report.ObjectOf("laydown", found.Map.Laydown, "arrows", found.Map.Arrows, "share", maps.array(from)),
		"side", sideNames[side], "name", name, "laydown", best.Release.Laydown, "arrows", best.Arrows,
		"angle", report.Degree.In(best.Release.Angle), "share", share(best.Of(found.By)), "own", own,
		"by", studied.ByWords(found.By), "sets", lineSets(best.Release))
}

// lineSets returns the sets that give a state a line.
func lineSets(r physics.Release) report.Object {
	return report.ObjectOf("bowler.laydown", report.Exact(r.Laydown),
		"bowler.target", fmt.Sprintf("{board: %s, distance: 15 ft}", report.Exact(report.Plain(studies.BoardAtArrows(r)))))
}

// wear answers with how long each ball's line lasts.
func (e *Engine) wear(ctx context.Context, s *setup, r request, progress Progress) (answer, error) {
	if s.lane().Oil == nil {
		return answer{}, errors.New("the lane is dry: there is nothing to wear")
	}
	if r.Deliveries < 1 || r.Deliveries > mostDeliveries || r.Sessions < 1 || r.Sessions > mostSessions {
		return answer{}, fmt.Errorf("%w, that of sessions up to %d", errTooMany("deliveries", mostDeliveries), mostSessions)
	}
	players, cautions, err := e.players(ctx, s, r.Level)
	if err != nil {
		return answer{}, err
	}
	a := answer{is: "wear"}
	var balls, tables report.List
	// Each ball gets a lane of its own, so that neither wears the other's line.
	for i, p := range players {
		what := fmt.Sprintf("session with %s", p.Ball)
		w := studied.Wear{Title: p.Ball, Warnings: cautions, Players: players[i : i+1], Study: wear.Study{
			Lane: s.lane(), Setups: setups(players[i : i+1]), Order: make([]int, r.Deliveries), Sessions: r.Sessions, Seed: r.Seed, Block: wear.DefaultBlock,
			Settings: s.Scenario.Settings, Work: studies.Work{Progress: func(done, of int) { progress(what, done, of) }},
		}}
		if w.Result, err = w.Study.Run(ctx); err != nil {
			return answer{}, err
		}
		stay := w.Result.Stays[0]
		var lasts any
		if !math.IsInf(stay.Median, 0) && !math.IsNaN(stay.Median) {
			lasts = stay.Median
		}
		balls = append(balls, report.ObjectOf("name", p.Ball, "lasts", lasts, "text", studied.LastsText(stay, r.Deliveries),
			"blocks", report.Each(w.Result.Blocks, func(b wear.Block) report.Object {
				return report.ObjectOf("from", b.From+1, "to", b.To+1, "pocket", share(b.Pocket),
					"mean", b.EntryBoardMean)
			})))
		tables = append(tables, report.ObjectOf("heading", p.Ball, "text", "", "rows", [][]string{}, "heads", 0))
		tables = append(tables, blocks(w.Document())...)
	}
	a.members = report.ObjectOf("balls", balls, "blocks", tables,
		"words", studied.OwnFreshLane, "cautions", texts(cautions))
	return a, nil
}
