package main

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/studies"
)

// record is a line as it is printed: null where there is none.
func (l spareLine) record() report.Object {
	o := report.Object{{Key: "pins", Value: l.leave.String()}}
	if !l.found {
		for _, key := range []string{"laydown", "angle_deg", "arrows_board", "entry_board", "entry_angle_deg", "window_boards", "converted_share", "converted_interval", "stays_most"} {
			o = append(o, report.Member{Key: key})
		}
		return o
	}
	within := studies.WilsonInterval(l.Converted)
	var window, stays any
	if l.Window != (physics.Window{}) {
		window = []float64{l.Window.Min, l.Window.Max}
	}
	if rest := l.stays(); rest != 0 {
		stays = rest.String()
	}
	return append(o, report.Member{Key: "laydown", Value: l.Release.Laydown}, report.Member{Key: "angle_deg", Value: report.Degree.In(l.Release.Angle)},
		report.Member{Key: "arrows_board", Value: l.Arrows}, report.Member{Key: "entry_board", Value: l.Entry.Board},
		report.Member{Key: "entry_angle_deg", Value: report.Degree.In(l.Entry.Heading)}, report.Member{Key: "window_boards", Value: window},
		report.Member{Key: "converted_share", Value: l.Converted.Share()}, report.Member{Key: "converted_interval", Value: []float64{within.Low, within.High}},
		report.Member{Key: "stays_most", Value: stays})
}

// encode prints the lines as JSON.
func (w *sparesWork) encode(to io.Writer) error {
	deliveries := report.Lines{}
	for i, t := range w.players {
		var lines report.List
		for _, l := range w.lines[i] {
			lines = append(lines, l.record())
		}
		deliveries = append(deliveries, report.Object{{Key: "bowler", Value: t.bowler}, {Key: "ball", Value: t.ball}, {Key: "lane", Value: t.lane}, {Key: "spares", Value: lines}})
	}
	return report.WriteResult(to, w.warnings, report.Member{Key: "seed", Value: w.seed}, report.Member{Key: "deliveries", Value: deliveries}, report.Member{Key: "assumed", Value: w.assumed})
}

// encodeCSV prints a row for each line. What does not exist is an empty cell.
func (w *sparesWork) encodeCSV(to io.Writer) error {
	c := csv.NewWriter(to)
	if err := c.Write([]string{"bowler", "ball", "lane", "pins", "laydown", "angle_deg", "arrows_board", "entry_board", "entry_angle_deg", "window_low", "window_high", "converted_share", "converted_low", "converted_high", "shots", "stays_most"}); err != nil {
		return err
	}
	for i, t := range w.players {
		for _, l := range w.lines[i] {
			row := []string{t.bowler, t.ball, t.lane, l.leave.String()}
			if !l.found {
				row = append(row, make([]string, 12)...)
			} else {
				within := studies.WilsonInterval(l.Converted)
				low, high := l.Window.Min, l.Window.Max
				if l.Window == (physics.Window{}) {
					low, high = math.NaN(), math.NaN()
				}
				for _, v := range []float64{l.Release.Laydown, report.Degree.In(l.Release.Angle), l.Arrows, l.Entry.Board, report.Degree.In(l.Entry.Heading), low, high, l.Converted.Share(), within.Low, within.High} {
					row = append(row, report.Exact(v))
				}
				stays := ""
				if rest := l.stays(); rest != 0 {
					stays = rest.String()
				}
				row = append(row, strconv.Itoa(l.Converted.Of), stays)
			}
			if err := c.Write(row); err != nil {
				return err
			}
		}
	}
	c.Flush()
	return c.Error()
}
