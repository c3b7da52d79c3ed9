package plots

import (
	"fmt"

	"lanesim/report"
	"lanesim/report/studied"
	"lanesim/studies/aim"
)

// DrawAim draws the maps of lines and the rooms of the best.
func DrawAim(a *studied.Aim, size Size) (*Drawing, error) {
	f := aimFigure{Title: a.Title, Size: size}
	maps := a.Maps()
	rooms := make([]aimRoom, len(studied.AimRooms))
	for i, r := range studied.AimRooms {
		rooms[i] = aimRoom{Label: r.Label, Sides: r.Sides, Decimals: r.Unit.Decimals, Unlimited: "any"}
	}
	for i, t := range a.List {
		if t.None != nil {
			continue
		}
		m := aimMap{
			Label:   studied.ByWords(t.By) + ", %",
			Laydown: maps[i].Laydown, Arrows: maps[i].Arrows, Share: maps[i].Good, Of: mapOfGood,
			Best:  aimLine{Laydown: t.Best.Release.Laydown, Arrows: t.Best.Arrows},
			Words: fmt.Sprintf("%s over %s: %s", report.Board.Show(t.Best.Release.Laydown), report.Board.Show(t.Best.Arrows), report.Percent(studied.CountBy(t.Best, t.By).Share(), 0)),
		}
		switch t.By {
		case aim.ByPocketShare:
			m.Share, m.Of = maps[i].Pocket, mapOfPocket
		case aim.ByStrikeShare:
			m.Share, m.Of = maps[i].Strikes, mapOfStrikes
		}
		m.Band = &aimBand{Lane: t.Setup.Lane, Hand: t.Setup.Release.Hand, Line: t.Band.Line, Outside: t.Band.Outside, Inside: t.Band.Inside,
			Words: t.LineText(t.Best), Pocket: t.Pocket}
		if len(a.Players) > 1 {
			m.Name = t.Name(a.Players)
			if t.By != a.By {
				m.Name += " (pocket alone)"
			}
		}
		for _, l := range t.RunnersUp {
			if l.Release.Speed == t.Best.Release.Speed && l.Release.AxisRotation == t.Best.Release.AxisRotation {
				m.Others = append(m.Others, aimLine{Laydown: l.Release.Laydown, Arrows: l.Arrows})
			}
		}
		f.Maps = append(f.Maps, m)
		for k := range studied.AimRooms {
			rooms[k].Misses = append(rooms[k].Misses, studied.RoomIn(k, t.Room))
		}
	}
	f.Rooms = rooms
	f.Note = a.Note()
	return f.draw()
}
