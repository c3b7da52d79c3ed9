package main

import (
	"fmt"

	"lanesim/plots"
	"lanesim/report"
	"lanesim/studies/aim"
)

// draw draws the maps and the rooms.
func (a *aiming) draw(path string, size plots.Size) ([]file, error) {
	f := plots.AimFigure{Title: a.Title, Size: size}
	maps := a.Maps()
	rooms := make([]plots.AimRoom, len(report.AimRooms))
	for i, r := range report.AimRooms {
		rooms[i] = plots.AimRoom{Label: r.Label, Sides: r.Sides, Decimals: r.Unit.Decimals, Unlimited: "any"}
	}
	for i, t := range a.List {
		if t.None != nil {
			continue
		}
		m := plots.AimMap{
			Label:   report.ByWords(t.By) + ", %",
			Laydown: maps[i].Laydown, Arrows: maps[i].Arrows, Share: maps[i].Good,
			Best:  plots.AimLine{Laydown: t.Best.Release.Laydown, Arrows: t.Best.Arrows},
			Words: fmt.Sprintf("%s over %s: %s", report.Board.Show(t.Best.Release.Laydown), report.Board.Show(t.Best.Arrows), report.Percent(report.CountBy(t.Best, t.By).Share(), 0)),
		}
		switch t.By {
		case aim.ByPocketShare:
			m.Share = maps[i].Pocket
		case aim.ByStrikeShare:
			m.Share = maps[i].Strikes
		}
		if len(a.Players) > 1 {
			m.Name = t.Name(a.Players)
			if t.By != a.By {
				m.Name += " (pocket alone)"
			}
		}
		for _, l := range t.RunnersUp {
			if l.Release.Speed == t.Best.Release.Speed && l.Release.AxisRotation == t.Best.Release.AxisRotation {
				m.Others = append(m.Others, plots.AimLine{Laydown: l.Release.Laydown, Arrows: l.Arrows})
			}
		}
		f.Maps = append(f.Maps, m)
		for k := range report.AimRooms {
			rooms[k].Misses = append(rooms[k].Misses, report.RoomIn(k, t.Room))
		}
	}
	f.Rooms = rooms
	f.Note = a.Note()
	d, err := plots.Aim(f)
	if err != nil {
		return nil, err
	}
	made, err := drawn(path, d)
	return []file{made}, err
}
