package measured

import (
	"io"
	"math"
	"slices"

	"lanesim/report"
	"lanesim/studies"
	"lanesim/studies/fit"
)

// Fit is a fit of friction to measured tracks.
type Fit struct {
	Title          string
	Warnings       []string
	Balls, Bowlers []string // names, by their numbers in the tracks
	Study          fit.Study
	Result         fit.Result
}

// asRead takes away what converting a reading to SI and back rounds.
func asRead(v float64) float64 {
	const decimals = 1e9 // more than anyone reads, fewer than the rounding has
	return math.Round(v*decimals) / decimals
}

func scatterObject(s fit.Scatter) report.Object {
	return report.ObjectOf("boards", s.Boards, "speed_mph", report.MPH.In(s.Speed), "time_s", s.Time)
}

// settingObject describes a setting. What does not exist is null.
func settingObject(s fit.SettingResult) report.Object {
	var kept any
	if s.Held != fit.Fitted {
		kept = keptWords[s.Held]
	}
	return report.ObjectOf(
		"setting", s.Setting.String(), "first_guess", s.Start, "value", s.Value, "kept_because", kept,
		"standard_error", s.Error, "interval_95", []float64{s.Low, s.High},
		"bootstrap_error", s.BootstrapError, "bootstrap_95", []float64{s.BootstrapInterval.Low, s.BootstrapInterval.High},
	)
}

func (r *Fit) shotObject(i int) report.Object {
	s, t := r.Result.Shots[i], r.Study.Shots[i].Track
	o := report.ObjectOf("shot", t.Shot, "ball", r.Balls[t.Ball], "bowler", r.Bowlers[t.Bowler])
	for _, v := range studies.AllVaried()[:studies.VariedPhase] {
		u, key, fitted := releaseUnit(v), v.String(), report.Object(nil)
		if u != oneBoard {
			key += "_" + u.Name
		}
		if k := slices.Index(s.Fitted, v); k >= 0 {
			fitted = report.ObjectOf("value", u.In(*v.Of(&s.Release)), "standard_error", u.In(s.Errors[k]))
		}
		o = o.With(key, fitted)
	}
	points := report.List{}
	for k, p := range s.Residuals {
		points = append(points, report.ObjectOf("distance_ft", asRead(report.Foot.In(t.Points[k].Distance)), "board_off", p.Board,
			"speed_off_mph", report.MPH.In(p.Speed), "time_off_s", p.Time, "outlier", p.Outlier))
	}
	return append(o, report.ObjectOf("clock_start_s", s.ClockStart, "rms", scatterObject(s.RMS), "outlier", s.Outlier, "points", points)...)
}

// WriteJSON writes the fit as JSON, a shot on a line.
func (r *Fit) WriteJSON(to io.Writer) error {
	shots := report.Lines{}
	for i := range r.Result.Shots {
		shots = append(shots, r.shotObject(i))
	}
	return report.WriteJSON(to, report.ObjectOf(
		"model", report.Model, "warnings", report.Texts(r.Warnings),
		"friction", report.Each(r.Result.Settings, settingObject), "friction_yaml", r.yaml(), "correlations", r.Result.Correlations,
		"scatter", scatterObject(r.Result.Scatter), "readings", r.Result.Readings, "free_readings", r.Result.FreeReadings,
		"repetitions", r.Result.Repetitions, "repetitions_failed", r.Result.Failed, "shots", shots,
	))
}

type trackPoint struct {
	shot, bowler, ball string
	read               fit.TrackPoint
	off                fit.TrackResidual
}

func pointNames() report.Columns[trackPoint] {
	return report.Columns[trackPoint]{
		report.Text("shot", "", "Name of the shot", func(p trackPoint) string { return p.shot }),
		report.Text("bowler", "", "Name of the bowler", func(p trackPoint) string { return p.bowler }),
		report.Text("ball", "", "Name of the ball", func(p trackPoint) string { return p.ball }),
	}
}

var (
	distanceRead = report.Number("distance_ft", "", "Distance from the foul line", asWritten(report.Foot), func(p trackPoint) float64 { return asRead(report.Foot.In(p.read.Distance)) })
	boardRead    = report.Number("board", "", "Board that was read", report.Board, func(p trackPoint) float64 { return p.read.Board })
)

// trackPointColumns are the columns of tracks, and what is computed there.
func trackPointColumns() report.Columns[trackPoint] {
	return append(pointNames(), distanceRead, boardRead,
		report.Number("time_s", "", "Time that was read", report.Second, func(p trackPoint) float64 { return p.read.Time }),
		report.Number("speed_mph", "", "Speed that was read", asWritten(report.MPH), func(p trackPoint) float64 { return asRead(report.MPH.In(p.read.Speed)) }),
		report.Number("board_fitted", "", "Board that was computed", report.Board, func(p trackPoint) float64 { return p.read.Board - p.off.Board }),
		report.Number("time_fitted_s", "", "Time that was computed", report.Second, func(p trackPoint) float64 { return p.read.Time - p.off.Time }),
		report.Number("speed_fitted_mph", "", "Speed that was computed", report.MPH, func(p trackPoint) float64 { return p.read.Speed - p.off.Speed }),
	)
}

// asWritten is a unit of numbers that are in it already.
func asWritten(u report.Unit) report.Unit {
	u.Size = 1
	return u
}

// Rows has a row for each point.
func (r *Fit) Rows() report.Rows {
	var points []trackPoint
	for i, s := range r.Result.Shots {
		t := r.Study.Shots[i].Track
		for k, p := range t.Points {
			points = append(points, trackPoint{t.Shot, r.Bowlers[t.Bowler], r.Balls[t.Ball], p, s.Residuals[k]})
		}
	}
	return report.RowsOf(trackPointColumns(), slices.Values(points))
}

// oneBoard is the unit of a place across the lane.
var oneBoard = report.Unit{Name: "board", Size: 1, Decimals: 1}

// releaseUnit is that in which a number of a release is printed.
func releaseUnit(v studies.Varied) report.Unit {
	switch v {
	case studies.VariedLaydown:
		return oneBoard
	case studies.VariedSpeed:
		return report.MPH
	case studies.VariedRevRate:
		return report.RPM
	}
	return report.Degree
}
