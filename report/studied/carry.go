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

// Carry has the results of shots at the pins.
type Carry struct {
	Title    string
	Warnings []string
	Assumed  []string // assumed values of the scenario's rack
	Players  []Player
	Standing []pins.Leave // pins before the shot, for each player; 0 is a full rack
	Studies  []carry.Study
	Results  []carry.Result
	Maps     []carry.MapResult // for each player, if requested
	Scatter  bool              // whether each rack has its own delivery
}

// ballName is the name of the ball among those that touch a pin.
const ballName = "ball"

// rackColumns returns the results of each player's racks.
func (w *Carry) rackColumns() columns {
	player, of := func(i int) Player { return w.Players[i] }, func(i int) *carry.Result { return &w.Results[i] }
	return slices.Concat(playerColumns(player),
		columns{
			report.Number("weight_lb", "weight", "Weight of the ball", report.Pound, func(i int) float64 { return player(i).Setup.Ball.Mass }),
			report.Text("standing", "pins that stand", "Pins that stand", func(i int) string { return w.pinsBefore(i).String() }),
		},
		lineColumns(func(i int) thrown.Shot { return player(i).line() }),
		columns{
			report.Number("entry_board", "entry board", "Board at the head pin's distance", report.Board, func(i int) float64 { return of(i).Entry.Board }),
			report.Number("entry_angle_deg", "entry angle", "Heading there", report.Degree, func(i int) float64 { return of(i).Entry.Heading }),
			report.Text("hit", "hit", "Where the ball meets the pins", func(i int) string { return string(of(i).Hit) }),
			report.Count("racks", "racks", "Number of racks", func(i int) int { return of(i).Tally.Racks }),
			report.Count("not_at_pins", "not at the pins", "Deliveries that do not get to the pins", func(i int) int { return of(i).Missed }),
		},
		shareColumns("strike", "strikes (assumed)", "Share of strikes", func(i int) studies.Mean { return racksShare(of(i).Tally.Strikes()) }),
		columns{report.Number("pins_down_mean", "pins down, mean", "Mean number of pins that fall", report.Figures, func(i int) float64 { return of(i).Tally.Down(w.pinsBefore(i)) })},
		shareColumns("split", "splits", "Share of splits", func(i int) studies.Mean { return racksShare(of(i).Tally.Splits()) }),
		columns{
			report.Value("leaves", "Leaves, the commonest first", func(i int) any { return w.leavesObject(i) }),
			report.Number("deflection_deg", "deflection", "Heading behind the pins less that before them", report.Degree, func(i int) float64 { return of(i).Deflection() }),
			report.Number("exit_board", "exit board", "Board at which the ball leaves the deck", report.Board, func(i int) float64 { return of(i).Tally.Exit() }),
			report.Value("first_hits", "Shares of what touches each pin first", func(i int) any { hits, _ := firstHits(of(i)); return hits }),
			report.Value("first_hits_interval", "Their intervals", func(i int) any { _, within := firstHits(of(i)); return within }),
			report.Value("map", "Share of strikes by board and angle", func(i int) any { return w.mapObject(i) }),
		})
}

// leaveShare returns the share of a leave in a player's racks.
func (w *Carry) leaveShare(i int, l pins.Leave) studies.Mean {
	t := &w.Results[i].Tally
	return racksShare(t.ShareOf(t.Leaves[l]))
}

// leavesObject returns all leaves of a player's racks.
func (w *Carry) leavesObject(i int) report.List {
	list := w.Results[i].Tally.Commonest(1 << pins.Count)
	return listOf(list, leaveColumns(list, func(k int) studies.Mean { return w.leaveShare(i, list[k]) }))
}

// mapObject returns the map of a player, null if not requested.
func (w *Carry) mapObject(i int) report.Object {
	if i >= len(w.Maps) {
		return nil
	}
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
	return report.ObjectOf("board", m.Boards, "angle_deg", angles, "strike_share", m.Strikes, "strike_interval", intervals,
		"board_sd", m.BoardScatter, "angle_sd_deg", report.Degree.In(m.AngleScatter))
}

