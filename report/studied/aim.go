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

// Aim has the lines found for balls of bowlers on lanes.
type Aim struct {
	Title    string
	Warnings []string
	Players  []Player // all, also those missing in List after an interrupt
	List     []AimedBall
	By       aim.Measure // measure requested for the lines
	Shots    int         // deliveries of each line
	Tried    *Tried      // nil if not requested
}

// AimedBall is a bowler's ball on a lane with its lines.
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

// RankedBall is a ball with its share, compared with the best ball.
type RankedBall struct {
	AimedBall
	At    int // index in the list
	Share studies.Count
	Pair  studies.Paired // with the best ball's deliveries
}

// Ranking ranks the balls of each bowler on each lane if several have a line. They are judged by the
// requested measure unless all were judged by the pocket.
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

// lineColumns returns the columns of lines of a ball.
func (t AimedBall) lineColumns(lines []namedLine) columns {
	shot := shotColumns(func(i int) thrown.Shot { return t.shot(lines[i].Line) }, "feet_board", "arrows_board", "entry_board", "entry_angle_deg", "hit", "breakpoint_board", "breakpoint_distance_ft")
	release := releaseColumns(func(i int) physics.Release { return lines[i].Release })
	return slices.Concat(shot[:1], release.Pick("laydown", "angle_deg"), shot[1:2], release.Pick("speed_mph", "axis_rotation_deg"),
		countColumns("pocket", "pocket", "Share in the pocket", func(i int) studies.Count { return lines[i].Pocket }),
		countColumns("good", "and good angle", "Share in the pocket at a good angle", func(i int) studies.Count { return lines[i].Good }),
		countColumns("strike", "strikes, assumed", "Share of strikes, assumed", func(i int) studies.Count { return lines[i].Strikes }),
		countColumns("gutter", "gutter", "Share in the gutter", func(i int) studies.Count { return lines[i].Gutter }),
		shot[2:])
}

// shot returns the shot of a line.
func (t AimedBall) shot(l aim.Line) thrown.Shot {
	return thrown.Shot{Release: l.Release, FootToBall: t.FootToBall, Shot: l.Shot, Pocket: t.Pocket}
}

// LineText returns a line in words, as "feet 29.0, laydown 22.0, arrows 14.0".
func (t AimedBall) LineText(l aim.Line) string { return t.shot(l).LineText() }

func roomObject(r aim.Room) (o report.Object) {
	for k, room := range AimRooms {
		sides := RoomIn(k, r)
		o = o.With(room.keys[0], sides[0], room.keys[1], sides[1])
	}
	return o
}

// object returns a ball for JSON: the lines and the map, in which good_share[i][j] is for laydown[i] and
// arrows_board[j], or without a line the nearest board.
func (a *Aim) object(t AimedBall, m aim.Map) report.Object {
	by, lines := a.By, report.List{}
	var best, own any
	var room, mapped, nearest report.Object
	if t.None != nil {
		nearest = report.ObjectOf("board", t.None.Nearest, "laydown", t.None.Laydown, "arrows_board", t.None.Arrows)
	} else {
		all := listOf(t.lines(), t.lineColumns(t.lines()))
		by, best, room, lines = t.By, all[0], roomObject(t.Room), all[1:1+len(t.RunnersUp)]
		if t.Own != nil {
			own = all[len(all)-1]
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

func (r RankedBalls) ballColumns() columns {
	return slices.Concat(columns{report.Text("ball", "ball", "Name of the ball", func(i int) string { return r.Balls[i].Ball })},
		countColumns("", "share", "Share by which the balls are ranked", func(i int) studies.Count { return r.Balls[i].Share }),
		meanColumns("behind_best", "behind_best_interval", "behind the best", "That share less the best ball's", report.Point, func(i int) studies.Mean { return differenceOf(r.Balls[i].Pair) }),
		columns{report.Truth("significant", "significant", "Whether chance does not explain the difference", func(i int) bool { return r.Balls[i].Pair.Significant() })})
}

// WriteJSON writes the lines as JSON.
func (a *Aim) WriteJSON(to io.Writer) error {
	aims, maps := report.List{}, a.Maps()
	for i, t := range a.List {
		aims = append(aims, a.object(t, maps[i]))
	}
	ranking := report.Each(a.Ranking(), func(r RankedBalls) report.Object {
		return report.ObjectOf("bowler", r.Bowler, "lane", r.Lane, "by", r.By, "balls", listOf(r.Balls, r.ballColumns()))
	})
	return report.WriteResult(to, a.Warnings, report.ObjectOf("aims", aims, "ranking", ranking, "assumed_sets", a.Tried.object())...)
}

type mapPoint struct {
	player                        *Player
	laydown, arrows, good, pocket float64
}

// Rows returns the maps with a row for each line.
func (a *Aim) Rows() report.Rows {
	var list []mapPoint
	for n, m := range a.Maps() {
		for i, laydown := range m.Laydown {
			for j, arrows := range m.Arrows {
				list = append(list, mapPoint{&a.List[n].Player, laydown, arrows, m.Good[i][j], m.Pocket[i][j]})
			}
		}
	}
	return rowsOf(list, playerColumns(func(i int) Player { return *list[i].player }), columns{
		report.Number("laydown", "laydown", "Board of the laydown", report.Board, func(i int) float64 { return list[i].laydown }),
		report.Number("arrows_board", "arrows", "Board at the arrows", report.Board, func(i int) float64 { return list[i].arrows }),
		report.Number("good_share", "and good angle", "Share in the pocket at a good angle", report.Ratio, func(i int) float64 { return list[i].good }),
		report.Number("pocket_share", "pocket", "Share in the pocket", report.Ratio, func(i int) float64 { return list[i].pocket }),
	})
}

// leastMapped is the least share of lines shown on a map.
const leastMapped = 0.02

// Maps returns the maps, all cut to the range in which one of them has at least leastMapped, with a margin of
// two boards.
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
