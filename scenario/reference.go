package scenario

import (
	"fmt"
	"slices"
	"strings"

	"lanesim/report/thrown"
)

// Reference returns a page in Markdown that lists every field of scenario and
// pattern files: key, meaning, unit, default and limits.
func Reference() string {
	r := page{seen: map[*shape]bool{}}
	r.WriteString("# Fields of a scenario file\n\n")
	r.WriteString("Quantities are a number and a unit (`18.5 mph`, `4 1/2 in`, `2.5e-7 m`); every unit of the same dimension is accepted. " +
		"A number without a unit is accepted only where the table has no unit.\n\n" +
		"Defaults marked *assumed* are calibration constants, not measurements. " + limitsNote + "\n\n")
	r.units()
	r.mapping("Scenario", "", scenarioShape)
	r.assumedValues()
	r.coversAndFinishes()
	r.levels()
	r.builtinBowlers()
	r.measurements()
	return strings.TrimRight(r.String(), "\n") + "\n"
}

// page is a page in Markdown.
type page struct {
	strings.Builder
	seen map[*shape]bool
}

// units lists the units of each dimension.
func (r *page) units() {
	r.WriteString("| dimension | units |\n| --- | --- |\n")
	for _, d := range dimensions {
		var all []string
		for _, u := range d.units {
			all = append(append(all, u.name), u.aliases...)
		}
		fmt.Fprintf(r, "| %s | `%s` |\n", d.name, strings.Join(all, "` `"))
	}
	r.WriteString("\n")
}

// mapping writes a table for each form of a mapping, then for the mappings in it.
func (r *page) mapping(title, path string, s *shape) {
	if r.seen[s] {
		return
	}
	r.seen[s] = true
	for i := range s.forms {
		f := &s.forms[i]
		heading := title
		if len(s.forms) > 1 {
			heading += ": " + f.title
		}
		fmt.Fprintf(r, "## %s\n\n| key | meaning | unit | default | hard limits | limits listed |\n| --- | --- | --- | --- | --- | --- |\n", heading)
		for _, g := range f.fields {
			if f.library && !slices.Contains([]string{fromKey, asKey, "name"}, g.key) {
				continue // as in the tables above
			}
			fmt.Fprintf(r, "| `%s` | %s | %s | %s | %s | %s |\n", g.key, g.meaning, g.shape.unitText(), g.defaultText(), g.shape.limitsText(), g.listedText())
		}
		r.WriteString("\n")
		for _, c := range f.choices {
			rule := "At most one of `%s` may be given.\n\n"
			if c.missing != "" {
				rule = "Exactly one of `%s` must be given.\n\n"
			}
			fmt.Fprintf(r, rule, strings.Join(c.keys, "`, `"))
		}
	}
	for _, f := range s.forms {
		for _, g := range f.fields {
			inner := g.shape
			for inner.items != nil && len(inner.forms) == 0 {
				inner = inner.items
			}
			if len(inner.forms) > 0 {
				p := join(path, g.key)
				r.mapping("`"+p+"`", p, inner)
			}
		}
	}
}

// levels lists the skill levels.
func (r *page) levels() {
	r.WriteString("## Skill levels for `repeatability`\n\nAll of them are *assumed*.\n\n| level | standard deviations |\n| --- | --- |\n")
	for _, l := range levels {
		fmt.Fprintf(r, "| `%s` | `%s` |\n", l.name, l.sigmas)
	}
	r.WriteString("\n")
}

// unitText describes the values of a shape.
func (s *shape) unitText() string {
	var parts []string
	if s.toggle {
		parts = append(parts, "`on`, `off`")
	}
	for _, w := range s.words {
		parts = append(parts, "`"+w+"`")
	}
	if n := s.number; n != nil {
		switch {
		case n.integer:
			parts = append(parts, "whole number")
		case n.dimension == nil:
			parts = append(parts, "number")
		default:
			parts = append(parts, n.unit)
		}
	}
	if s.text {
		parts = append(parts, "text")
	}
	if s.side {
		parts = append(parts, "boards `left` or `right`")
	}
	if s.items != nil {
		count := ""
		if s.least == s.most {
			count = fmt.Sprintf(" of %d", s.most)
		}
		parts = append(parts, "list"+count+": "+s.items.unitText())
	}
	if len(s.forms) > 0 {
		parts = append(parts, "mapping")
	}
	return strings.Join(parts, ", ")
}

// limitsText describes the limits of numbers.
func (s *shape) limitsText() string {
	for s.items != nil {
		s = s.items
	}
	if s.number == nil {
		return ""
	}
	return s.number.limits()
}

func (f *field) defaultText() string {
	switch {
	case f.required:
		return "required"
	case f.fallback == "{}":
		return "as below"
	case f.fallback != "" && f.assumed:
		return "`" + f.fallback + "` *(assumed)*"
	case f.fallback != "":
		return "`" + f.fallback + "`"
	}
	return f.note
}

func (f *field) listedText() string {
	if f.listed == nil {
		return ""
	}
	return f.listed.String()
}

// Meaning returns the meaning of the field at a path, such as "ball.layout.pin_to_pap": a
// sentence without its full stop. It is "" if there is no such field.
func Meaning(path string) string {
	if f := fieldAt(path); f != nil {
		return f.meaning
	}
	return ""
}

// SweepReference returns a page in Markdown that lists every field of a sweep file and
// every column of a sweep.
func SweepReference() string {
	r := &page{seen: map[*shape]bool{scenarioStandIn: true, varyStandIn: true}}
	r.WriteString("# Fields of a sweep file\n\n")
	r.mapping("Sweep", "", sweepShape)
	r.mapping("`vary`: a range", "", rangeShape(anyNumber))
	r.mapping("`want`, in a file for seek", wantKey, wantShape)
	r.WriteString("## Columns of a sweep\n\n| column | meaning | unit |\n| --- | --- | --- |\n")
	for _, c := range thrown.ShotColumns() {
		fmt.Fprintf(r, "| `%s` | %s | %s |\n", c.Key, c.Meaning, c.Unit.Name)
	}
	return strings.TrimRight(r.String(), "\n") + "\n"
}
