package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/report"
	"lanesim/studies"
)

// table tells the settings, the scatter, the shots and the YAML.
func (r fitRun) table(color report.Paint) string {
	var b strings.Builder
	if t := title(r.scenario); t != "" {
		b.WriteString(color.Heading(t) + "\n\n")
	}
	b.WriteString(r.settingsTable().String())
	b.WriteString("\n" + r.scatterLine() + "\n\n")
	b.WriteString(r.shotsTable().String())
	b.WriteString("\n" + color.Heading("To be put into the scenario:") + "\n\n" + r.yaml())
	return b.String()
}

// interval prints two ends.
func interval(low, high float64) string {
	if math.IsNaN(low) || math.IsNaN(high) {
		return report.Absent
	}
	return report.Figure(low) + " to " + report.Figure(high)
}

func (r fitRun) settingsTable() report.Grid {
	t := report.Grid{Left: []bool{true}}
	head := []string{"friction", "first guess", "fitted", "± standard error", "95 % interval"}
	if r.study.Bootstrap > 0 {
		head = append(head, "± of repeated fits", "95 % of them")
	}
	t.Rows = append(t.Rows, head)
	for _, s := range r.result.Settings {
		row := []string{s.Setting.String(), report.Figure(s.Start), report.Figure(s.Value), report.Figure(s.Error), interval(s.Low, s.High)}
		if s.Held != "" {
			row[2] = "kept"
		}
		if r.study.Bootstrap > 0 {
			row = append(row, report.Figure(s.BootstrapError), interval(s.BootstrapLow, s.BootstrapHigh))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// scatterLine tells how far readings lie from the fit.
func (r fitRun) scatterLine() string {
	s := r.result
	var parts []string
	for i, one := range []struct {
		value float64
		unit  string
	}{{s.Scatter.Boards, "boards"}, {milesPerHour(s.Scatter.Speed), "mph"}, {s.Scatter.Time, "s"}} {
		if s.Readings[i] == 0 {
			continue
		}
		text := fmt.Sprintf("%s %s (%d readings", report.Figure(one.value), one.unit, s.Readings[i])
		if s.Assumed[i] {
			text += ", assumed"
		}
		parts = append(parts, text+")")
	}
	return "Standard deviation about the fit: " + strings.Join(parts, ", ")
}

// several reports whether shots differ in their balls or bowlers.
func (r fitRun) several() (balls, bowlers bool) {
	return len(r.scenario.Balls) > 1, len(r.scenario.Bowlers) > 1
}

// fittedNumbers lists what of the releases was fitted in any shot.
func (r fitRun) fittedNumbers() []studies.Varied {
	var list []studies.Varied
	for _, v := range studies.AllVaried() {
		for _, s := range r.result.Shots {
			if indexOf(s.Fitted, v) >= 0 {
				list = append(list, v)
				break
			}
		}
	}
	return list
}

func indexOf(list []studies.Varied, v studies.Varied) int {
	for i, w := range list {
		if w == v {
			return i
		}
	}
	return -1
}

func (r fitRun) shotsTable() report.Grid {
	balls, bowlers := r.several()
	t := report.Grid{Left: []bool{true, balls || bowlers, balls && bowlers}}
	head := []string{"shot"}
	if bowlers {
		head = append(head, "bowler")
	}
	if balls {
		head = append(head, "ball")
	}
	numbers := r.fittedNumbers()
	for _, v := range numbers {
		unit, _ := releaseUnits(v)
		head = append(head, strings.ReplaceAll(v.String(), "_", " ")+", "+unit, "±")
	}
	rms := []struct {
		name string
		of   func(studies.Scatter) float64
	}{
		{"boards off", func(s studies.Scatter) float64 { return s.Boards }},
		{"mph off", func(s studies.Scatter) float64 { return milesPerHour(s.Speed) }},
		{"s off", func(s studies.Scatter) float64 { return s.Time }},
	}
	for i, m := range rms {
		if r.result.Readings[i] > 0 {
			head = append(head, m.name)
		}
	}
	head = append(head, "")
	t.Rows = append(t.Rows, head)
	for i, s := range r.result.Shots {
		track := r.study.Shots[i].MeasuredTrack
		row := []string{track.Shot}
		if bowlers {
			row = append(row, r.scenario.Bowlers[track.Bowler].Name)
		}
		if balls {
			row = append(row, r.scenario.Balls[track.Ball].Name)
		}
		for _, v := range numbers {
			_, convert := releaseUnits(v)
			e := report.Absent
			if k := indexOf(s.Fitted, v); k >= 0 {
				e = strconv.FormatFloat(convert(s.Errors[k]), 'g', errorDigits, 64)
			}
			row = append(row, report.Figure(convert(ofRelease(s.Release, v))), e)
		}
		for c, m := range rms {
			if r.result.Readings[c] > 0 {
				row = append(row, report.Figure(m.of(s.RMS)))
			}
		}
		note, strays := "", 0
		for _, p := range s.Residuals {
			if p.Outlier {
				strays++
			}
		}
		switch {
		case s.Outlier:
			note = "fits worse than the others"
		case strays == 1:
			note = "1 stray point"
		case strays > 1:
			note = fmt.Sprintf("%d stray points", strays)
		}
		t.Rows = append(t.Rows, append(row, note))
	}
	return t
}

const (
	errorDigits = 2 // of a standard error
	pasteDigits = 5 // of a setting in YAML: more than any track tells
)

// yaml is the friction, or the cover, as a scenario has it.
func (r fitRun) yaml() string {
	f := r.result.Friction
	settings, cover := studies.FrictionSettings(f.Law), ball.Cover{}
	if c := r.result.Cover; c != nil {
		settings, cover = studies.CoverSettings(), *c
	}
	var parts []string
	for _, s := range settings {
		value := s.Of(f, cover)
		text := strconv.FormatFloat(value, 'g', -1, 64)
		for _, one := range r.result.Settings {
			if one.Setting == s && one.Held == "" {
				text = strconv.FormatFloat(value, 'g', pasteDigits, 64)
			}
		}
		parts = append(parts, strings.TrimPrefix(s.String(), "cover.")+": "+text)
	}
	if r.result.Cover != nil {
		soakIn := "never"
		if !math.IsInf(cover.SoakIn, 1) {
			soakIn = strconv.FormatFloat(cover.SoakIn, 'g', -1, 64) + " s"
		}
		return "ball:\n  cover: {" + strings.Join(parts, ", ") + ", soak_in: " + soakIn + "}\n"
	}
	law := string(f.Law)
	if law == "" {
		law = string(lane.Mixed)
	}
	return "lane:\n  friction: {law: " + law + ", " + strings.Join(parts, ", ") + "}\n"
}
