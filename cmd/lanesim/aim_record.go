package main

import (
	"bytes"
	"encoding/csv"
	"math"

	"lanesim/studies"
)

// lineRecord is a line as it is printed.
type lineRecord struct {
	Laydown         number    `json:"laydown"`
	Angle           number    `json:"angle_deg"`
	Arrows          number    `json:"arrows_board"`
	Speed           number    `json:"speed_mph"`
	AxisRotation    number    `json:"axis_rotation_deg"`
	PocketShare     number    `json:"pocket_share"`
	PocketInterval  [2]number `json:"pocket_interval"`
	GoodShare       number    `json:"good_share"`
	GoodInterval    [2]number `json:"good_interval"`
	EntryBoard      *number   `json:"entry_board"`
	EntryAngle      *number   `json:"entry_angle_deg"`
	BreakpointBoard *number   `json:"breakpoint_board"`
	Breakpoint      *number   `json:"breakpoint_ft"`
}

func bothEnds(i studies.Interval) [2]number { return [2]number{number(i.Low), number(i.High)} }

func recordLine(l studies.Line) *lineRecord {
	return &lineRecord{
		Laydown: number(l.Release.Laydown), Angle: number(degrees(l.Release.Angle)), Arrows: number(l.Arrows),
		Speed: number(milesPerHour(l.Release.Speed)), AxisRotation: number(degrees(l.Release.AxisRotation)),
		PocketShare: number(l.Pocket.Share()), PocketInterval: bothEnds(studies.WilsonInterval(l.Pocket)),
		GoodShare: number(l.Good.Share()), GoodInterval: bothEnds(studies.WilsonInterval(l.Good)),
		EntryBoard: optional(l.Shot.Summary.EntryBoard, same), EntryAngle: optional(l.Shot.Summary.EntryAngle, degrees),
		BreakpointBoard: optional(ofState(l.Shot.Events.Breakpoint, stateBoard), same),
		Breakpoint:      optional(ofState(l.Shot.Events.Breakpoint, stateFeet), same),
	}
}

// roomRecord is the room of the best line as it is printed.
type roomRecord struct {
	Left   number `json:"left_boards"`
	Right  number `json:"right_boards"`
	Slower number `json:"slower_mph"`
	Faster number `json:"faster_mph"`
	Less   number `json:"less_rpm"`
	More   number `json:"more_rpm"`
}

func recordRoom(r studies.Room) *roomRecord {
	return &roomRecord{
		number(r.Left), number(r.Right), number(milesPerHour(r.Slower)), number(milesPerHour(r.Faster)),
		number(revsPerMinute(r.Less)), number(revsPerMinute(r.More)),
	}
}

// mapRecord is the map as it is printed: good_share[i][j] belongs to laydown[i] and
// arrows_board[j].
type mapRecord struct {
	Laydown []number   `json:"laydown"`
	Arrows  []number   `json:"arrows_board"`
	Good    [][]number `json:"good_share"`
	Pocket  [][]number `json:"pocket_share"`
}

// aimRecord is what is found for a bowler's ball on a lane as it is printed.
type aimRecord struct {
	Bowler string              `json:"bowler"`
	Ball   string              `json:"ball"`
	Lane   string              `json:"lane"`
	By     studies.LineMeasure `json:"by"`
	Best   *lineRecord         `json:"best"`
	Own    *lineRecord         `json:"own"`
	Room   *roomRecord         `json:"room"`
	Lines  []*lineRecord       `json:"lines"`
	Map    *mapRecord          `json:"map"`
	Near   *nearestRecord      `json:"nearest"`
}

// nearestRecord tells, where there is no line, how near the ball comes.
type nearestRecord struct {
	Board   number `json:"board"`
	Laydown number `json:"laydown"`
	Arrows  number `json:"arrows_board"`
}

// rankRecord is a ranking as it is printed.
type rankRecord struct {
	Bowler string              `json:"bowler"`
	Lane   string              `json:"lane"`
	By     studies.LineMeasure `json:"by"`
	Balls  []ballRankRecord    `json:"balls"`
}

type ballRankRecord struct {
	Ball        string    `json:"ball"`
	Share       number    `json:"share"`
	Interval    [2]number `json:"interval"`
	Behind      number    `json:"behind_best"`
	BehindRange [2]number `json:"behind_best_interval"`
	Significant bool      `json:"significant"`
}

func numbersOf(list []float64) []number {
	all := make([]number, len(list))
	for i, v := range list {
		all[i] = number(v)
	}
	return all
}

