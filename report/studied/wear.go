package studied

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/wear"
)

// Wear has the results of sessions on a wearing lane.
type Wear struct {
	Title    string
	Warnings []string
	Players  []Player
	Study    wear.Study
	Result   wear.Result
	Moves    []PlayerMove // for each player, if requested
	Tried    *Tried       // nil if not requested

	// Lines are shots of the first players on their lines before each of the marked deliveries, for a
	// picture.
	Lines [][]physics.Shot
}

// PlayerMove is the best move of a player at the end of a session.
type PlayerMove struct {
	wear.MoveResult
	Player int
}

// Used lists the players who bowl in the session.
func (w *Wear) Used() []int {
	var list []int
	for i := range w.Players {
		if slices.Contains(w.Study.Order, i) {
			list = append(list, i)
		}
	}
	return list
}

func (w *Wear) byStrikes() bool { return w.Study.By == aim.ByStrikeShare }

// WriteJSON writes the session as JSON. A stay beyond the session is null.
func (w *Wear) WriteJSON(to io.Writer) error {
	blocks := report.Each(w.Result.Blocks, func(b wear.Block) report.Object {
		t := w.Players[b.Setup]
		o := blockObject(t.Bowler, t.Ball, b)
		if w.byStrikes() {
			o = o.With(shareObject("strike", b.StrikeShare))
		}
		return o
	})
	stays := report.Each(w.Result.Stays, func(s wear.Stay) report.Object {
		t := w.Players[s.Setup]
		return report.ObjectOf("bowler", t.Bowler, "ball", t.Ball, "below_share", s.Share,
			"falls", !math.IsInf(s.Median, 0) && !math.IsNaN(s.Median), "median", s.Median, "interval", ends(s.Interval))
	})
	moves := report.Each(w.Moves, func(m PlayerMove) report.Object {
		t := w.Players[m.Player]
		return report.ObjectOf("bowler", t.Bowler, "ball", t.Ball, meanObject("pocket_share_before", "pocket_interval_before", shareOf(m.Before)),
			meanObject("pocket_share_after", "pocket_interval_after", shareOf(m.After)), "feet_boards", m.Feet, "arrows_boards", m.Arrows, "laydown", m.Release.Laydown, "angle_deg", report.Degree.In(m.Release.Angle))
	})
	return report.WriteResult(to, w.Warnings,
		report.ObjectOf("sessions", w.Result.Sessions, "blocks", blocks, "stay_shots", stays, "moves", moves,
			"assumed_sets", w.Tried.object(),
			"oil_mL", oilObject(w.Result.Oil))...)
}

func blockObject(bowler, ball string, b wear.Block) report.Object {
	return report.ObjectOf("bowler", bowler, "ball", ball, "from_shot", b.From+1, "to_shot", b.To+1, "deliveries", b.Pocket.Of,
		shareObject("pocket", shareOf(b.Pocket)), "entry_board_mean", b.EntryBoardMean)
}

func oilObject(o wear.OilAccount) report.Object {
	return report.ObjectOf("start", report.Millilitre.In(o.Start), "lane", report.Millilitre.In(o.Lane), "balls", report.Millilitre.In(o.Balls), "soaked", report.Millilitre.In(o.Soaked))
}

type worn struct {
	session, shot int // counted from 1; practice has numbers up to 0
	player        *Player
	wear.DeliveryResult
}

// Rows returns a row for each delivery.
func (w *Wear) Rows() report.Rows {
	var list []worn
	for i, session := range w.Result.Deliveries {
		for k, d := range session {
			list = append(list, worn{i + 1, k + 1 - w.Study.Practice, &w.Players[d.Setup], d})
		}
	}
	return rowsOf(list, columns{
		report.Count("session", "session", "Number of the session, from 1", func(i int) int { return list[i].session }),
		report.Count("shot", "shot", "Number of the shot; those of practice are up to 0", func(i int) int { return list[i].shot }),
	}, playerColumns(func(i int) Player { return *list[i].player })[:2],
		deliveryColumns(func(i int) wear.DeliveryResult { return list[i].DeliveryResult }).Pick("status", "pocket", "good_angle", "entry_board", "entry_angle_deg"),
		releaseColumns(func(i int) physics.Release { return list[i].Release })[:6],
		columns{report.Number("oil_taken_mL", "oil taken", "Oil that the lane lost", report.Millilitre, func(i int) float64 { return -list[i].Oil.Lane })})
}

