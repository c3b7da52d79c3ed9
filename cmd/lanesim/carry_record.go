package main

import (
	"encoding/csv"
	"io"
	"strconv"

	"lanesim/pins"
	"lanesim/report"
	"lanesim/studies/carry"
)

// ballName stands for the ball among what touches a pin.
const ballName = "ball"

// record is what became of one shot's racks, as it is printed.
func (w *carryWork) record(i int) report.Object {
	t, r := w.players[i], w.results[i]
	strikes := r.Tally.Strikes()
	var standing any
	if !w.fullRack(i) {
		standing = w.standing[i].String()
	}
	leaves := report.List{}
	for _, l := range r.Tally.Commonest(1 << pins.Count) {
		leaves = append(leaves, report.Object{{Key: "pins", Value: l.String()}, {Key: "share", Value: r.Tally.ShareOf(r.Tally.Leaves[l]).Share}, {Key: "split", Value: l.Split()}})
	}
	var strikeMap any
	if i < len(w.maps) {
		m := w.maps[i]
		angles := make([]float64, len(m.Angles))
		for j, a := range m.Angles {
			angles[j] = report.Degree.In(a)
		}
		strikeMap = report.Object{{Key: "board", Value: m.Boards}, {Key: "angle_deg", Value: angles}, {Key: "strike_share", Value: m.Strikes},
			{Key: "board_sd", Value: m.BoardScatter}, {Key: "angle_sd_deg", Value: report.Degree.In(m.AngleScatter)}}
	}
	return report.Object{
		{Key: "bowler", Value: t.bowler}, {Key: "ball", Value: t.ball}, {Key: "lane", Value: t.lane},
		{Key: "weight_lb", Value: report.Pound.In(t.setup.Ball.Mass)}, {Key: "standing", Value: standing},
		{Key: "entry_board", Value: r.Entry.Board}, {Key: "entry_angle_deg", Value: report.Degree.In(r.Entry.Heading)}, {Key: "hit", Value: string(r.Hit)},
		{Key: "racks", Value: r.Tally.Racks}, {Key: "not_at_pins", Value: r.Missed},
		{Key: "strike_share", Value: strikes.Share}, {Key: "strike_interval", Value: []float64{strikes.Low, strikes.High}},
		{Key: "pins_down_mean", Value: r.Tally.Down(w.full(i))}, {Key: "split_share", Value: r.Tally.Splits().Share}, {Key: "leaves", Value: leaves},
		{Key: "deflection_deg", Value: report.Degree.In(r.Deflection())}, {Key: "exit_board", Value: r.Tally.Exit()}, {Key: "first_hits", Value: firstHits(r)},
		{Key: "map", Value: strikeMap},
	}
}

// full is the leave of which pins fall.
func (w *carryWork) full(i int) pins.Leave {
	if l := w.standing[i]; l != 0 {
		return l
	}
	return pins.All
}

func (w *carryWork) fullRack(i int) bool { return w.full(i) == pins.All }

// firstHits tells for each pin, of the racks in which it was touched, what was first.
func firstHits(r carry.Result) report.Object {
	all := report.Object{}
	for i, by := range r.Tally.First {
		sum := 0
		for _, n := range by {
			sum += n
		}
		if sum == 0 {
			continue
		}
		one := report.Object{}
		for k, n := range by {
			if n == 0 {
				continue
			}
			name := ballName
			if k > 0 {
				name = strconv.Itoa(k)
			}
			one = append(one, report.Member{Key: name, Value: float64(n) / float64(sum)})
		}
		all = append(all, report.Member{Key: strconv.Itoa(i + 1), Value: one})
	}
	return all
}

// encode prints the racks as JSON.
func (w *carryWork) encode(to io.Writer) error {
	deliveries := report.Lines{}
	for i := range w.results {
		deliveries = append(deliveries, w.record(i))
	}
	return report.WriteResult(to, w.warnings, report.Member{Key: "seed", Value: w.studies[0].Seed}, report.Member{Key: "scatter", Value: w.scatter},
		report.Member{Key: "deliveries", Value: deliveries}, report.Member{Key: "assumed", Value: w.assumed})
}

// encodeCSV prints a row for each leave, strikes first.
func (w *carryWork) encodeCSV(to io.Writer) error {
	c := csv.NewWriter(to)
	if err := c.Write([]string{"bowler", "ball", "lane", "weight_lb", "standing", "entry_board", "entry_angle_deg", "hit", "racks", "leave", "share", "share_low", "share_high", "split"}); err != nil {
		return err
	}
	for i, r := range w.results {
		t := w.players[i]
		for _, l := range append([]pins.Leave{0}, r.Tally.Commonest(1<<pins.Count)...) {
			share := r.Tally.ShareOf(r.Tally.Leaves[l])
			if err := c.Write([]string{t.bowler, t.ball, t.lane, report.Exact(report.Pound.In(t.setup.Ball.Mass)), w.full(i).String(),
				report.Exact(r.Entry.Board), report.Exact(report.Degree.In(r.Entry.Heading)), string(r.Hit), strconv.Itoa(r.Tally.Racks),
				l.String(), report.Exact(share.Share), report.Exact(share.Low), report.Exact(share.High), strconv.FormatBool(l.Split())}); err != nil {
				return err
			}
		}
	}
	c.Flush()
	return c.Error()
}
