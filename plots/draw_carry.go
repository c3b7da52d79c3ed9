package plots

import (
	"fmt"

	"lanesim/pins"
	"lanesim/report"
	"lanesim/report/studied"
	"lanesim/report/thrown"
)

// DrawCarry draws a rack of each shot, one with its commonest outcome, or the maps of strikes
// if there are any.
func DrawCarry(w *studied.Carry, racks []pins.Result, size Size) (*Drawing, error) {
	if len(w.Maps) > 0 {
		f := strikeMapFigure{Title: w.Title, Size: size,
			Note: "Strikes over the board and the angle at which the ball enters, blurred by the bowler's own scatter, with the ball's weight and its speed at the pins. Absolute shares are assumed; where strikes are common is robust."}
		for i, m := range w.Maps {
			r := w.Results[i]
			one := strikeMap{Boards: m.Boards, Share: m.Strikes, Board: r.Entry.Board, Angle: report.Degree.In(r.Entry.Heading),
				Words: "the line", Pocket: thrown.Pocket(w.Studies[i].Settings, w.Players[i].Setup.Release)}
			for _, a := range m.Angles {
				one.Degrees = append(one.Degrees, report.Degree.In(a))
			}
			if len(w.Players) > 1 {
				one.Name = w.Players[i].Name(w.Players)
			}
			f.Maps = append(f.Maps, one)
		}
		return f.draw()
	}
	f := deckFigure{Title: w.Title, Size: size,
		Note: "One rack of each shot, of those with its commonest outcome. Which outcome is commonest, and how common, rests on assumed values."}
	for i, r := range w.Results {
		study := w.Studies[i]
		one := racks[i]
		standing := study.Standing
		if standing == 0 {
			standing = pins.All
		}
		panel := deckPanel{Standing: standing, Result: one, Radius: w.Players[i].Setup.Ball.Radius,
			Caption: fmt.Sprintf("enters on board %s at %s° (%s), %s: %s of %s", report.Figure(r.Entry.Board), report.Fixed(report.Degree.In(r.Entry.Heading), 2), r.Hit,
				w.Outcome(i, one.Standing), report.Share(r.Tally.ShareOf(r.Tally.Leaves[one.Standing]).Share), report.Counting(r.Tally.Racks, "rack"))}
		if len(w.Players) > 1 {
			panel.Name = w.Players[i].Name(w.Players)
		}
		f.Panels = append(f.Panels, panel)
	}
	return f.draw()
}