// Document returns the session for people.
func (w *Wear) Document() report.Document {
	doc := report.Document{Title: w.Title}
	names := make([]string, len(w.Players))
	for i, t := range w.Players {
		names[i] = t.Name(w.Players)
	}
	used := w.Used()

	counted := len(w.Study.Order) - w.Study.Practice
	doc.HeadOf("", "pocket share", fmt.Sprintf(" over %s of %s", report.Counting(w.Result.Sessions, "session"), report.Counting(counted, "delivery")))
	header := []string{"shots"}
	for _, i := range used {
		header = append(header, names[i], "entry board")
		if w.byStrikes() {
			header = append(header, "strikes, assumed")
		}
	}
	blocks := report.Grid{Left: []bool{true}, Rows: [][]string{header}}
	var pockets, strikeShares []studies.Mean
	for from := 0; from < counted; from += w.block() {
		row := []string{fmt.Sprintf("%d–%d", from+1, min(from+w.block(), counted))}
		for _, i := range used {
			share, board, strikes := report.Absent, report.Absent, report.Absent
			for _, k := range w.Result.Blocks {
				if k.From == from && k.Setup == i {
					pockets, strikeShares = append(pockets, shareOf(k.Pocket)), append(strikeShares, k.StrikeShare)
					share, board, strikes = report.Percent(k.Pocket.Share(), 0), w.boardWords(k), report.Percent(k.StrikeShare.Value, 0)
				}
			}
			row = append(row, share, board)
			if w.byStrikes() {
				row = append(row, strikes)
			}
		}
		blocks.Rows = append(blocks.Rows, row)
	}
	doc.Table(blocks)
	noteGoodTo(&doc, "pocket shares", pockets)
	if w.byStrikes() {
		noteGoodTo(&doc, "shares of strikes", strikeShares)
	}
	doc.SayWrapped(thrown.HitWords(used, func(i int) physics.Window { return thrown.Pocket(w.Study.Settings, w.Players[i].Setup.Release) }))
	if w.byStrikes() {
		doc.SayWrapped(TableWords("Strikes"))
	}

	doc.SayWrapped(w.gutterWords())

	doc.Head("how long each line stays")
	stays := report.Grid{Left: []bool{true}, Rows: [][]string{{"", "below", "by shot", "95 % interval"}}}
	for _, s := range w.Result.Stays {
		if slices.Contains(used, s.Setup) {
			stays.Rows = append(stays.Rows, []string{names[s.Setup], belowShare(s.Share), shotNumber(s.Median), shotRange(s.Interval)})
		}
	}
	doc.Table(stays)
	if w.Result.Sessions == 1 {
		doc.Note("one session leaves this to chance")
		doc.Hint(": --sessions plays more")
	}

	if len(w.Moves) > 0 {
		doc.Head("moves at the end of the first session")
		moves := report.Grid{Left: []bool{true}, Rows: [][]string{{"", "stays put", "moved", "feet, boards", "arrows, boards"}}}
		for _, m := range w.Moves {
			row := []string{names[m.Player], CountText(m.Before), report.Absent, report.Absent, report.Absent}
			if hand := w.Players[m.Player].Setup.Release.Hand; m.Found {
				row = []string{names[m.Player], CountText(m.Before), CountText(m.After), sideWords(hand, m.Feet), sideWords(hand, m.Arrows)}
			}
			moves.Rows = append(moves.Rows, row)
		}
		doc.Table(moves)
		for _, line := range w.moveWords(names) {
			doc.Note(line)
		}
	}

	doc.Add(w.Tried.Words())
	if w.byStrikes() && w.Tried != nil {
		doc.SayWrapped("The constants of the pins keep their values in all sets: how long a line stays goes by the pocket, in which they have no part.")
		doc.Join()
	}

	o := w.Result.Oil
	doc.Head("oil")
	milli := report.Millilitre.Digits(2)
	doc.Table(report.Grid{Left: []bool{true}, Heads: -1, Rows: [][]string{
		{"on the lane at first, mL", milli.Show(o.Start)},
		{"on the lane at the end, mL", milli.Show(o.Lane)},
		{"wiped off the balls, µL", report.Microlitre.Show(o.Balls)},
		{"soaked in, µL", report.Microlitre.Show(o.Soaked)},
	}})
	return doc
}

