package measured

import (
	"fmt"
	"math"
	"strings"

	"lanesim/internal/input"
	"lanesim/studies"
	"lanesim/studies/fit"
	"lanesim/units"
)

var settingWords = map[fit.FrictionSetting]string{
	fit.FilmFriction: "film friction", fit.DryFriction: "dry friction", fit.EntrainedShare: "the share of film entrained",
	fit.ConstantFriction: "friction", fit.CoverFilm: "film friction of the cover", fit.CoverDry: "dry friction of the cover",
}

func settingsWords(list []fit.FrictionSetting) (words []string) {
	for _, s := range list {
		words = append(words, settingWords[s])
	}
	return words
}

// keptWords say why a setting was kept at its first guess.
var keptWords = map[fit.Kept]string{
	fit.DryLane: "the lane is dry", fit.Insensitive: "the tracks do not depend on it enough to tell",
}

// Cautions returns what the tracks cannot determine, and what is unusual.
func (r *Fit) Cautions() []string {
	var all []string
	add := func(format string, values ...any) { all = append(all, fmt.Sprintf(format, values...)) }
	var active []fit.FrictionSetting // fitted settings
	for _, s := range r.Result.Settings {
		if s.Held != fit.Fitted {
			add("%s does not follow from the tracks, and was kept at %.4g: %s", settingWords[s.Setting], s.Value, keptWords[s.Held])
		} else {
			active = append(active, s.Setting)
		}
	}
	if r.Result.Singular {
		add("the tracks do not tell %s and the shots' releases apart: no errors can be given", input.List(settingsWords(active)))
	}
	tied := false
	for i := range r.Result.Correlations {
		for j := range i {
			if c := r.Result.Correlations[i][j]; math.Abs(c) > fit.Tied {
				tied = true
				add("the tracks hardly tell %s from %s (correlation of their errors %.3f): %s",
					settingWords[active[j]], settingWords[active[i]], c, sense(c))
			}
		}
	}
	if weak := r.Result.Weak; !tied && weak != nil {
		add("the tracks hardly tell %s apart: taken together they can change much without the tracks changing", input.List(settingsWords(weak)))
	}
	for _, tie := range r.Result.Ties {
		with := settingWords[tie.Setting]
		if tie.With < studies.VariedCount {
			with = variedWords(tie.With)
		}
		add("the tracks hardly tell %s from %s in %d of %d shots", variedWords(tie.Number), with, tie.Shots, len(r.Study.Shots))
	}
	if r.Result.ShortOfOilEnd {
		add("no track reaches well past the oil, which ends at %.1f ft: film and dry friction can be told apart only by what the oil leaves dry", r.Study.Lane.Oil.Length()/units.Foot)
	}
	for _, s := range r.Result.Settings {
		if s.AtLimit {
			add("%s ended at the limit of what is searched, %.4g", settingWords[s.Setting], s.Value)
		}
	}
	for c, name := range []string{"boards", "speeds", "times"} {
		if r.Result.Assumed[c] {
			add("the scatter of the %s cannot be estimated from so few: it is assumed to be the usual %s", name,
				[]string{"1 board", "0.3 mph", "1/30 s"}[c])
		}
	}
	for i, s := range r.Result.Shots {
		track := r.Study.Shots[i].Track
		if s.Outlier {
			add("shot %q fits worse than the others: its readings are %.2g boards off (root mean square)", track.Shot, s.RMS.Boards)
			continue
		}
		var at []string
		for k, p := range s.Residuals {
			if p.Outlier {
				at = append(at, fmt.Sprintf("%.4g ft", track.Points[k].Distance/units.Foot))
			}
		}
		if at != nil {
			add("shot %q: what was read at %s is more than %g times the scatter off", track.Shot, input.List(at), fit.OutlierPoint)
		}
	}
	if failed := r.Result.Failed; failed > 0 {
		add("%d of %d repeated fits did not settle and are left out", failed, failed+r.Result.Repetitions)
	}
	return all
}

// sense describes the changes of two settings that cancel.
func sense(correlation float64) string {
	if correlation > 0 {
		return "more of both fits nearly as well"
	}
	return "more of one and less of the other fits nearly as well"
}

func variedWords(v studies.Varied) string { return strings.ReplaceAll(v.String(), "_", " ") }
