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
	Balls, Bowlers []string // names, by the indices in the tracks
	Study          fit.Study
	Result         fit.Result
}

// asRead removes the rounding of converting a reading to SI and back.
func asRead(v float64) float64 {
	const decimals = 1e9 // finer than any reading, coarser than the rounding
	return math.Round(v*decimals) / decimals
}

// figures returns a unit shown with four significant digits.
func figures(u report.Unit) report.Unit {
	return report.Unit{Size: u.Size, Decimals: report.Figures.Decimals}
}

// scatterColumns returns the columns in the order of the kinds of readings.
func scatterColumns() report.Columns[fit.Scatter] {
	return report.Columns[fit.Scatter]{
		report.Number("boards", "boards off", "Standard deviation of boards about the fit", report.Board, func(s fit.Scatter) float64 { return s.Boards }).ShownIn(figures(report.Board)),
		report.Number("speed_mph", "mph off", "Standard deviation of speeds about the fit", report.MPH, func(s fit.Scatter) float64 { return s.Speed }).ShownIn(figures(report.MPH)),
		report.Number("time_s", "s off", "Standard deviation of times about the fit", report.Second, func(s fit.Scatter) float64 { return s.Time }).ShownIn(figures(report.Second)),
	}
}

// settingColumns returns the columns of a setting.
func settingColumns() report.Columns[fit.SettingResult] {
	return report.Columns[fit.SettingResult]{
		report.Text("setting", "friction", "Setting of the friction", func(s fit.SettingResult) string { return s.Setting.String() }),
		report.Number("first_guess", "first guess", "Value from which the fit began", report.Figures, func(s fit.SettingResult) float64 { return s.Start }),
		report.Number("value", "fitted", "Value that was found", report.Figures, func(s fit.SettingResult) float64 { return s.Value }),
		report.Number("standard_error", "± standard error", "Standard error of the value", report.Figures, func(s fit.SettingResult) float64 { return s.Error }),
		report.Interval("interval_95", "95 % interval", "Interval of 95 % of the value", report.Figures, func(s fit.SettingResult) (low, high float64) { return s.Low, s.High }),
		report.Number("bootstrap_error", "± of repeated fits", "Standard deviation of repeated fits", report.Figures, func(s fit.SettingResult) float64 { return s.BootstrapError }),
		report.Interval("bootstrap_95", "95 % of them", "Interval of 95 % of repeated fits", report.Figures, func(s fit.SettingResult) (low, high float64) {
			return s.BootstrapInterval.Low, s.BootstrapInterval.High
		}),
	}
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
	off := append(overNumbers().Pick("distance_ft", "board_off", "speed_off_mph", "time_off_s"), report.Truth("outlier", "outlier", "Whether it is an outlier", func(p trackPoint) bool { return p.off.Outlier }))
	return o.With("clock_start_s", s.ClockStart, "rms", scatterColumns().Members(s.RMS), "outlier", s.Outlier, "points", report.Each(r.points(i), off.Members))
}

// WriteJSON writes the fit as JSON, with a line for each shot.
func (r *Fit) WriteJSON(to io.Writer) error {
	shots := report.Lines{}
	for i := range r.Result.Shots {
		shots = append(shots, r.shotObject(i))
	}
	settings := slices.Insert(settingColumns(), 3, report.Word("kept_because", "kept because", "Why the setting was kept", func(s fit.SettingResult) string { return keptWords[s.Held] }))
	return report.WriteJSON(to, report.ObjectOf(
		"model", report.Model, "warnings", report.Texts(r.Warnings),
		"friction", report.Each(r.Result.Settings, settings.Members), "friction_yaml", r.yaml(), "correlations", r.Result.Correlations,
		"scatter", scatterColumns().Members(r.Result.Scatter), "readings", r.Result.Readings, "free_readings", r.Result.FreeReadings,
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
		report.Text("shot", "shot", "Name of the shot", func(p trackPoint) string { return p.shot }),
		report.Text("bowler", "bowler", "Name of the bowler", func(p trackPoint) string { return p.bowler }),
		report.Text("ball", "ball", "Name of the ball", func(p trackPoint) string { return p.ball }),
	}
}

var (
	distanceRead = report.Number("distance_ft", "distance", "Distance from the foul line", asWritten(report.Foot), func(p trackPoint) float64 { return asRead(report.Foot.In(p.read.Distance)) })
	boardRead    = report.Number("board", "board", "Board that was read", report.Board, func(p trackPoint) float64 { return p.read.Board })
)

// trackPointColumns returns the columns of tracks and of the computed values.
func trackPointColumns() report.Columns[trackPoint] {
	return append(pointNames(), distanceRead, boardRead,
		report.Number("time_s", "time", "Time that was read", report.Second, func(p trackPoint) float64 { return p.read.Time }),
		report.Number("speed_mph", "speed", "Speed that was read", asWritten(report.MPH), func(p trackPoint) float64 { return asRead(report.MPH.In(p.read.Speed)) }),
		report.Number("board_fitted", "fitted board", "Board that was computed", report.Board, func(p trackPoint) float64 { return p.read.Board - p.off.Board }),
		report.Number("time_fitted_s", "fitted time", "Time that was computed", report.Second, func(p trackPoint) float64 { return p.read.Time - p.off.Time }),
		report.Number("speed_fitted_mph", "fitted speed", "Speed that was computed", report.MPH, func(p trackPoint) float64 { return p.read.Speed - p.off.Speed }),
	)
}

// asWritten returns the unit for numbers that are already in it.
func asWritten(u report.Unit) report.Unit {
	u.Size = 1
	return u
}

// points returns the points of a shot.
func (r *Fit) points(i int) (list []trackPoint) {
	t := r.Study.Shots[i].Track
	for k, p := range t.Points {
		list = append(list, trackPoint{t.Shot, r.Bowlers[t.Bowler], r.Balls[t.Ball], p, r.Result.Shots[i].Residuals[k]})
	}
	return list
}

// Rows returns a row for each point.
func (r *Fit) Rows() report.Rows {
	var points []trackPoint
	for i := range r.Result.Shots {
		points = append(points, r.points(i)...)
	}
	return report.RowsOf(trackPointColumns(), slices.Values(points))
}

// oneBoard is the unit of a lateral position.
var oneBoard = report.Unit{Name: "board", Size: 1, Decimals: 1}

// releaseUnit returns the unit of a quantity of a release.
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
