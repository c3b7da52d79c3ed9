package scenario

import (
	"fmt"
	"math"

	"lanesim/ball"
	"lanesim/internal/input"
	"lanesim/lane"
)

// coverKey is the key of a ball's cover.
const coverKey = "cover"

func coverNumbers(c *ball.Cover) quantities { return quantities{{"dry", &c.Dry}, {"film", &c.Film}} }

// coverMappings returns the named covers as mappings.
func coverMappings() map[string]string {
	all := map[string]string{}
	for _, c := range ball.Covers() {
		all[c.Name] = fmt.Sprintf("{dry: %s, film: %s, soak_in: %s}", formatBare(c.Dry), formatBare(c.Film), soakInText(c.SoakIn))
	}
	return all
}

// coverShape is a cover by name or by its numbers; numbers left out are those of the
// default cover.
var coverShape = &shape{what: "a cover", words: input.Each(ball.Covers(), func(c ball.Cover) string { return c.Name }), written: coverMappings(), forms: []form{{title: "a cover", fields: coverNumbers(&defaultBall.Cover).usual(
	field{key: "dry", meaning: "Coefficient of friction of a dry contact: the lane's is multiplied by this over " + formatBare(defaultBall.Cover.Dry),
		shape: mu, assumed: true},
	field{key: "film", meaning: "Coefficient of friction on a full film: the lane's is multiplied by this over " + formatBare(defaultBall.Cover.Film),
		shape: mu, assumed: true},
	field{key: "soak_in", meaning: "Time in which the cover soaks up all but 1/e of the film on it; `never` if it soaks up nothing",
		shape: soakIn, fallback: soakInText(defaultBall.Cover.SoakIn), assumed: true},
)}}}

// cover resolves the cover.
func (r *reader) cover(v *value) ball.Cover {
	if v.bad {
		return ball.Cover{}
	}
	if v.form == nil {
		c, _ := ball.CoverNamed(v.word)
		return c
	}
	c := ball.Cover{SoakIn: v.field("soak_in").soakIn()}
	if coverNumbers(&c).read(v); v.sound() && c.Film > c.Dry {
		r.remark(v, "friction is higher on a full film (%s) than dry (%s).", formatBare(c.Film), formatBare(c.Dry))
	}
	return c
}

// soakIn returns the time in s that a soak-in value stands for.
func (v *value) soakIn() float64 {
	if v.word == never {
		return math.Inf(1)
	}
	return v.number
}

// soakInTimes warns if the film memory has another soak-in time than the given cover.
func (r *reader) soakInTimes(v *value, c ball.Cover) {
	cover, own := v.field(coverKey), v.field("film_memory").field("soak_in")
	if cover.given && cover.sound() && own.sound() && (cover.form == nil || cover.field("soak_in").given) && own.soakIn() != c.SoakIn {
		r.remark(own, "%s is used, not the %s of %s.", own.text, soakInText(c.SoakIn), cover.path)
	}
}

// covers checks the given covers with the lanes.
func (r *reader) covers(s *Scenario, lanes, balls []*value) {
	for i, b := range balls {
		given := b.field(coverKey)
		if !given.given || !given.sound() {
			continue
		}
		for j := range lanes {
			l := s.Lanes[j]
			switch {
			case !lanes[j].good("friction"):
			case l.Friction.Law != lane.Mixed:
				r.remark(given, "has no effect on the friction of %q, whose law is %s.", l.Name, l.Friction.Law)
			default:
				r.coverLimits(given, l, s.Balls[i].Cover)
			}
		}
	}
}

// coverLimits checks the friction of a cover on a lane against the limit of friction.
func (r *reader) coverLimits(v *value, l lane.Lane, c ball.Cover) {
	most := mu.number.must(mu.number.most.text)
	dry, film := c.Ratios()
	for i, key := range []string{"dry", "film"} {
		if made := [...]float64{dry * l.Friction.Dry, film * l.Friction.Film}[i]; made > most {
			at := v
			if v.has(key) {
				at = v.field(key)
			}
			r.fail(at, fmt.Sprintf("gives a coefficient of friction of %.4g on %q, above %s, the most allowed", made, l.Name, mu.number.most.text), "")
		}
	}
}

// coverInputs writes a cover: its name, or its numbers. A default soak-in time that is
// not used is left out, since reading it would give a warning.
func coverInputs(c ball.Cover, m ball.FilmMemory) any {
	if named, ok := ball.CoverNamed(c.Name); ok && named == c {
		return c.Name
	}
	o := coverNumbers(&c).write(nil, coverShape)
	if m.SoakIn != 0 && c.SoakIn == defaultBall.Cover.SoakIn {
		return o
	}
	return o.With("soak_in", soakInText(c.SoakIn))
}

// coversAndFinishes lists the named covers, and the Ra of grits and words.
func (r *page) coversAndFinishes() {
	r.WriteString("## Named covers\n\nAll of them are *assumed*; that plastic hooks least, then urethane, then reactive is common practice. " +
		"The friction of a lane is that of a " + defaultBall.Cover.Name + " cover on it; for another cover it is multiplied by the ratio of its numbers to those.\n\n" +
		"| cover | dry | film | soak-in time |\n| --- | --- | --- | --- |\n")
	for _, c := range ball.Covers() {
		fmt.Fprintf(r, "| `%s` | %s | %s | %s |\n", c.Name, formatBare(c.Dry), formatBare(c.Film), soakInText(c.SoakIn))
	}
	r.WriteString("\n## Finishes\n\nAll of them are *assumed*: no published table was found. Between grits, ln Ra is linear in ln grit.\n\n" +
		"| finish | Ra |\n| --- | --- |\n")
	for _, word := range ball.FinishWords() {
		ra, _ := ball.RoughnessOfFinish(word)
		fmt.Fprintf(r, "| `%s` | %s |\n", word, length.format(ra, "uin"))
	}
	for _, g := range ball.SandingGrits() {
		ra, _ := ball.RoughnessOfGrit(g)
		fmt.Fprintf(r, "| `%s` | %s |\n", grit.format(g, "grit"), length.format(ra, "uin"))
	}
	r.WriteString("\n")
}
