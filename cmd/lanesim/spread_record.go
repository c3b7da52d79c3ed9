package main

import (
	"encoding/csv"
	"io"
	"strconv"

	"lanesim/physics"
	"lanesim/studies"
)

// quantilesRecord holds the quantiles of a distribution, by percent.
type quantilesRecord struct {
	P5  number `json:"p5"`
	P25 number `json:"p25"`
	P50 number `json:"p50"`
	P75 number `json:"p75"`
	P95 number `json:"p95"`
}

// distributionRecord is how a quantity is spread, as it is printed.
type distributionRecord struct {
	Mean      number          `json:"mean"`
	SD        number          `json:"sd"`
	Quantiles quantilesRecord `json:"quantiles"`
}

func recordDistribution(d studies.Distribution, in func(float64) float64) distributionRecord {
	q := func(i int) number { return number(in(d.Quantiles[i])) }
	return distributionRecord{number(in(d.Mean)), number(in(d.SD)), quantilesRecord{q(0), q(1), q(2), q(3), q(4)}}
}

type estimateRecord struct {
	Value number `json:"value"`
	Error number `json:"standard_error"`
}

func recordEstimate(e studies.Estimate) estimateRecord {
	return estimateRecord{number(e.Value), number(e.Error)}
}

// missRecord is what a deviation costs, as it is printed.
type missRecord struct {
	Minus  number         `json:"minus_sigma_boards"`
	Plus   number         `json:"plus_sigma_boards"`
	Board  estimateRecord `json:"entry_board_explained"`
	Pocket estimateRecord `json:"pocket_explained"`
	Gain   *gainRecord    `json:"pocket_share_without"`
	Sobol  *sobolRecord   `json:"sobol"`
}

// gainRecord compares the pocket share without a deviation with that with it.
type gainRecord struct {
	Shots    int       `json:"shots"`
	Share    number    `json:"pocket_share"`
	Gain     number    `json:"gain"`
	Interval [2]number `json:"gain_interval"`
}

type sobolRecord struct {
	BoardFirst  estimateRecord `json:"entry_board_first"`
	BoardTotal  estimateRecord `json:"entry_board_total"`
	PocketFirst estimateRecord `json:"pocket_first"`
	PocketTotal estimateRecord `json:"pocket_total"`
}

func recordInterval(i studies.Interval) [2]number { return [2]number{number(i.Low), number(i.High)} }

func recordMiss(m studies.Miss) *missRecord {
	r := &missRecord{Minus: number(m.Minus), Plus: number(m.Plus), Board: recordEstimate(m.Board), Pocket: recordEstimate(m.Pocket)}
	if n := m.Without.Of(); n > 0 {
		r.Gain = &gainRecord{n, number(withoutShare(m.Without)), number(m.Without.Difference()), recordInterval(m.Without.Interval())}
	}
	if x := m.Indices; x != nil {
		r.Sobol = &sobolRecord{recordEstimate(x.BoardFirst), recordEstimate(x.BoardTotal), recordEstimate(x.PocketFirst), recordEstimate(x.PocketTotal)}
	}
	return r
}

// withoutShare is the share of hits in way b.
func withoutShare(p studies.Paired) float64 {
	return studies.Count{Hits: p.Both + p.OnlyB, Of: p.Of()}.Share()
}

// sensitivityRecord holds what each deviation costs.
type sensitivityRecord struct {
	Laydown      *missRecord `json:"laydown"`
	Angle        *missRecord `json:"angle"`
	Speed        *missRecord `json:"speed"`
	RevRate      *missRecord `json:"rev_rate"`
	AxisRotation *missRecord `json:"axis_rotation"`
	AxisTilt     *missRecord `json:"axis_tilt"`
	Phase        *missRecord `json:"phase"`
}

func recordMisses(list []studies.Miss) sensitivityRecord {
	var r sensitivityRecord
	to := [...]**missRecord{&r.Laydown, &r.Angle, &r.Speed, &r.RevRate, &r.AxisRotation, &r.AxisTilt, &r.Phase}
	for _, m := range list {
		*to[m.Of] = recordMiss(m)
	}
	return r
}

// scatteredRecord is what became of one bowler, ball and lane.
type scatteredRecord struct {
	Bowler        string                 `json:"bowler"`
	Ball          string                 `json:"ball"`
	Lane          string                 `json:"lane"`
	Level         *string                `json:"assumed_level"`
	Laydown       number                 `json:"laydown"`
	Angle         number                 `json:"angle_deg"`
	LineBoard     number                 `json:"line_entry_board"`
	Shots         int                    `json:"shots"`
	Pocket        number                 `json:"pocket_share"`
	PocketWithin  [2]number              `json:"pocket_interval"`
	Good          number                 `json:"good_angle_share"`
	GoodWithin    [2]number              `json:"good_angle_interval"`
	EntryBoard    distributionRecord     `json:"entry_board"`
	EntryAngle    distributionRecord     `json:"entry_angle_deg"`
	Ends          map[physics.Status]int `json:"ends"`
	Sensitivity   sensitivityRecord      `json:"sensitivity"`
	SobolRowsUsed int                    `json:"sobol_rows"`
}

