package report

import (
	"io"
	"iter"
	"math"

	"lanesim/ball"
	"lanesim/studies/fit"
)

// Track is a measured track laid over the shot of its bowler and ball.
type Track struct {
	Bowler, Ball string // names
	Hand         ball.Hand
	Over         fit.TrackOver
}

// overColumns tell how far a track is from its shot.
func overColumns() Columns[Track] {
	return Columns[Track]{
		text("shot", "track", "Name of the track", func(t Track) string { return t.Over.Track.Shot }),
		text("bowler", "bowler", "Name of the bowler", func(t Track) string { return t.Bowler }),
		text("ball", "ball", "Name of the ball", func(t Track) string { return t.Ball }),
		count("points", "points", "Number of points", func(t Track) int { return len(t.Over.Points) }),
		withSign(number("board_bias", "bias, boards", "Mean of measured less thrown", Board.Digits(2), func(t Track) float64 { return t.Over.Bias.Boards })),
		number("board_scatter", "scatter, boards", "Standard deviation about the bias", Board.Digits(2), func(t Track) float64 { return t.Over.Scatter.Boards }),
		withSign(number("speed_bias_mph", "bias", "Mean of measured less thrown speed", MPH.Digits(2), func(t Track) float64 { return t.Over.Bias.Speed })),
		number("speed_scatter_mph", "scatter", "Standard deviation of the speed about its bias", MPH.Digits(2), func(t Track) float64 { return t.Over.Scatter.Speed }),
		number("time_scatter_s", "scatter", "Standard deviation of the times, after the clocks are set to each other", Second, func(t Track) float64 { return t.Over.Scatter.Time }),
	}
}

// withSign has tables show the sign.
func withSign[T any](c Column[T]) Column[T] {
	c.signed = true
	return c
}

// overPoint is a point of a track and the shot there.
type overPoint struct {
	Track
	read fit.TrackPoint
	off  fit.TrackResidual
}

func overPointColumns() Columns[overPoint] {
	return append(Columns[overPoint]{
		text("shot", "", "Name of the track", func(p overPoint) string { return p.Over.Track.Shot }),
		text("bowler", "", "Name of the bowler", func(p overPoint) string { return p.Bowler }),
		text("ball", "", "Name of the ball", func(p overPoint) string { return p.Ball }),
	}, overNumbers()...)
}

func overNumbers() Columns[overPoint] {
	return Columns[overPoint]{
		number("distance_ft", "", "Distance from the foul line", asWritten(Foot), func(p overPoint) float64 { return asRead(Foot.In(p.read.Distance)) }),
		number("board", "", "Board that was measured", Board, func(p overPoint) float64 { return p.read.Board }),
		number("board_thrown", "", "Board of the shot there", Board, func(p overPoint) float64 { return p.read.Board - p.off.Board }),
		number("board_off", "", "Measured less thrown board", Board, func(p overPoint) float64 { return p.off.Board }),
		number("speed_off_mph", "", "Measured less thrown speed", MPH, func(p overPoint) float64 { return p.off.Speed }),
		number("time_off_s", "", "Measured less thrown time, after the clocks are set to each other", Second, func(p overPoint) float64 { return p.off.Time }),
	}
}

// pointsOver are the points of all tracks.
func pointsOver(tracks []Track) iter.Seq[overPoint] {
	return func(yield func(overPoint) bool) {
		for _, t := range tracks {
			for i, p := range t.Over.Points {
				if !yield(overPoint{t, p, t.Over.Residuals[i]}) {
					return
				}
			}
		}
	}
}

// TracksMember is the tracks in JSON, a line each.
func TracksMember(tracks []Track) Member {
	lines := Lines{}
	for _, t := range tracks {
		points := List{}
		for p := range pointsOver([]Track{t}) {
			points = append(points, overNumbers().members(p))
		}
		var o Object
		for _, m := range overColumns().members(t) {
			if m.Key == "points" {
				m.Value = points
			}
			o = append(o, m)
		}
		lines = append(lines, o)
	}
	return Member{"tracks", lines}
}

// stretch is the length in ft over which differences are averaged in the table.
const stretch = 5.0

// TracksDocument tells how far the tracks are from their shots, each in all and together
// by distance.
func TracksDocument(tracks []Track) Document {
	var doc Document
	doc.Head("Measured less thrown; nothing is fitted")
	shown := overColumns()
	if !measured(tracks, func(r fit.TrackResidual) float64 { return r.Time }) {
		shown = shown[:len(shown)-1]
		if !measured(tracks, func(r fit.TrackResidual) float64 { return r.Speed }) {
			shown = shown[:len(shown)-2]
		}
	}
	doc.Table(table(shown, func(yield func(Track) bool) {
		for _, t := range tracks {
			if !yield(t) {
				return
			}
		}
	}))
	byStretch := map[int][]fit.TrackResidual{}
	last := 0
	for p := range pointsOver(tracks) {
		if math.IsNaN(p.off.Board) {
			continue
		}
		k := int(math.Floor(Foot.In(p.read.Distance)/stretch + 0.5))
		byStretch[k] = append(byStretch[k], p.off)
		last = max(last, k)
	}
	g := Grid{Rows: [][]string{{"about, ft", "points", "bias, boards", "scatter, boards"}}}
	for k := 0; k <= last; k++ {
		if all := byStretch[k]; len(all) > 0 {
			bias, scatter := fit.BiasAndScatter(all, func(r fit.TrackResidual) float64 { return r.Board })
			g.Rows = append(g.Rows, []string{Fixed(float64(k)*stretch, 0), Fixed(float64(len(all)), 0), Signed(bias, 2), orAbsent(scatter)})
		}
	}
	doc.Table(g)
	return doc
}

func orAbsent(v float64) string {
	if math.IsNaN(v) {
		return Absent
	}
	return Fixed(v, 2)
}

// measured reports whether there is a residual.
func measured(tracks []Track, of func(fit.TrackResidual) float64) bool {
	for p := range pointsOver(tracks) {
		if !math.IsNaN(of(p.off)) {
			return true
		}
	}
	return false
}

// WriteTracks writes a row for each point of the tracks as CSV.
func WriteTracks(to io.Writer, tracks []Track) error {
	return WriteCSV(to, overPointColumns(), pointsOver(tracks))
}
