package measured

import (
	"cmp"
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

// Table formats the settings, the scatter, the shots and the YAML for a scenario.
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

// scatterLine describes the scatter about the fit.
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

// fittedNumbers lists the quantities of the release that were fitted in any shot.
func (r *Fit) fittedNumbers() []studies.Varied {
	return slices.DeleteFunc(studies.AllVaried(), func(v studies.Varied) bool {
		return !slices.ContainsFunc(r.Result.Shots, func(s fit.ShotResult) bool { return slices.Contains(s.Fitted, v) })
	})
}

func (r *Fit) shotsTable() report.Grid {
	shown := pointNames()[:1]
	if len(r.Bowlers) > 1 {
		shown = append(shown, pointNames().Pick("bowler")...)
	}
	if len(r.Balls) > 1 {
		shown = append(shown, pointNames().Pick("ball")...)
	}
	columns := report.AllVia(shown, func(i int) (trackPoint, bool) { return r.points(i)[0], true })
	for _, v := range r.fittedNumbers() {
		u := releaseUnit(v)
		texts := func(i int) []string {
			s, deviation := r.Result.Shots[i], math.NaN()
			if k := slices.Index(s.Fitted, v); k >= 0 {
				deviation = s.Errors[k]
			}
			return report.WithUncertainty(u.In(*v.Of(&s.Release)), u.In(deviation))
		}
		columns = append(columns,
			report.Text(v.String(), strings.ReplaceAll(v.String(), "_", " ")+", "+u.Name, "Value for the shot", func(i int) string { return texts(i)[0] }).FlushRight(),
			report.Text(v.String()+"_error", "±", "Its standard error", func(i int) string { return texts(i)[1] }).FlushRight())
	}
	for k, c := range scatterColumns() {
		if r.Result.Readings[k] > 0 {
			columns = append(columns, report.Via(c, func(i int) (fit.Scatter, bool) { return r.Result.Shots[i].RMS, true }))
		}
	}
	columns = append(columns, report.Text("note", "", "What stands out", r.note).FlushRight())
	return report.TableOf(columns, func(yield func(int) bool) {
		for i := 0; i < len(r.Result.Shots) && yield(i); i++ {
		}
	})
}

// note describes what is unusual about a shot.
func (r *Fit) note(i int) string {
	s := r.Result.Shots[i]
	if s.Outlier {
		return "fits worse than the others"
	}
	if n := studies.CountWhere(s.Residuals, func(p fit.TrackResidual) bool { return p.Outlier }).Hits; n > 0 {
		return report.Counting(n, "outlier")
	}
	return ""
}

const pasteDigits = 5 // digits of a setting in YAML: more than any track determines

// yaml returns the friction, or the cover, for a scenario.
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

// Note returns the sentence under a picture's title.
func (r *Fit) Note() string {
	var parts []string
	for _, s := range r.Result.Settings {
		if s.Held != fit.Fitted {
			continue
		}
		text := fmt.Sprintf("%s %s", s.Setting, report.Figure(s.Value))
		if !math.IsNaN(s.Error) {
			text += fmt.Sprintf(" ± %.2g", s.Error)
		}
		parts = append(parts, text)
	}
	fitted := cmp.Or(strings.Join(parts, ", "), "nothing of the friction could be fitted")
	return fmt.Sprintf("Fitted: %s; boards scatter by %.3g about the lines.", fitted, r.Result.Scatter.Boards)
}