func (w *spreadWork) record(i int) scatteredRecord {
	t, s := w.players[i], w.result.Setups[i]
	r := scatteredRecord{
		Bowler: t.bowler, Ball: t.ball, Lane: t.lane,
		Laydown: number(t.setup.Release.Laydown), Angle: number(degrees(t.setup.Release.Angle)), LineBoard: number(s.Line.EntryBoard),
		Shots: w.result.Shots, Pocket: number(s.Pocket.Share()), PocketWithin: recordInterval(s.PocketInterval),
		Good: number(s.GoodAngle.Share()), GoodWithin: recordInterval(s.GoodAngleInterval),
		EntryBoard: recordDistribution(s.EntryBoard, same), EntryAngle: recordDistribution(s.EntryAngle, degrees),
		Ends: s.Ends, Sensitivity: recordMisses(s.Misses), SobolRowsUsed: s.SobolRows,
	}
	if t.level != "" {
		r.Level = &t.level
	}
	return r
}

// differenceRecord compares two pocket shares, b − a.
type differenceRecord struct {
	Bowler      string    `json:"bowler"`
	BallA       string    `json:"ball_a"`
	LaneA       string    `json:"lane_a"`
	BallB       string    `json:"ball_b"`
	LaneB       string    `json:"lane_b"`
	Difference  number    `json:"pocket_share_difference"`
	Interval    [2]number `json:"difference_interval"`
	OnlyA       int       `json:"only_a"`
	OnlyB       int       `json:"only_b"`
	Significant bool      `json:"significant"`
}

// encode prints the spread as JSON.
func (w *spreadWork) encode() ([]byte, error) {
	deliveries, differences := []scatteredRecord{}, []differenceRecord{}
	for i := range w.result.Setups {
		deliveries = append(deliveries, w.record(i))
	}
	for _, d := range w.result.Differences {
		a, b := w.players[d.A], w.players[d.B]
		differences = append(differences, differenceRecord{a.bowler, a.ball, a.lane, b.ball, b.lane,
			number(d.Difference()), recordInterval(d.Interval()), d.OnlyA, d.OnlyB, d.Significant()})
	}
	members := []resultMember{{"seed", w.study.Seed}, {"deliveries", deliveries}, {"differences", differences}}
	if w.carry != nil {
		atPins, err := w.carry.record(w)
		if err != nil {
			return nil, err
		}
		members = append(members, resultMember{"carry", atPins})
	}
	return encodeLines(w.warnings, members)
}

// writeCSV prints a row for each delivery: its deviations from the line and what
// became of it. What does not exist is an empty cell.
func (w *spreadWork) writeCSV(to io.Writer) error {
	c := csv.NewWriter(to)
	header := []string{"bowler", "ball", "lane", "delivery", "laydown_off", "angle_off_deg", "speed_off_mph", "rev_rate_off_rpm",
		"axis_rotation_off_deg", "axis_tilt_off_deg", "phase_off_deg", "status", "entry_board", "entry_angle_deg", "pocket", "good_angle"}
	if err := c.Write(header); err != nil {
		return err
	}
	cell := func(v float64) string { return csvCell(number(v)) }
	for i, s := range w.result.Setups {
		t := w.players[i]
		line := t.setup.Release
		deliverer, err := t.setup.Repeatability.Deliverer(line)
		if err != nil {
			return err
		}
		for k, one := range s.Each {
			r := deliverer.Delivery(studies.DrawDeviates(w.study.Seed, uint64(k)))
			err := c.Write([]string{t.bowler, t.ball, t.lane, strconv.Itoa(k + 1),
				cell(r.Laydown - line.Laydown), cell(degrees(r.Angle - line.Angle)), cell(milesPerHour(r.Speed - line.Speed)),
				cell(revsPerMinute(r.RevRate - line.RevRate)), cell(degrees(r.AxisRotation - line.AxisRotation)), cell(degrees(r.AxisTilt - line.AxisTilt)), cell(degrees(r.Phase - line.Phase)),
				string(one.Status()), cell(one.EntryBoard), cell(degrees(one.EntryAngle)), strconv.FormatBool(one.Pocket), strconv.FormatBool(one.GoodAngle)})
			if err != nil {
				return err
			}
		}
	}
	c.Flush()
	return c.Error()
}
