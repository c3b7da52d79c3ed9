package studied

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lanesim/pins"
	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/studies"
	"lanesim/studies/carry"
)

// commonLeaves is the number of leaves in the table.
const commonLeaves = 5

// Document returns the shares and the first touches of pins for people.
func (w *Carry) Document() report.Document {
	doc := report.Document{Title: w.Title}
	for from := 0; from < len(w.Results); from += thrown.ShotsAcross {
		to := min(from+thrown.ShotsAcross, len(w.Results))
		table, leaves := w.sharesTable(from, to)
		doc.Table(table)
		noteGoodTo(&doc, "shares of leaves", leaves)
		doc.Head("what is the first to touch each pin, of the racks in which it is touched")
		table, firsts := w.firstTable(from, to)
		doc.Table(table)
		noteGoodTo(&doc, "shares", firsts)
	}
	doc.Head("assumed")
	doc.SayWrapped("All shares are assumed: they rest on " + strings.Join(w.Assumed, ", ") + ". The scenario's rack changes them. Entry boards are at 60 ft; the exit board is where the ball's middle leaves the deck.")
	if len(w.Maps) > 0 {
		doc.SayWrapped(TableWords("The map's shares"))
	}
	return doc
}

// sharesTable returns the table of shares, and the shares of the leaves listed.
func (w *Carry) sharesTable(from, to int) (t report.Grid, leaves []studies.Mean) {
	list, racks := numbers(w.Results)[from:to], w.rackColumns()
	full := !slices.ContainsFunc(list, func(i int) bool { return !w.fullRack(i) })
	show := func(keys ...string) {
		for _, c := range racks.Pick(keys...) {
			switch c.Key {
			case "strike_share":
				if !full {
					c.Label = "all down (assumed)"
				}
			case "hit": // its words are those of the head pin
				c = report.Via(c, func(i int) (int, bool) { return i, w.pinsBefore(i).Has(1) })
			}
			report.AddRow(&t, c.Head(), list, c.Show)
		}
	}
	t.Left = []bool{true}
	show("lane", "ball", "bowler")
	t.Heads = len(t.Rows)
	if !full {
		show("standing")
	}
	show("feet_board", "laydown", "arrows_board", "entry_board", "entry_angle_deg", "hit", "racks")
	if w.Scatter {
		show("not_at_pins")
	}
	show("strike_share", "strike_interval", "pins_down_mean", "split_share", "split_interval")
	for k := range commonLeaves {
		name := "commonest leaves"
		if k > 0 {
			name = ""
		}
		report.AddRow(&t, name, list, func(i int) string {
			list := w.Results[i].Tally.Commonest(commonLeaves)
			if k >= len(list) {
				return report.Absent
			}
			share := w.leaveShare(i, list[k])
			leaves = append(leaves, share)
			return list[k].String() + "  " + report.Share(share.Value)
		})
	}
	show("deflection_deg", "exit_board")
	t.Tone = func(r, column int, _ string) report.Tone {
		if r < t.Heads && column > 0 {
			return report.HeadingTone
		}
		return report.PlainTone
	}
	return t, leaves
}

// firstTable returns the table of the two most frequent first touches of each pin, and their shares.
func (w *Carry) firstTable(from, to int) (t report.Grid, shares []studies.Mean) {
	t = report.Grid{Left: []bool{true}, Heads: -1}
	if len(w.Players) > 1 {
		t.Heads = 1
		report.AddRow(&t, "", w.Players[from:to], func(t Player) string { return t.Name(w.Players) })
	}
	for pin := range pins.Count {
		report.AddRow(&t, fmt.Sprintf("pin %d", pin+1), w.Results[from:to], func(r carry.Result) string {
			words, list := firstWords(firstTouches(r.Tally.First[pin]))
			shares = append(shares, list...)
			return words
		})
		if row := t.Rows[len(t.Rows)-1]; !slices.ContainsFunc(row[1:], func(s string) bool { return s != report.Absent }) {
			t.Rows = t.Rows[:len(t.Rows)-1]
		}
	}
	return t, shares
}

// firstWords describes the two most frequent first touches of a pin.
func firstWords(list []firstTouch) (text string, shares []studies.Mean) {
	slices.SortStableFunc(list, func(a, b firstTouch) int { return cmp.Compare(b.Value, a.Value) })
	var words []string
	for _, t := range list[:min(2, len(list))] {
		words, shares = append(words, "the "+t.by+" "+report.Percent(t.Value, 0)), append(shares, t.Mean)
	}
	return cmp.Or(strings.Join(words, ", "), report.Absent), shares
}