// boardWords describes the mean entry board of a block and its hit.
func (w *Wear) boardWords(b wear.Block) string {
	if math.IsNaN(b.EntryBoardMean) {
		return report.Absent
	}
	hit := physics.HitAt(b.EntryBoardMean, thrown.Pocket(w.Study.Settings, w.Players[b.Setup].Setup.Release))
	return report.Board.Show(b.EntryBoardMean) + " " + string(hit)
}

func (w *Wear) gutterWords() string {
	var lost studies.Count
	for _, session := range w.Result.Deliveries {
		for _, d := range session {
			if lost.Of++; d.Status == physics.Gutter {
				lost.Hits++
			}
		}
	}
	return inGutter(lost)
}

// leastLost is the least share of deliveries in the gutter that is reported.
const leastLost = 0.01

// inGutter warns of deliveries that end in the gutter; empty if there are few.
func inGutter(lost studies.Count) string {
	if lost.Of == 0 || lost.Share() < leastLost {
		return ""
	}
	return fmt.Sprintf("%s of the deliveries end in the gutter; they count as misses.", CountText(lost))
}

// belowShare formats the share below which a line no longer stays; a line that never hit in its first
// deliveries has none.
func belowShare(v float64) string {
	if v == 0 {
		return report.Absent
	}
	return report.Share(v)
}

func shotRange(i studies.Interval) string {
	if math.IsNaN(i.Low) {
		return report.Absent
	}
	return shotNumber(i.Low) + " to " + shotNumber(i.High)
}

func shotNumber(v float64) string {
	if math.IsInf(v, 0) {
		return "never"
	}
	return report.Fixed(v, 0)
}

// moveWords describes, for each bowler, which ball is significantly better than another after the move, and
// which lines no move improves significantly.
func (w *Wear) moveWords(names []string) []string {
	var lines []string
	for i, m := range w.Moves {
		t := w.Players[m.Player]
		if m.Found && !m.Gain.Significant() {
			lines = append(lines, names[m.Player]+": no move brings back more than chance explains.")
		}
		for _, n := range w.Moves[i+1:] {
			other := w.Players[n.Player]
			if other.Bowler != t.Bowler || !m.Found || !n.Found {
				continue
			}
			better, worse := n, m
			if m.After.Hits > n.After.Hits {
				better, worse = m, n
			}
			if worse.Against(better.MoveResult).Significant() {
				lines = append(lines, fmt.Sprintf("%s: %s serves better now than %s, %s against %s.",
					t.Bowler, w.Players[better.Player].Ball, w.Players[worse.Player].Ball, CountText(better.After), CountText(worse.After)))
			}
		}
	}
	return lines
}

// Note returns the sentence under a picture's title.
func (w *Wear) Note() string {
	var parts []string
	for _, s := range w.Result.Stays {
		name := w.Players[s.Setup].Name(w.Players)
		if math.IsInf(s.Median, 0) {
			parts = append(parts, fmt.Sprintf("%s stays above %s to the end", name, report.Share(s.Share)))
		} else if !math.IsNaN(s.Median) {
			parts = append(parts, fmt.Sprintf("%s falls below %s by shot %s", name, report.Share(s.Share), report.Fixed(s.Median, 0)))
		}
	}
	sessions := "one session"
	if w.Result.Sessions > 1 {
		sessions = fmt.Sprintf("%d sessions", w.Result.Sessions)
	}
	return fmt.Sprintf("Pocket share over %s: %s.", sessions, strings.Join(parts, "; "))
}

func (w *Wear) block() int { return cmp.Or(w.Study.Block, wear.DefaultBlock) }
