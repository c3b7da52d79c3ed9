package plots

import (
	"fmt"

	"lanesim/report"
	"lanesim/report/measured"
	"lanesim/studies/fit"
)

// DrawFit draws the tracks, the fitted shots and what is left over.
func DrawFit(r *measured.Fit, size Size) (*Drawing, error) {
	f := fitFigure{
		Title: r.Title, Note: r.Note(), Lane: r.Study.Lane, Scatter: r.Result.Scatter,
		Pocket: r.Study.Settings.Pocket, Size: size,
	}
	for i, s := range r.Result.Shots {
		t := r.Study.Shots[i].Track
		name := "Shot " + t.Shot
		if len(r.Bowlers) > 1 {
			name += ", " + r.Bowlers[t.Bowler]
		}
		if len(r.Balls) > 1 {
			name += ", " + r.Balls[t.Ball]
		}
		f.Shots = append(f.Shots, trackedFit{Name: name, Hand: s.Release.Hand, Points: t.Points, Fitted: s})
	}
	return f.draw()
}

// DrawTracks draws tracks as points over the shots, and what is between them, over the lane of
// a figure. The words name bowlers or balls where there are several.
func DrawTracks(over Figure, tracks []measured.Track, bowlers, balls bool) (*Drawing, error) {
	f := fitFigure{Title: over.Title, Lane: over.Lane, Pocket: over.Pocket, Size: over.Size, Thrown: true}
	var all []fit.TrackResidual
	for _, t := range tracks {
		name := "Track " + t.Over.Track.Shot
		if bowlers {
			name += ", " + t.Bowler
		}
		if balls {
			name += ", " + t.Ball
		}
		all = append(all, t.Over.Residuals...)
		f.Shots = append(f.Shots, trackedFit{
			Name: name, Hand: t.Hand, Points: t.Over.Points,
			Fitted: fit.ShotResult{Shot: t.Over.Shot, Residuals: t.Over.Residuals, RMS: fit.Scatter{Boards: t.Over.BoardsOff()}},
		})
	}
	bias, scatter := fit.BiasAndScatter(all, func(r fit.TrackResidual) float64 { return r.Board })
	f.Note = fmt.Sprintf("Measured less thrown: %s boards on average, with a scatter of %s; nothing is fitted.", report.Signed(bias, 2), report.Fixed(scatter, 2))
	f.Scatter.Boards = scatter
	_, f.Scatter.Speed = fit.BiasAndScatter(all, func(r fit.TrackResidual) float64 { return r.Speed })
	_, f.Scatter.Time = fit.BiasAndScatter(all, func(r fit.TrackResidual) float64 { return r.Time })
	return f.draw()
}
