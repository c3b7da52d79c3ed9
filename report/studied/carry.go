package studied

import (
	"fmt"
	"io"
	"slices"
	"strconv"

	"lanesim/pins"
	"lanesim/report"
	"lanesim/report/thrown"
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
	Maps     []carry.MapResult // of each player, if they were asked for
	Scatter  bool              // whether each rack has a delivery of the bowler's own
}

// ballName stands for the ball among what touches a pin.
const ballName = "ball"

// record is what became of one shot's racks, as it is printed.
func (w *Carry) record(i int) report.Object {
	t, r := w.Players[i], w.Results[i]
	var standing any
	if !w.fullRack(i) {
		standing = w.Standing[i].String()
	}
	leaves := report.List{}
	for _, l := range r.Tally.Commonest(1 << pins.Count) {
		leaves = append(leaves, report.ObjectOf("pins", l.String(), shareObject("", racksShare(r.Tally.ShareOf(r.Tally.Leaves[l]))), "split", l.Split()))
	}
	hits, within := firstHits(r)
	var strikeMap any
	if i < len(w.Maps) {
		m := w.Maps[i]
		angles := make([]float64, len(m.Angles))
		for j, a := range m.Angles {
			angles[j] = report.Degree.In(a)
		}
		intervals := make([][][2]float64, len(m.Boards))
		for i, row := range m.Intervals {
			for _, one := range row {
				intervals[i] = append(intervals[i], [2]float64(ends(one)))
			}
		}
		strikeMap = report.ObjectOf("board", m.Boards, "angle_deg", angles, "strike_share", m.Strikes, "strike_interval", intervals,
			"board_sd", m.BoardScatter, "angle_sd_deg", report.Degree.In(m.AngleScatter))
	}
	return report.ObjectOf(
		t.object(),
		"weight_lb", report.Pound.In(t.Setup.Ball.Mass), "standing", standing,
		"feet_board", t.Setup.Release.Laydown+t.FootToBall, "laydown", t.Setup.Release.Laydown, "arrows_board", studies.BoardAtArrows(t.Setup.Release),
		"entry_board", r.Entry.Board, "entry_angle_deg", report.Degree.In(r.Entry.Heading), "hit", string(r.Hit),
		"racks", r.Tally.Racks, "not_at_pins", r.Missed,
		shareObject("strike", racksShare(r.Tally.Strikes())),
		"pins_down_mean", r.Tally.Down(w.full(i)), shareObject("split", racksShare(r.Tally.Splits())), "leaves", leaves,
		"deflection_deg", report.Degree.In(r.Deflection()), "exit_board", r.Tally.Exit(), "first_hits", hits, "first_hits_interval", within,
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

// firstHits are for each pin, of the racks in which it was touched, the shares of what was
// first, and their intervals.
func firstHits(r carry.Result) (all, intervals report.Object) {
	all, intervals = report.Object{}, report.Object{}
	for i, by := range r.Tally.First {
		sum, one, within := 0, report.Object{}, report.Object{}
		for _, n := range by {
			sum += n
		}
		for k, n := range by {
			name := ballName
			if k > 0 {
				name = strconv.Itoa(k)
			}
			if n > 0 {
				share := shareOf(studies.Count{Hits: n, Of: sum})
				one, within = one.With(name, share.Value), within.With(name, ends(share.Interval))
			}
		}
		if sum > 0 {
			pin := strconv.Itoa(i + 1)
			all, intervals = all.With(pin, one), intervals.With(pin, within)
		}
	}
	return all, intervals
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

// left is a leave of a player's racks.
type left struct {
	w     *Carry
	at    int
	leave pins.Leave
}

func (l left) share() pins.Share {
	t := l.w.Results[l.at].Tally
	return t.ShareOf(t.Leaves[l.leave])
}

var leftColumns = append(playerColumns(func(l left) Player { return l.w.Players[l.at] }),
	report.Number("weight_lb", "", "Weight of the ball", report.Pound, func(l left) float64 { return l.w.Players[l.at].Setup.Ball.Mass }),
	report.Text("standing", "", "Pins that stand", func(l left) string { return l.w.full(l.at).String() }),
	report.Number("entry_board", "", "Board at the head pin's distance", report.Board, func(l left) float64 { return l.w.Results[l.at].Entry.Board }),
	report.Number("entry_angle_deg", "", "Heading there", report.Degree, func(l left) float64 { return l.w.Results[l.at].Entry.Heading }),
	report.Text("hit", "", "Where the ball meets the pins", func(l left) string { return string(l.w.Results[l.at].Hit) }),
	report.Count("racks", "", "Number of racks", func(l left) int { return l.w.Results[l.at].Tally.Racks }),
	report.Text("leave", "", "Pins that are left", func(l left) string { return l.leave.String() }),
	report.Number("share", "", "Share of the racks", report.Ratio, func(l left) float64 { return l.share().Share }),
	report.Number("share_low", "", "Low end of its interval", report.Ratio, func(l left) float64 { return l.share().Low }),
	report.Number("share_high", "", "High end of its interval", report.Ratio, func(l left) float64 { return l.share().High }),
	report.Truth("split", "", "Whether the leave is a split", func(l left) bool { return l.leave.Split() }),
)

// Rows has a row for each leave, strikes first.
func (w *Carry) Rows() report.Rows {
	var list []left
	for i, r := range w.Results {
		for _, l := range append([]pins.Leave{0}, r.Tally.Commonest(1<<pins.Count)...) {
			list = append(list, left{w, i, l})
		}
	}
	return report.RowsOf(leftColumns, slices.Values(list))
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
		share, all := racksShare(r.Tally.Strikes()), "strikes"
		if !w.fullRack(i) {
			all = "converts"
		}
		words := fmt.Sprintf("%s %s (%s) and %s in %s of %s (assumed; 95 %% interval %s)", w.Players[i].Name(w.Players),
			thrown.EntryText(r.Entry.Board, r.Entry.Heading), r.Hit, all, report.Share(share.Value), report.Counting(r.Tally.Racks, "rack"), Between(share.Interval))
		if most := r.Tally.Commonest(1); len(most) > 0 {
			words += "; the commonest leave is " + most[0].String()
		}
		list = append(list, words)
	}
	return list
}
