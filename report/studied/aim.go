package studied

import (
	"io"
	"math"
	"slices"
	"sort"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/studies"
	"lanesim/studies/aim"
)

// Aim holds the lines that were found for balls of bowlers on lanes.
type Aim struct {
	Title    string
	Warnings []string
	Players  []Player // also those that are not in the list because the work was interrupted
	List     []AimedBall
	By       aim.Measure // by which lines are judged unless they have none
	Shots    int         // deliveries from which shares are counted
	Tried    *Tried      // nil if it was not asked for
}

// AimedBall is a bowler's ball on a lane with the lines found for it.
type AimedBall struct {
	Player
	aim.Result
	None   *aim.NoLineError // if there is no line
	Pocket physics.Window   // boards at the pins
}

// RankedBalls are the balls of one bowler on one lane, the better first.
type RankedBalls struct {
	Bowler, Lane string
	By           aim.Measure
	Balls        []RankedBall
}

// RankedBall is a ball with its share, against that of the best.
type RankedBall struct {
	AimedBall
	At    int // in the list
	Share studies.Count
	Pair  studies.Paired // with the best ball's deliveries
}

// Ranking ranks the balls of each bowler on each lane, where there are several with a
// line. They are judged as was asked for unless all were judged by the pocket.
func (a *Aim) Ranking() []RankedBalls {
	var all []RankedBalls
	for at, t := range a.List {
		if t.None != nil {
			continue
		}
		i := slices.IndexFunc(all, func(r RankedBalls) bool { return r.Bowler == t.Bowler && r.Lane == t.Lane })
		if i < 0 {
			all = append(all, RankedBalls{Bowler: t.Bowler, Lane: t.Lane, By: aim.ByPocketShare})
			i = len(all) - 1
		}
		all[i].Balls = append(all[i].Balls, RankedBall{AimedBall: t, At: at})
		if t.By == a.By {
			all[i].By = a.By
		}
	}
	all = slices.DeleteFunc(all, func(r RankedBalls) bool { return len(r.Balls) < 2 })
	for i := range all {
		r := &all[i]
		for k := range r.Balls {
			r.Balls[k].Share = r.Balls[k].Best.Of(r.By)
		}
		sort.SliceStable(r.Balls, func(i, j int) bool { return r.Balls[i].Share.Hits > r.Balls[j].Share.Hits })
		for k := range r.Balls {
			r.Balls[k].Pair = r.Balls[k].Best.Against(r.Balls[0].Best, r.By)
		}
	}
	return all
}

func (t AimedBall) lineObject(l aim.Line) report.Object {
	board, distance := math.NaN(), math.NaN()
	if breakpoint := l.Shot.Events.Breakpoint; breakpoint != nil {
		board, distance = breakpoint.Board, report.Foot.In(breakpoint.Distance)
	}
	return report.ObjectOf(
		"feet_board", t.feet(l), "laydown", l.Release.Laydown, "angle_deg", report.Degree.In(l.Release.Angle), "arrows_board", l.Arrows,
		"speed_mph", report.MPH.In(l.Release.Speed), "axis_rotation_deg", report.Degree.In(l.Release.AxisRotation),
		shareObject("pocket", shareOf(l.Pocket)), shareObject("good", shareOf(l.Good)), shareObject("strike", shareOf(l.Strikes)),
		shareObject("gutter", shareOf(l.Gutter)), "entry_board", l.Shot.EntryBoard(), "entry_angle_deg", report.Degree.In(l.Shot.EntryAngle()), "hit", t.hitOf(l),
		"breakpoint_board", board, "breakpoint_ft", distance,
	)
}

// feet is the board under the sliding foot on a line.
func (t AimedBall) feet(l aim.Line) float64 { return l.Release.Laydown + t.FootToBall }

// LineText is a line in words, as "feet 29.0, laydown 22.0, arrows 14.0".
func (t AimedBall) LineText(l aim.Line) string {
	return thrown.Shot{Release: l.Release, FootToBall: t.FootToBall}.LineText()
}

// hitOf is where a line meets the pins, nil if it does not.
func (t AimedBall) hitOf(l aim.Line) any {
	if l.Shot.Events.Pins != nil {
		return string(physics.HitAt(l.Shot.EntryBoard(), t.Pocket))
	}
	return nil
}

func roomObject(r aim.Room) report.Object {
	return report.ObjectOf(
		"left_boards", r.Left, "right_boards", r.Right, "slower_mph", report.MPH.In(r.Slower), "faster_mph", report.MPH.In(r.Faster),
		"less_rpm", report.RPM.In(r.Less), "more_rpm", report.RPM.In(r.More),
	)
}

