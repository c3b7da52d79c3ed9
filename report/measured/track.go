package measured

import (
	"fmt"
	"math"
	"slices"

	"lanesim/ball"
	"lanesim/report"
	"lanesim/studies/fit"
)

// Track is a measured track compared with the shot of its bowler and ball.
type Track struct {
	Bowler, Ball string // names
	Hand         ball.Hand
	Over         fit.TrackOver
}

// overColumns returns the columns of the difference of a track from its shot.
func overColumns() report.Columns[Track] {
	return report.Columns[Track]{
		report.Text("shot", "track", "Name of the track", func(t Track) string { return t.Over.Track.Shot }),
		report.Text("bowler", "bowler", "Name of the bowler", func(t Track) string { return t.Bowler }),
		report.Text("ball", "ball", "Name of the ball", func(t Track) string { return t.Ball }),
		report.Count("points", "points", "Number of points", func(t Track) int { return len(t.Over.Points) }),
		withSign(report.Number("board_bias", "bias, boards", "Mean of measured less thrown", report.Board.Finer(), func(t Track) float64 { return t.Over.Bias.Boards })),
		report.Number("board_scatter", "scatter, boards", "Standard deviation about the bias", report.Board.Finer(), func(t Track) float64 { return t.Over.Scatter.Boards }),
		withSign(report.Number("speed_bias_mph", "bias", "Mean of measured less thrown speed", report.MPH.Finer(), func(t Track) float64 { return t.Over.Bias.Speed })),
		report.Number("speed_scatter_mph", "scatter", "Standard deviation of the speed about its bias", report.MPH.Finer(), func(t Track) float64 { return t.Over.Scatter.Speed }),
		report.Number("time_scatter_s", "scatter", "Standard deviation of the times, after the clocks are set to each other", report.Second, func(t Track) float64 { return t.Over.Scatter.Time }),
	}
}

// withSign returns a column whose sign is shown in tables.
func withSign[T any](c report.Column[T]) report.Column[T] {
	c.Signed = true
	return c
}

func overNumbers() report.Columns[trackPoint] {
	return report.Columns[trackPoint]{
		distanceRead, boardRead,
		report.Number("board_thrown", "thrown board", "Board of the shot there", report.Board, func(p trackPoint) float64 { return p.read.Board - p.off.Board }),
		report.Number("board_off", "board off", "Measured less thrown board", report.Board, func(p trackPoint) float64 { return p.off.Board }),
		report.Number("speed_off_mph", "speed off", "Measured less thrown speed", report.MPH, func(p trackPoint) float64 { return p.off.Speed }),
		report.Number("time_off_s", "time off", "Measured less thrown time, after the clocks are set to each other", report.Second, func(p trackPoint) float64 { return p.off.Time }),
	}
}

func pointsOver(tracks ...Track) (list []trackPoint) {
	for _, t := range tracks {
		for i, p := range t.Over.Points {
			list = append(list, trackPoint{t.Over.Track.Shot, t.Bowler, t.Ball, p, t.Over.Residuals[i]})
		}
	}
	return list
}

// TracksMember returns the tracks for JSON, with a line for each.
func TracksMember(tracks []Track) report.Member {
	columns := overColumns()
	columns[3] = report.Value("points", "Points of the track", func(t Track) any { return report.Each(pointsOver(t), overNumbers().Members) })
	return report.Member{Key: "tracks", Value: report.Lines(report.Each(tracks, columns.Members))}
}

// stretch is the length in ft over which differences are averaged in the table.
const stretch = 5.0

// TracksDocument reports the differences of the tracks from their shots, in all for each track and by
// distance for all.
func TracksDocument(tracks []Track) report.Document {
	var doc report.Document
	doc.Head("Measured less thrown; nothing is fitted")
	shown := overColumns()
	if !measured(tracks, func(r fit.TrackResidual) float64 { return r.Time }) {
		shown = shown[:len(shown)-1]
		if !measured(tracks, func(r fit.TrackResidual) float64 { return r.Speed }) {
			shown = shown[:len(shown)-2]
		}
	}
	doc.Table(report.TableOf(shown, slices.Values(tracks)))
	byStretch := map[int][]fit.TrackResidual{}
	last := 0
	for _, p := range pointsOver(tracks...) {
		if math.IsNaN(p.off.Board) {
			continue
		}
		k := int(math.Floor(report.Foot.In(p.read.Distance)/stretch + 0.5))
		byStretch[k] = append(byStretch[k], p.off)
		last = max(last, k)
	}
	g := report.Grid{Rows: [][]string{{"about, ft", "points", "bias, boards", "scatter, boards"}}}
	for k := 0; k <= last; k++ {
		if all := byStretch[k]; len(all) > 0 {
			bias, scatter := fit.BiasAndScatter(all, func(r fit.TrackResidual) float64 { return r.Board })
			g.Rows = append(g.Rows, []string{report.Fixed(float64(k)*stretch, 0), report.Fixed(float64(len(all)), 0), report.Signed(bias, 2), report.Fixed(scatter, 2)})
		}
	}
	doc.Table(g)
	return doc
}

// measured reports whether a residual exists.
func measured(tracks []Track, of func(fit.TrackResidual) float64) bool {
	return slices.ContainsFunc(pointsOver(tracks...), func(p trackPoint) bool { return !math.IsNaN(of(p.off)) })
}

// TrackRows returns a row for each point of the tracks.
func TrackRows(tracks []Track) report.Rows {
	return report.RowsOf(append(pointNames(), overNumbers()...), slices.Values(pointsOver(tracks...)))
}

// TracksNote describes the differences of tracks from the computed shots in boards.
func TracksNote(bias, scatter float64) string {
	return fmt.Sprintf("Measured less thrown: %s boards on average, with a scatter of %s; nothing is fitted.", report.Signed(bias, 2), report.Fixed(scatter, 2))
}
