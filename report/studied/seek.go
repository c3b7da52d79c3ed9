package studied

import (
	"fmt"
	"io"
	"math"
	"strings"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/studies/seek"
)

// Seek is what was found for what was wanted of shots.
type Seek struct {
	Title    string
	Warnings []string
	Want     seek.Want
	Varied   []SoughtField
	Found    []seek.Found    // the better first
	Values   [][]report.Cell // of the fields, for each
	Foot     float64         // boards from the sliding foot to the ball

	// Shots are those of each at a few phases, and Pocket is the window of boards that
	// counts as the pocket, if a picture is drawn.
	Shots  [][]physics.Shot
	Pocket physics.Window
}

// Place calls what was found by its rank.
func Place(k int) string {
	return []string{"best", "second", "third", "fourth", "fifth"}[min(k, 4)]
}

// SoughtField is a field that varies.
type SoughtField struct{ Path, Unit string }

// soughtNumbers are what can be wanted, in the order of [seek.Want.Values].
var soughtNumbers = []struct {
	key, label string
	unit       report.Unit
}{
	{"friction_read_ft", "friction read", report.Foot},
	{"breakpoint_ft", "breakpoint", report.Foot},
	{"breakpoint_board", "breakpoint", report.Board},
	{"entry_board", "entry", report.Board},
	{"entry_angle_deg", "entry angle", report.Degree},
}

// wanted says a number with its unit.
func (s *Seek) wanted(i int, v float64) string {
	n := soughtNumbers[i]
	if n.unit.Name == report.Board.Name {
		return "board " + n.unit.Show(v)
	}
	return n.unit.Show(v) + " " + n.unit.Name
}

// valueText is a field's value with its unit.
func (s *Seek) valueText(found, field int) string {
	c := s.Values[found][field]
	if c.Text != "" && s.Varied[field].Unit == "" {
		if _, err := fmt.Sscanf(c.Text, "%g", new(float64)); err != nil {
			return c.Text
		}
	}
	return strings.TrimSpace(report.Digits(c.Number, 4) + " " + s.Varied[field].Unit)
}

// Settings are the values of the fields at a place.
func (s *Seek) Settings(k int) []string {
	var list []string
	for i, f := range s.Varied {
		list = append(list, f.Path+" "+s.valueText(k, i))
	}
	return list
}

// Does says what is wanted of a shot and what a place brings of it.
func (s *Seek) Does(k int) []string {
	var list []string
	got := s.Found[k].Does.Values()
	for i, want := range s.Want.Values() {
		if math.IsNaN(want) {
			continue
		}
		text := soughtNumbers[i].label + " at " + s.wanted(i, got[i])
		if math.IsNaN(got[i]) {
			text = "no " + soughtNumbers[i].label
		}
		list = append(list, text+", wanted "+s.wanted(i, want))
	}
	return list
}

// Answer says the best place in a sentence or two.
func (s *Seek) Answer() string {
	best := s.Found[0]
	words := "With " + strings.Join(s.Settings(0), ", ") + ": " + strings.Join(s.Does(0), "; ") + "."
	if !best.Near {
		words = "Nothing in these ranges does what is wanted; the nearest: " + strings.ToLower(words[:1]) + words[1:]
	}
	if best.Near && best.Sets > 0 {
		words += fmt.Sprintf(" It stays that near in %d of %d sets of the values that are assumed", best.NearIn, best.Sets)
		if 4*best.NearIn < 3*best.Sets {
			words += ", so whether it does on a given lane is open"
		}
		words += "."
	}
	return words
}

// Document reports what was found for people.
func (s *Seek) Document() report.Document {
	doc := report.Document{Title: s.Title}
	doc.SayWrapped(s.Answer())
	g := report.Grid{Left: []bool{true}, Rows: [][]string{{"", "wanted"}}}
	for k := range s.Found {
		g.Rows[0] = append(g.Rows[0], Place(k))
	}
	add := func(name, want string, of func(k int) string) {
		row := []string{name, want}
		for k := range s.Found {
			row = append(row, of(k))
		}
		g.Rows = append(g.Rows, row)
	}
	for i, f := range s.Varied {
		add(f.Path, "", func(k int) string { return s.valueText(k, i) })
	}
	for _, c := range thrown.LineColumns() {
		add(c.Head(), "", func(k int) string { return c.Show(thrown.Shot{Release: s.Found[k].Setup.Release, FootToBall: s.Foot}) })
	}
	for i, want := range s.Want.Values() {
		n := soughtNumbers[i]
		label := report.WithUnit(n.label, n.unit)
		if n.key == "breakpoint_board" {
			label = "breakpoint, board"
		}
		add(label, n.unit.Show(want), func(k int) string { return n.unit.Show(s.Found[k].Does.Values()[i]) })
		if math.IsNaN(want) {
			continue
		}
		add("  off by", "", func(k int) string {
			d := n.unit.In(s.Found[k].Does.Values()[i]) - n.unit.In(want)
			if math.IsNaN(d) {
				return report.Absent
			}
			return report.Signed(d, 2)
		})
		if s.Found[0].Sets > 0 {
			add("  with other assumed values", "", func(k int) string {
				return n.unit.Show(s.Found[k].Low.Values()[i]) + " to " + n.unit.Show(s.Found[k].High.Values()[i])
			})
		}
	}
	add("near in sets of assumed values", "", func(k int) string {
		return fmt.Sprintf("%d of %d", s.Found[k].NearIn, s.Found[k].Sets)
	})
	doc.Table(g)
	doc.Say("Near is within 1 ft, half a board and 0.5°, which is assumed. Numbers are means over\n12 phases of the release.")
	return doc
}

// seekNumbers are numbers as members.
func seekNumbers(w seek.Want) report.Object {
	var o report.Object
	for i, v := range w.Values() {
		o = append(o, report.ObjectOf(soughtNumbers[i].key, soughtNumbers[i].unit.In(v))...)
	}
	return o
}

// WriteJSON writes what was found as JSON.
func (s *Seek) WriteJSON(to io.Writer) error {
	list := report.List{}
	for k, f := range s.Found {
		var values report.Object
		for i, q := range s.Varied {
			var v any = s.Values[k][i].Number
			if c := s.Values[k][i]; c.Text != "" && c.Number == 0 {
				v = c.Text
			}
			values = append(values, report.ObjectOf(q.Path, report.ObjectOf("value", v, "unit", q.Unit))...)
		}
		list = append(list, report.ObjectOf("values", values, "line", thrown.LineColumns().Members(thrown.Shot{Release: f.Setup.Release, FootToBall: s.Foot}),
			"launch_angle_deg", report.Degree.In(f.Setup.Release.Angle), "does", seekNumbers(f.Does), "off", f.Off, "near", f.Near,
			"assumed_sets", report.ObjectOf("of", f.Sets, "near", f.NearIn, "low", seekNumbers(f.Low), "high", seekNumbers(f.High))))
	}
	return report.WriteResult(to, s.Warnings, report.ObjectOf("answer", s.Answer(), "want", seekNumbers(s.Want), "found", list)...)
}