// pinsBefore returns the pins before the shot.
func (w *Carry) pinsBefore(i int) pins.Leave {
	if l := w.Standing[i]; l != 0 {
		return l
	}
	return pins.All
}

func (w *Carry) fullRack(i int) bool { return w.pinsBefore(i) == pins.All }

// firstTouch is the share of racks, of those in which a pin is touched, in which the ball or another pin
// touches it first.
type firstTouch struct {
	by string // the ball, or the number of a pin
	studies.Mean
}

// firstTouches returns the first touches of a pin.
func firstTouches(by [pins.Count + 1]int) (list []firstTouch) {
	sum := 0
	for _, n := range by {
		sum += n
	}
	for k, n := range by {
		name := ballName
		if k > 0 {
			name = strconv.Itoa(k)
		}
		if n > 0 {
			list = append(list, firstTouch{name, shareOf(studies.Count{Hits: n, Of: sum})})
		}
	}
	return list
}

// firstHits returns the first touches of each pin with their shares, and the intervals.
func firstHits(r *carry.Result) (all, intervals report.Object) {
	all, intervals = report.Object{}, report.Object{}
	for i, by := range r.Tally.First {
		var one, within report.Object
		for _, t := range firstTouches(by) {
			one, within = one.With(t.by, t.Value), within.With(t.by, ends(t.Interval))
		}
		if one != nil {
			pin := strconv.Itoa(i + 1)
			all, intervals = all.With(pin, one), intervals.With(pin, within)
		}
	}
	return all, intervals
}

// WriteJSON writes the racks as JSON.
func (w *Carry) WriteJSON(to io.Writer) error {
	list := w.rackColumns()
	for k, c := range list {
		if c.Key == "standing" {
			list[k] = report.Via(c, func(i int) (int, bool) { return i, !w.fullRack(i) })
		}
	}
	return report.WriteResult(to, w.Warnings, report.ObjectOf("seed", w.Studies[0].Seed, "scatter", w.Scatter,
		"deliveries", report.Lines(listOf(w.Results, list)), "assumed", w.Assumed)...)
}

// Rows returns a row for each leave, strikes first.
func (w *Carry) Rows() report.Rows {
	var of []int // indices of players
	var list []pins.Leave
	for i, r := range w.Results {
		left := append([]pins.Leave{0}, r.Tally.Commonest(1<<pins.Count)...)
		of, list = append(of, slices.Repeat([]int{i}, len(left))...), append(list, left...)
	}
	racks := report.AllVia(w.rackColumns().Pick("bowler", "ball", "lane", "weight_lb", "standing", "entry_board", "entry_angle_deg", "hit", "racks"), func(k int) (int, bool) { return of[k], true })
	return rowsOf(list, racks, leaveColumns(list, func(k int) studies.Mean { return w.leaveShare(of[k], list[k]) }).Renamed(map[string]string{"pins": "leave", "interval": "share"}))
}

// RackText describes the entry of a shot, a leave, and the number of racks with it.
func (w *Carry) RackText(i int, l pins.Leave) string {
	r, outcome := w.Results[i], "leaves "+l.String()
	switch {
	case l == 0 && w.fullRack(i):
		outcome = "a strike"
	case l == 0:
		outcome = "converted"
	}
	return fmt.Sprintf("%s (%s), %s: %s of %s", thrown.EntryText(r.Entry.Board, r.Entry.Heading), r.Hit,
		outcome, CountText(studies.Count{Hits: r.Tally.Leaves[l], Of: r.Tally.Racks}), report.Counting(r.Tally.Racks, "rack"))
}

// Note returns the sentence under a picture's title.
func (w *Carry) Note() string {
	if len(w.Maps) > 0 {
		return "Strikes over the board and the angle at which the ball enters, blurred by the bowler's own scatter, with the ball's weight and its speed at the pins. Absolute shares are assumed; where strikes are common is robust."
	}
	return "One rack of each shot, of those with its commonest outcome. Which outcome is commonest, and how common, rests on assumed values."
}

// Answer describes the results of each shot at the pins.
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
