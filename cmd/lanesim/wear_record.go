package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"

	"lanesim/studies"
)

// wornBlockRecord is a block as it is printed; shots count from 1.
type wornBlockRecord struct {
	Bowler      string `json:"bowler"`
	Ball        string `json:"ball"`
	From        int    `json:"from_shot"`
	To          int    `json:"to_shot"`
	Deliveries  int    `json:"deliveries"`
	PocketShare number `json:"pocket_share"`
	EntryBoard  number `json:"entry_board_mean"`
}

// stayRecord tells how long a line stays.
type stayRecord struct {
	Bowler   string    `json:"bowler"`
	Ball     string    `json:"ball"`
	Below    number    `json:"below_share"`
	Falls    bool      `json:"falls"`
	Median   number    `json:"median"`
	Interval [2]number `json:"interval"`
}

// moveRecord is what a player could do at the end.
type moveRecord struct {
	Bowler      string `json:"bowler"`
	Ball        string `json:"ball"`
	Before      number `json:"pocket_share_before"`
	After       number `json:"pocket_share_after"`
	FeetBoards  number `json:"feet_boards"`
	ArrowBoards number `json:"arrows_boards"`
	Laydown     number `json:"laydown"`
	Angle       number `json:"angle_deg"`
}

func (w *wornSession) blockRecord(b studies.WornBlock) wornBlockRecord {
	t := w.players[b.Setup]
	return wornBlockRecord{t.bowler, t.ball, b.From + 1, b.To + 1, b.Deliveries, number(b.PocketShare), number(b.EntryBoardMean)}
}

// never is +Inf as it is printed: there is no such shot.
func never(v float64) number {
	if math.IsInf(v, 0) {
		return number(math.NaN())
	}
	return number(v)
}

// encode prints the session as JSON.
func (w *wornSession) encode() ([]byte, error) {
	blocks, stays, moves := []wornBlockRecord{}, []stayRecord{}, []moveRecord{}
	for _, b := range w.result.Blocks {
		blocks = append(blocks, w.blockRecord(b))
	}
	for _, s := range w.result.Stays {
		t := w.players[s.Setup]
		stays = append(stays, stayRecord{t.bowler, t.ball, number(s.Share), !math.IsInf(s.Median, 0) && !math.IsNaN(s.Median), never(s.Median), [2]number{never(s.Interval[0]), never(s.Interval[1])}})
	}
	for _, m := range w.moves {
		t := w.players[m.player]
		moves = append(moves, moveRecord{t.bowler, t.ball, number(m.Before), number(m.After), number(m.Feet), number(m.Arrows),
			number(m.Release.Laydown), number(degrees(m.Release.Angle))})
	}
	o := w.result.Oil
	return encodeLines(w.warnings, []resultMember{
		{"sessions", w.result.Sessions},
		{"blocks", blocks},
		{"stay_shots", stays},
		{"moves", moves},
		{"assumed_sets", w.tried},
		{"oil_mL", struct {
			Start  number `json:"start"`
			Lane   number `json:"lane"`
			Balls  number `json:"balls"`
			Soaked number `json:"soaked"`
		}{number(millilitres(o.Start)), number(millilitres(o.Lane)), number(millilitres(o.Balls)), number(millilitres(o.Soaked))}},
	})
}

// resultMember is a key of a result with its value.
type resultMember struct {
	key   string
	value any
}

// encodeLines prints a result with a line for each of its members.
func encodeLines(warnings []string, members []resultMember) ([]byte, error) {
	if warnings == nil {
		warnings = []string{}
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, "{\"model\":%d", model)
	for _, m := range append([]resultMember{{"warnings", warnings}}, members...) {
		text, err := encodeJSON(m.value)
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(&b, ",\n%q:%s", m.key, text)
	}
	b.WriteString("}\n")
	return b.Bytes(), nil
}

// encodeCSV prints a row for each delivery. What does not exist is an empty cell.
func (w *wornSession) encodeCSV() ([]byte, error) {
	var b bytes.Buffer
	c := csv.NewWriter(&b)
	header := []string{"session", "shot", "bowler", "ball", "status", "pocket", "good_angle", "entry_board", "entry_angle_deg",
		"laydown", "angle_deg", "speed_mph", "rev_rate_rpm", "axis_rotation_deg", "axis_tilt_deg", "oil_taken_mL"}
	if err := c.Write(header); err != nil {
		return nil, err
	}
	cell := func(v float64) string { return csvCell(number(v)) }
	for i, session := range w.result.Deliveries {
		for k, d := range session {
			t, r := w.players[d.Setup], d.Release
			err := c.Write([]string{
				strconv.Itoa(i + 1), strconv.Itoa(k + 1 - w.study.Practice), t.bowler, t.ball, string(d.Status),
				strconv.FormatBool(d.Pocket), strconv.FormatBool(d.GoodAngle), cell(d.EntryBoard), cell(degrees(d.EntryAngle)),
				cell(r.Laydown), cell(degrees(r.Angle)), cell(milesPerHour(r.Speed)), cell(revsPerMinute(r.RevRate)),
				cell(degrees(r.AxisRotation)), cell(degrees(r.AxisTilt)), cell(millilitres(-d.Oil.Lane)),
			})
			if err != nil {
				return nil, err
			}
		}
	}
	c.Flush()
	return b.Bytes(), c.Error()
}