// object is a ball: with a line, the lines and the map, of which good_share[i][j]
// belongs to laydown[i] and arrows_board[j]; without, how near it comes.
func (a *Aim) object(t AimedBall, m aim.Map) report.Object {
	by, lines := a.By, report.List{}
	var best, own, room, mapped, nearest report.Object
	if t.None != nil {
		nearest = report.ObjectOf("board", t.None.Nearest, "laydown", t.None.Laydown, "arrows_board", t.None.Arrows)
	} else {
		by, best, room, lines = t.By, t.lineObject(t.Best), roomObject(t.Room), report.Each(t.RunnersUp, t.lineObject)
		if t.Own != nil {
			own = t.lineObject(*t.Own)
		}
		mapped = report.ObjectOf("laydown", m.Laydown, "arrows_board", m.Arrows, "good_share", m.Good, "pocket_share", m.Pocket)
		if t.By == aim.ByStrikeShare {
			mapped = mapped.With("strike_share", m.Strikes)
		}
	}
	return report.ObjectOf(
		t.Player.object(), "by", by, "best", best, "own", own, "room", room,
		"lines", lines, "map", mapped, "on_edge", report.Texts(t.edgeTexts()), "nearest", nearest,
	)
}

// WriteJSON writes all as JSON.
func (a *Aim) WriteJSON(to io.Writer) error {
	aims, maps := report.List{}, a.Maps()
	for i, t := range a.List {
		aims = append(aims, a.object(t, maps[i]))
	}
	ranking := report.Each(a.Ranking(), func(r RankedBalls) report.Object {
		return report.ObjectOf("bowler", r.Bowler, "lane", r.Lane, "by", r.By, "balls", report.Each(r.Balls, func(b RankedBall) report.Object {
			return report.ObjectOf(
				"ball", b.Ball, shareObject("", shareOf(b.Share)),
				"behind_best", b.Pair.Difference(), "behind_best_interval", ends(b.Pair.Interval()), "significant", b.Pair.Significant(),
			)
		}))
	})
	return report.WriteResult(to, a.Warnings, report.ObjectOf("aims", aims, "ranking", ranking, "assumed_sets", a.Tried.object())...)
}

type mapPoint struct {
	player                        *Player
	laydown, arrows, good, pocket float64
}

func mapColumns() report.Columns[mapPoint] {
	return append(playerColumns(func(m mapPoint) Player { return *m.player }),
		report.Number("laydown", "", "Board of the laydown", report.Board, func(m mapPoint) float64 { return m.laydown }),
		report.Number("arrows_board", "", "Board at the arrows", report.Board, func(m mapPoint) float64 { return m.arrows }),
		report.Number("good_share", "", "Share in the pocket at a good angle", report.Ratio, func(m mapPoint) float64 { return m.good }),
		report.Number("pocket_share", "", "Share in the pocket", report.Ratio, func(m mapPoint) float64 { return m.pocket }),
	)
}

// Rows has the maps, a row for each line.
func (a *Aim) Rows() report.Rows {
	var list []mapPoint
	for n, m := range a.Maps() {
		for i, laydown := range m.Laydown {
			for j, arrows := range m.Arrows {
				list = append(list, mapPoint{&a.List[n].Player, laydown, arrows, m.Good[i][j], m.Pocket[i][j]})
			}
		}
	}
	return report.RowsOf(mapColumns(), slices.Values(list))
}

// leastMapped is the least share that a map is kept for.
const leastMapped = 0.02

// Maps are the maps, all of them cut to where one of them has a share of two of a
// hundred, and two boards around.
func (a *Aim) Maps() []aim.Map {
	const around = 2.0
	nothing := physics.Window{Min: math.Inf(1), Max: math.Inf(-1)}
	laydown, arrows := nothing, nothing
	extend := func(w *physics.Window, board float64) {
		*w = physics.Window{Min: min(w.Min, board-around), Max: max(w.Max, board+around)}
	}
	for _, t := range a.List {
		for i, row := range t.Map.Of(t.By) {
			for j, share := range row {
				if share >= leastMapped {
					extend(&laydown, t.Map.Laydown[i])
					extend(&arrows, t.Map.Arrows[j])
				}
			}
		}
	}
	list := make([]aim.Map, len(a.List))
	for n, t := range a.List {
		list[n] = t.Map.Within(laydown, arrows)
	}
	return list
}
