package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"

	"lanesim/report"
	"lanesim/studies"
)

// settingRecord is a setting as it is printed. What does not exist is null.
type settingRecord struct {
	Setting        string    `json:"setting"`
	FirstGuess     number    `json:"first_guess"`
	Value          number    `json:"value"`
	Kept           *string   `json:"kept_because"`
	Error          number    `json:"standard_error"`
	Interval       [2]number `json:"interval_95"`
	BootstrapError number    `json:"bootstrap_error"`
	Bootstrap      [2]number `json:"bootstrap_95"`
}

// readingsRecord is a number of each kind of reading.
type readingsRecord struct {
	Boards number `json:"boards"`
	Speed  number `json:"speed_mph"`
	Time   number `json:"time_s"`
}

func recordScatter(s studies.Scatter) readingsRecord {
	return readingsRecord{number(s.Boards), number(milesPerHour(s.Speed)), number(s.Time)}
}

// asRead takes away what converting a reading to SI and back rounds.
func asRead(v float64) float64 {
	const decimals = 1e9 // more than anyone reads, fewer than the rounding has
	return math.Round(v*decimals) / decimals
}

// fittedRecord is a number of a release that was fitted.
type fittedRecord struct {
	Value number `json:"value"`
	Error number `json:"standard_error"`
}

// fitPointRecord is measured − computed at a point.
type fitPointRecord struct {
	Distance number `json:"distance_ft"`
	Board    number `json:"board_off"`
	Speed    number `json:"speed_off_mph"`
	Time     number `json:"time_off_s"`
	Outlier  bool   `json:"outlier"`
}

// fitShotRecord is a shot as fitted.
type fitShotRecord struct {
	Shot         string           `json:"shot"`
	Ball         string           `json:"ball"`
	Bowler       string           `json:"bowler"`
	Laydown      *fittedRecord    `json:"laydown"`
	Angle        *fittedRecord    `json:"angle_deg"`
	Speed        *fittedRecord    `json:"speed_mph"`
	RevRate      *fittedRecord    `json:"rev_rate_rpm"`
	AxisRotation *fittedRecord    `json:"axis_rotation_deg"`
	AxisTilt     *fittedRecord    `json:"axis_tilt_deg"`
	ClockStart   number           `json:"clock_start_s"`
	RMS          readingsRecord   `json:"rms"`
	Outlier      bool             `json:"outlier"`
	Points       []fitPointRecord `json:"points"`
}

// fitRecord is a fit as it is printed.
type fitRecord struct {
	Model        int             `json:"model"`
	Warnings     []string        `json:"warnings"`
	Friction     []settingRecord `json:"friction"`
	YAML         string          `json:"friction_yaml"`
	Correlations [][]number      `json:"correlations"`
	Scatter      readingsRecord  `json:"scatter"`
	Readings     [3]int          `json:"readings"`
	FreeReadings int             `json:"free_readings"`
	Repetitions  int             `json:"repetitions"`
	Failed       int             `json:"repetitions_failed"`
	Shots        []fitShotRecord `json:"shots"`
}

func (r fitRun) record() fitRecord {
	f := fitRecord{
		Model: model, Warnings: []string{}, Friction: []settingRecord{}, YAML: r.yaml(), Correlations: [][]number{},
		Scatter: recordScatter(r.result.Scatter), Readings: r.result.Readings, FreeReadings: r.result.FreeReadings,
		Repetitions: r.result.Repetitions, Failed: r.result.Failed,
	}
	f.Warnings = append(f.Warnings, r.warnings...)
	for _, s := range r.result.Settings {
		one := settingRecord{
			Setting: s.Setting.String(), FirstGuess: number(s.Start), Value: number(s.Value), Error: number(s.Error),
			Interval: [2]number{number(s.Low), number(s.High)}, BootstrapError: number(s.BootstrapError),
			Bootstrap: [2]number{number(s.BootstrapLow), number(s.BootstrapHigh)},
		}
		if s.Held != "" {
			one.Kept = &s.Held
		}
		f.Friction = append(f.Friction, one)
	}
	for _, row := range r.result.Correlations {
		var list []number
		for _, v := range row {
			list = append(list, number(v))
		}
		f.Correlations = append(f.Correlations, list)
	}
	for i := range r.result.Shots {
		f.Shots = append(f.Shots, r.recordShot(i))
	}
	return f
}

