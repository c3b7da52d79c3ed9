package measured

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/report"
	"lanesim/studies"
	"lanesim/studies/fit"
)

// Table describes the settings, the scatter, the shots and the YAML.
func (r *Fit) Table(color report.Paint) string {
	var b strings.Builder
	if r.Title != "" {
		b.WriteString(color.Heading(r.Title) + "\n\n")
	}
	b.WriteString(r.settingsTable().String())
	b.WriteString("\n" + r.scatterLine() + "\n\n")
	b.WriteString(r.shotsTable().String())
	b.WriteString("\n" + color.Heading("To be put into the scenario:") + "\n\n" + r.yaml())
	return b.String()
}

func (r *Fit) settingsTable() report.Grid {
	shown := settingColumns()
	if r.Study.Bootstrap == 0 {
		shown = shown[:len(shown)-2]
	}
	t := report.TableOf(shown, slices.Values(r.Result.Settings))
	for i, s := range r.Result.Settings {
		if s.Held != fit.Fitted {
			t.Rows[i+1][2] = "kept"
		}
	}
	return t
}

// scatterLine says how far readings lie from the fit.
func (r *Fit) scatterLine() string {
	s := r.Result
	var parts []string
	for i, c := range scatterColumns() {
		if s.Readings[i] == 0 {
			continue
		}
		text := fmt.Sprintf("%s %s (%d readings", c.Show(s.Scatter), c.Unit.Name, s.Readings[i])
		if s.Assumed[i] {
			text += ", assumed"
		}
		parts = append(parts, text+")")
	}
	return "Standard deviation about the fit: " + strings.Join(parts, ", ")
}

// several reports whether shots differ in their balls or bowlers.
func (r *Fit) several() (balls, bowlers bool) {
	return len(r.Balls) > 1, len(r.Bowlers) > 1
}

// fittedNumbers lists what of the releases was fitted in any shot.
func (r *Fit) fittedNumbers() []studies.Varied {
	return slices.DeleteFunc(studies.AllVaried(), func(v studies.Varied) bool {
		return !slices.ContainsFunc(r.Result.Shots, func(s fit.ShotResult) bool { return slices.Contains(s.Fitted, v) })
	})
}

func (r *Fit) shotsTable() report.Grid {
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
		head = append(head, strings.ReplaceAll(v.String(), "_", " ")+", "+releaseUnit(v).Name, "±")
	}
	for i, c := range scatterColumns() {
		if r.Result.Readings[i] > 0 {
			head = append(head, c.Label)
		}
	}
	head = append(head, "")
	t.Rows = append(t.Rows, head)
	for i, s := range r.Result.Shots {
		track := r.Study.Shots[i].Track
		row := []string{track.Shot}
		if bowlers {
			row = append(row, r.Bowlers[track.Bowler])
		}
		if balls {
			row = append(row, r.Balls[track.Ball])
		}
		for _, v := range numbers {
			u, value, deviation := releaseUnit(v), *v.Of(&s.Release), math.NaN()
			if k := slices.Index(s.Fitted, v); k >= 0 {
				deviation = s.Errors[k]
			}
			row = append(row, report.WithUncertainty(u.In(value), u.In(deviation))...)
		}
		for k, c := range scatterColumns() {
			if r.Result.Readings[k] > 0 {
				row = append(row, c.Show(s.RMS))
			}
		}
		note, outliers := "", 0
		for _, p := range s.Residuals {
			if p.Outlier {
				outliers++
			}
		}
		switch {
		case s.Outlier:
			note = "fits worse than the others"
		case outliers == 1:
			note = "1 stray point"
		case outliers > 1:
			note = fmt.Sprintf("%d stray points", outliers)
		}
		t.Rows = append(t.Rows, append(row, note))
	}
	return t
}

const pasteDigits = 5 // of a setting in YAML: more than any track gives

// yaml is the friction, or the cover, as a scenario has it.
func (r *Fit) yaml() string {
	f := r.Result.Friction
	settings, cover := fit.FrictionSettings(f.Law), ball.Cover{}
	if c := r.Result.Cover; c != nil {
		settings, cover = fit.CoverSettings(), *c
	}
	var parts []string
	for _, s := range settings {
		value := s.Of(f, cover)
		text := strconv.FormatFloat(value, 'g', -1, 64)
		for _, one := range r.Result.Settings {
			if one.Setting == s && one.Held == fit.Fitted {
				text = strconv.FormatFloat(value, 'g', pasteDigits, 64)
			}
		}
		parts = append(parts, strings.TrimPrefix(s.String(), "cover.")+": "+text)
	}
	if r.Result.Cover != nil {
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

// Note is the sentence under a picture's title.
func (r *Fit) Note() string {
	text := ""
	for _, s := range r.Result.Settings {
		if s.Held != fit.Fitted {
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
	return fmt.Sprintf("Fitted: %s; boards scatter by %.3g about the lines.", text, r.Result.Scatter.Boards)
}
