package handouts

import (
	"strings"

	"lanesim/plots"
	"lanesim/report/layouts"
	"lanesim/report/thrown"
	"lanesim/scenario"
	"lanesim/scenario/runs"
)

// ShotsFigure returns the figure of the shots of a lane.
func ShotsFigure(s *scenario.Scenario, shots []runs.Thrown, i int, size plots.Size) plots.Figure {
	lane := s.Lanes[i]
	f := plots.Figure{Title: s.Heading(), Lane: lane, Pocket: thrown.Pocket(s.Settings, s.Bowlers[0].Release), Size: size}
	if len(s.Lanes) > 1 {
		f.Title = strings.TrimPrefix(f.Title+": "+lane.Name, ": ")
	}
	for _, t := range shots {
		if t.At.Lane == i {
			f.Series = append(f.Series, plots.Series{Name: seriesName(s, t), Shot: t.Made.Shot, Hand: t.Made.Release.Hand, Line: t.Made.LineText()})
		}
	}
	return f
}

// seriesName returns a name that distinguishes a shot from the others on its lane.
func seriesName(s *scenario.Scenario, t runs.Thrown) string {
	var names []string
	if len(s.Bowlers) > 1 {
		names = append(names, t.Made.Bowler)
	}
	if len(s.Balls) > 1 {
		names = append(names, t.Made.Ball)
	}
	return strings.Join(names, ", ")
}

// BallFigure returns the figure of a ball with its tracks on a lane.
func BallFigure(s *scenario.Scenario, l layouts.Layout, i int, size plots.Size) plots.BallFigure {
	return plots.BallFigure{Title: strings.TrimPrefix(s.Title+": "+l.Ball+" for "+l.Bowler, ": "), Layout: l, Flare: l.Flares[i], Size: size}
}
