package studied

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/studies/seek"
)

// Seek has the places found for a wanted shot.
type Seek struct {
	Title    string
	Warnings []string
	Want     seek.Want
	Varied   []SoughtField
	Found    []seek.Result   // the better first
	Values   [][]report.Cell // values of the fields, for each place
	Foot     float64         // boards from the sliding foot to the ball's centre

	// Shots are the shots of each place at a few phases, and Pocket is the window of boards that counts as
	// the pocket; both only for a picture.
	Shots  [][]physics.Shot
	Pocket physics.Window
}

// Place returns the name of a place by its rank.
func Place(k int) string {
	return []string{"best", "second", "third", "fourth", "fifth"}[min(k, 4)]
}

// SoughtField is a field that varies.
type SoughtField struct{ Path, Unit string }

// sought are the quantities that can be wanted, in the order of [seek.Want.Values].
var sought = report.Columns[seek.Want]{
	report.Number("friction_read_ft", "friction read", "Distance where the friction is read", report.Foot, func(w seek.Want) float64 { return w.FrictionRead }),
	report.Number("breakpoint_ft", "breakpoint", "Distance of the breakpoint", report.Foot, func(w seek.Want) float64 { return w.BreakpointDistance }),
	report.Number("breakpoint_board", "breakpoint", "Board of the breakpoint", report.Board, func(w seek.Want) float64 { return w.Breakpoint }),
	report.Number("entry_board", "entry", "Board at the pins", report.Board, func(w seek.Want) float64 { return w.EntryBoard }),
	report.Number("entry_angle_deg", "entry angle", "Heading at the pins", report.Degree, func(w seek.Want) float64 { return w.EntryAngle }),
}

func withUnit(c report.Column[seek.Want], w seek.Want) string {
	if c.Unit.Name == report.Board.Name {
		return "board " + c.Show(w)
	}
	return c.Show(w) + " " + c.Unit.Name
}

func (s *Seek) valueText(found, field int) string {
	c := s.Values[found][field]
	if c.Text != "" && s.Varied[field].Unit == "" {
		if _, err := fmt.Sscanf(c.Text, "%g", new(float64)); err != nil {
			return c.Text
		}
	}
	return strings.TrimSpace(report.Digits(c.Number, 4) + " " + s.Varied[field].Unit)
}

// Settings returns the values of the fields at a place.
func (s *Seek) Settings(k int) []string {
	var list []string
	for i, f := range s.Varied {
		list = append(list, f.Path+" "+s.valueText(k, i))
	}
	return list
}

// Outcome describes the wanted numbers and those of a place.
func (s *Seek) Outcome(k int) []string {
	var list []string
	got := s.Found[k].Outcome
	for _, c := range sought {
		if c.Of(s.Want).Absent {
			continue
		}
		text := c.Label + " at " + withUnit(c, got)
		if c.Of(got).Absent {
			text = "no " + c.Label
		}
		list = append(list, text+", wanted "+withUnit(c, s.Want))
	}
	return list
}

// Answer describes the best place in one or two sentences.
func (s *Seek) Answer() string {
	best := s.Found[0]
	words := "With " + strings.Join(s.Settings(0), ", ") + ": " + strings.Join(s.Outcome(0), "; ") + "."
	if !best.Near {
		words = "No values in these ranges meet the goal; the nearest: " + strings.ToLower(words[:1]) + words[1:]
	}
	if best.Near && best.Sets > 0 {
		words += fmt.Sprintf(" It stays this close in %d of %d sets of assumed values", best.NearIn, best.Sets)
		if 4*best.NearIn < 3*best.Sets {
			words += ", so whether it does on a given lane is open"
		}
		words += "."
	}
	return words
}

// Document returns the places for people.
func (s *Seek) Document() report.Document {
	doc := report.Document{Title: s.Title}
	doc.SayWrapped(s.Answer())
	g := report.Grid{Left: []bool{true}}
	add := func(name, want string, of func(k int) string) {
		report.AddRow(&g, name, numbers(s.Found), of)
		g.Rows[len(g.Rows)-1] = slices.Insert(g.Rows[len(g.Rows)-1], 1, want)
	}
	add("", "wanted", Place)
	for i, f := range s.Varied {
		add(f.Path, "", func(k int) string { return s.valueText(k, i) })
	}
	for _, c := range thrown.LineColumns() {
		add(c.Head(), "", func(k int) string { return c.Show(thrown.Shot{Release: s.Found[k].Setup.Release, FootToBall: s.Foot}) })
	}
	for _, c := range sought {
		label := c.Head()
		if c.Key == "breakpoint_board" {
			label = "breakpoint, board"
		}
		add(label, c.Show(s.Want), func(k int) string { return c.Show(s.Found[k].Outcome) })
		if c.Of(s.Want).Absent {
			continue
		}
		add("  off by", "", func(k int) string { return c.ShowChange(s.Want, s.Found[k].Outcome) })
		if s.Found[0].Sets > 0 {
			add("  with other assumed values", "", func(k int) string { return c.Show(s.Found[k].Low) + " to " + c.Show(s.Found[k].High) })
		}
	}
	add("near in sets of assumed values", "", func(k int) string {
		return fmt.Sprintf("%d of %d", s.Found[k].NearIn, s.Found[k].Sets)
	})
	doc.Table(g)
	doc.Say("Near is within 1 ft, half a board and 0.5°, which is assumed. Numbers are means over\n12 phases of the release.")
	return doc
}

// WriteJSON writes the places as JSON.
func (s *Seek) WriteJSON(to io.Writer) error {
	list := report.List{}
	for k, f := range s.Found {
		var values report.Object
		for i, q := range s.Varied {
			var v any = s.Values[k][i].Number
			if c := s.Values[k][i]; c.Text != "" && c.Number == 0 {
				v = c.Text
			}
			values = values.With(q.Path, report.ObjectOf("value", v, "unit", q.Unit))
		}
		list = append(list, report.ObjectOf("values", values, "line", thrown.LineColumns().Members(thrown.Shot{Release: f.Setup.Release, FootToBall: s.Foot}),
			"launch_angle_deg", report.Degree.In(f.Setup.Release.Angle), "does", sought.Members(f.Outcome), "off", f.Off, "near", f.Near,
			"assumed_sets", report.ObjectOf("of", f.Sets, "near", f.NearIn, "low", sought.Members(f.Low), "high", sought.Members(f.High))))
	}
	return report.WriteResult(to, s.Warnings, report.ObjectOf("answer", s.Answer(), "want", sought.Members(s.Want), "found", list)...)
}