// encode prints all as JSON.
func (a *aiming) encode() ([]byte, error) {
	records, ranks := []aimRecord{}, []rankRecord{}
	maps := a.maps()
	for i, t := range a.list {
		r := aimRecord{Bowler: t.bowler, Ball: t.ball, Lane: t.lane, By: a.by, Lines: []*lineRecord{}}
		if t.none != nil {
			r.Near = &nearestRecord{number(t.none.Nearest), number(t.none.Laydown), number(t.none.Arrows)}
			records = append(records, r)
			continue
		}
		r.By, r.Best, r.Room = t.By, recordLine(t.Best), recordRoom(t.Room)
		for _, l := range t.RunnersUp {
			r.Lines = append(r.Lines, recordLine(l))
		}
		if t.Own != nil {
			r.Own = recordLine(*t.Own)
		}
		m := maps[i]
		r.Map = &mapRecord{Laydown: numbersOf(m.Laydown), Arrows: numbersOf(m.Arrows), Good: [][]number{}, Pocket: [][]number{}}
		for k := range m.Laydown {
			r.Map.Good, r.Map.Pocket = append(r.Map.Good, numbersOf(m.Good[k])), append(r.Map.Pocket, numbersOf(m.Pocket[k]))
		}
		records = append(records, r)
	}
	for _, r := range a.ranking() {
		record := rankRecord{Bowler: r.bowler, Lane: r.lane, By: r.by}
		for _, b := range r.balls {
			record.Balls = append(record.Balls, ballRankRecord{
				Ball: b.ball, Share: number(b.share.Share()), Interval: bothEnds(studies.WilsonInterval(b.share)),
				Behind: number(b.pair.Difference()), BehindRange: bothEnds(b.pair.Interval()), Significant: b.pair.Significant(),
			})
		}
		ranks = append(ranks, record)
	}
	return encodeLines(a.warnings, []resultMember{{"aims", records}, {"ranking", ranks}, {"assumed_sets", a.tried}})
}

// encodeCSV prints the maps, a row for each line.
func (a *aiming) encodeCSV() ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	if err := w.Write([]string{"bowler", "ball", "lane", "laydown", "arrows_board", "good_share", "pocket_share"}); err != nil {
		return nil, err
	}
	cell := func(v float64) string { return csvCell(number(v)) }
	for n, m := range a.maps() {
		t := a.list[n]
		for i, laydown := range m.Laydown {
			for j, arrows := range m.Arrows {
				err := w.Write([]string{t.bowler, t.ball, t.lane, cell(laydown), cell(arrows), cell(m.Good[i][j]), cell(m.Pocket[i][j])})
				if err != nil {
					return nil, err
				}
			}
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// told is the least share that a map is kept for.
const told = 0.02

// maps are the maps, all of them cut to where one of them has a share of two of a
// hundred, and two boards around.
func (a *aiming) maps() []studies.LineMap {
	const around = 2.0
	laydown, arrows := [2]float64{math.Inf(1), math.Inf(-1)}, [2]float64{math.Inf(1), math.Inf(-1)}
	for _, t := range a.list {
		for i, x := range t.Map.Laydown {
			for j, y := range t.Map.Arrows {
				if t.shareOf(i, j) >= told {
					laydown = [2]float64{min(laydown[0], x-around), max(laydown[1], x+around)}
					arrows = [2]float64{min(arrows[0], y-around), max(arrows[1], y+around)}
				}
			}
		}
	}
	list := make([]studies.LineMap, len(a.list))
	for n, t := range a.list {
		m := &list[n]
		for _, y := range t.Map.Arrows {
			if y >= arrows[0] && y <= arrows[1] {
				m.Arrows = append(m.Arrows, y)
			}
		}
		for i, x := range t.Map.Laydown {
			if x < laydown[0] || x > laydown[1] {
				continue
			}
			m.Laydown = append(m.Laydown, x)
			var good, pocket []float64
			for j, y := range t.Map.Arrows {
				if y >= arrows[0] && y <= arrows[1] {
					good, pocket = append(good, t.Map.Good[i][j]), append(pocket, t.Map.Pocket[i][j])
				}
			}
			m.Good, m.Pocket = append(m.Good, good), append(m.Pocket, pocket)
		}
	}
	return list
}

// shareOf is a share of the map by the measure by which the ball was judged.
func (t aimed) shareOf(i, j int) float64 {
	if t.By == studies.ByPocketShare {
		return t.Map.Pocket[i][j]
	}
	return t.Map.Good[i][j]
}
