package studied

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"

	"lanesim/pins"
	"lanesim/report"
	"lanesim/studies"
	"lanesim/studies/carry"
)

// Carry is what shots do at the pins.
type Carry struct {
	Title    string
	Warnings []string
	Assumed  []string // values, as the scenario's rack has them
	Players  []Player
	Standing []pins.Leave // of each player; 0 is a full rack
	Studies  []carry.Study
	Results  []carry.Result
	Maps     []carry.Map // of each player, if they were asked for
	Scatter  bool        // whether each rack has a delivery of the bowler's own
}

// ballName stands for the ball among what touches a pin.
const ballName = "ball"

// record is what became of one shot's racks, as it is printed.
func (w *Carry) record(i int) report.Object {
	t, r := w.Players[i], w.Results[i]
	strikes := r.Tally.Strikes()
	var standing any
	if !w.fullRack(i) {
		standing = w.Standing[i].String()
	}
	leaves := report.List{}
	for _, l := range r.Tally.Commonest(1 << pins.Count) {
		leaves = append(leaves, report.ObjectOf("pins", l.String(), "share", r.Tally.ShareOf(r.Tally.Leaves[l]).Share, "split", l.Split()))
	}
	var strikeMap any
	if i < len(w.Maps) {
		m := w.Maps[i]
		angles := make([]float64, len(m.Angles))
		for j, a := range m.Angles {
			angles[j] = report.Degree.In(a)
		}
		strikeMap = report.ObjectOf("board", m.Boards, "angle_deg", angles, "strike_share", m.Strikes,
			"board_sd", m.BoardScatter, "angle_sd_deg", report.Degree.In(m.AngleScatter))
	}
	return report.ObjectOf(
		"bowler", t.Bowler, "ball", t.Ball, "lane", t.Lane,
		"weight_lb", report.Pound.In(t.Setup.Ball.Mass), "standing", standing,
		"feet_board", t.Setup.Release.Laydown+t.FootToBall, "laydown", t.Setup.Release.Laydown, "arrows_board", studies.BoardAtArrows(t.Setup.Release),
		"entry_board", r.Entry.Board, "entry_angle_deg", report.Degree.In(r.Entry.Heading), "hit", string(r.Hit),
		"racks", r.Tally.Racks, "not_at_pins", r.Missed,
		"strike_share", strikes.Share, "strike_interval", []float64{strikes.Low, strikes.High},
		"pins_down_mean", r.Tally.Down(w.full(i)), "split_share", r.Tally.Splits().Share, "leaves", leaves,
		"deflection_deg", report.Degree.In(r.Deflection()), "exit_board", r.Tally.Exit(), "first_hits", firstHits(r),
		"map", strikeMap,
	)
}

// full is the leave of which pins fall.
func (w *Carry) full(i int) pins.Leave {
	if l := w.Standing[i]; l != 0 {
		return l
	}
	return pins.All
}

func (w *Carry) fullRack(i int) bool { return w.full(i) == pins.All }

// firstHits counts for each pin, of the racks in which it was touched, what was first.
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
			one = append(one, report.ObjectOf(name, float64(n)/float64(sum))...)
		}
		all = append(all, report.ObjectOf(strconv.Itoa(i+1), one)...)
	}
	return all
}

// WriteJSON writes the racks as JSON.
func (w *Carry) WriteJSON(to io.Writer) error {
	deliveries := report.Lines{}
	for i := range w.Results {
		deliveries = append(deliveries, w.record(i))
	}
	return report.WriteResult(to, w.Warnings, report.ObjectOf("seed", w.Studies[0].Seed, "scatter", w.Scatter,
		"deliveries", deliveries, "assumed", w.Assumed)...)
}

// WriteCSV writes a row for each leave, strikes first.
func (w *Carry) WriteCSV(to io.Writer) error {
	c := csv.NewWriter(to)
	if err := c.Write([]string{"bowler", "ball", "lane", "weight_lb", "standing", "entry_board", "entry_angle_deg", "hit", "racks", "leave", "share", "share_low", "share_high", "split"}); err != nil {
		return err
	}
	for i, r := range w.Results {
		t := w.Players[i]
		for _, l := range append([]pins.Leave{0}, r.Tally.Commonest(1<<pins.Count)...) {
			share := r.Tally.ShareOf(r.Tally.Leaves[l])
			if err := c.Write([]string{t.Bowler, t.Ball, t.Lane, report.Exact(report.Pound.In(t.Setup.Ball.Mass)), w.full(i).String(),
				report.Exact(r.Entry.Board), report.Exact(report.Degree.In(r.Entry.Heading)), string(r.Hit), strconv.Itoa(r.Tally.Racks),
				l.String(), report.Exact(share.Share), report.Exact(share.Low), report.Exact(share.High), strconv.FormatBool(l.Split())}); err != nil {
				return err
			}
		}
	}
	c.Flush()
	return c.Error()
}

// Outcome says what stands of a shot's rack.
func (w *Carry) Outcome(i int, l pins.Leave) string {
	switch {
	case l == 0 && w.fullRack(i):
		return "a strike"
	case l == 0:
		return "converted"
	}
	return "leaves " + l.String()
}

// Answer says how each shot does at the pins.
func (w *Carry) Answer() []string {
	var list []string
	for i, r := range w.Results {
		share, all := r.Tally.Strikes(), "strikes"
		if !w.fullRack(i) {
			all = "converts"
		}
		words := fmt.Sprintf("%s enters on board %s at %s° (%s) and %s in %s of %s (assumed; 95 %% interval %s to %s)", w.Players[i].Name(w.Players),
			report.Figure(r.Entry.Board), report.Fixed(report.Degree.In(r.Entry.Heading), 2), r.Hit, all, report.Share(share.Share), report.Counting(r.Tally.Racks, "rack"), report.Share(share.Low), report.Share(share.High))
		if most := r.Tally.Commonest(1); len(most) > 0 {
			words += "; the commonest leave is " + most[0].String()
		}
		list = append(list, words)
	}
	return list
}