func (r fitRun) recordShot(i int) fitShotRecord {
	s, t := r.result.Shots[i], r.study.Shots[i].MeasuredTrack
	one := fitShotRecord{
		Shot: t.Shot, Ball: r.scenario.Balls[t.Ball].Name, Bowler: r.scenario.Bowlers[t.Bowler].Name,
		ClockStart: number(s.ClockStart), RMS: recordScatter(s.RMS), Outlier: s.Outlier,
	}
	for v, to := range map[studies.Varied]**fittedRecord{
		studies.VariedLaydown: &one.Laydown, studies.VariedAngle: &one.Angle, studies.VariedSpeed: &one.Speed,
		studies.VariedRevRate: &one.RevRate, studies.VariedAxisRotation: &one.AxisRotation, studies.VariedAxisTilt: &one.AxisTilt,
	} {
		if k := indexOf(s.Fitted, v); k >= 0 {
			_, convert := releaseUnits(v)
			*to = &fittedRecord{number(convert(ofRelease(s.Release, v))), number(convert(s.Errors[k]))}
		}
	}
	for k, p := range s.Residuals {
		one.Points = append(one.Points, fitPointRecord{
			number(asRead(feet(t.Points[k].Distance))), number(p.Board), number(milesPerHour(p.Speed)), number(p.Time), p.Outlier,
		})
	}
	return one
}

// encode prints the fit as JSON, a shot on a line.
func (r fitRun) encode() ([]byte, error) {
	f := r.record()
	shots := f.Shots
	f.Shots = []fitShotRecord{}
	text, err := encodeJSON(f)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	b.Write(bytes.TrimSuffix(text, []byte("]}")))
	for i, s := range shots {
		if i > 0 {
			b.WriteString(",")
		}
		line, err := encodeJSON(s)
		if err != nil {
			return nil, err
		}
		b.WriteString("\n")
		b.Write(line)
	}
	b.WriteString("]}\n")
	return b.Bytes(), nil
}

// encodeCSV prints a row for each point: the columns of tracks, and what is
// computed there. What does not exist is an empty cell.
func (r fitRun) encodeCSV() ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	if err := w.Write([]string{"shot", "bowler", "ball", "distance_ft", "board", "time_s", "speed_mph", "board_fitted", "time_fitted_s", "speed_fitted_mph"}); err != nil {
		return nil, err
	}
	cell := func(v float64) string { return csvCell(number(v)) }
	for i, s := range r.result.Shots {
		t := r.study.Shots[i].MeasuredTrack
		for k, p := range t.Points {
			off := s.Residuals[k]
			row := []string{t.Shot, r.scenario.Bowlers[t.Bowler].Name, r.scenario.Balls[t.Ball].Name}
			for _, v := range []float64{
				asRead(feet(p.Distance)), p.Board, p.Time, asRead(milesPerHour(p.Speed)),
				p.Board - off.Board, p.Time - off.Time, milesPerHour(p.Speed - off.Speed),
			} {
				row = append(row, cell(v))
			}
			if err := w.Write(row); err != nil {
				return nil, err
			}
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// about is the sentence under a picture's title.
func (r fitRun) about() string {
	text := ""
	for _, s := range r.result.Settings {
		if s.Held != "" {
			continue
		}
		if text != "" {
			text += ", "
		}
		text += fmt.Sprintf("%s %s", s.Setting, report.Figure(s.Value))
		if !math.IsNaN(s.Error) {
			text += fmt.Sprintf(" ± %.2g", s.Error)
		}
	}
	if text == "" {
		text = "nothing of the friction could be fitted"
	}
	return fmt.Sprintf("Fitted: %s; boards scatter by %.3g about the lines.", text, r.result.Scatter.Boards)
}
