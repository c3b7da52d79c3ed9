package plots

import (
	"fmt"
	"image/png"
	"slices"
	"strings"
	"testing"

	"lanesim/lane"
	"lanesim/patterns"
	"lanesim/report/lists"
	"lanesim/units"
)

// patternFigure is a pattern with its sections.
type patternFigure struct {
	figure   Figure
	sections []patterns.Section
}

// patternFigures returns patterns of every kind, each with the distances of its sections.
func patternFigures(t *testing.T) map[string]patternFigure {
	t.Helper()
	all := map[string]patternFigure{}
	add := func(name, title string, o *lane.OilMap, count int, feet ...float64) {
		distances := make([]float64, len(feet))
		for i, d := range feet {
			distances[i] = d * units.Foot
		}
		l := lane.Default()
		l.Oil = o
		m := patterns.MeasureAt(o, patterns.BoardSets{}, distances)
		all[name] = patternFigure{Figure{Title: title, Note: lists.DescribePattern(m), Lane: l}, m.Sections[:count]}
	}
	crown := func(feet, ratio, frontToBack float64) *lane.OilMap {
		o, err := patterns.Crown{Length: feet * units.Foot, Volume: 25e-6, Ratio: ratio, FrontToBack: frontToBack}.Build()
		if err != nil {
			t.Fatal(err)
		}
		return o
	}
	grid := func(units func(board int) float64) *lane.OilMap {
		g := patterns.Grid{Distances: []float64{0, 12}}
		for range g.Distances {
			row := make([]float64, lane.Boards)
			for j := range row {
				row[j] = units(j + 1)
			}
			g.Units = append(g.Units, row)
		}
		o, err := g.Build()
		if err != nil {
			t.Fatal(err)
		}
		return o
	}
	add("house", "A house pattern with a long name that may need a second line on a phone", crown(40, 10, 0), 3, 8, 15, 22)
	add("steep", "Steep", crown(40, 14, 0), 3, 8, 15, 22)
	add("level", "Level along the lane: the curves lie on each other", crown(40, 4, 1), 3, 8, 15, 22)
	add("beyond", "Beyond the oil and beyond the lane", crown(35, 1, 0), 4, 34, 36, 59.9, 61)
	add("close", "Close together", crown(45, 3, 0), 4, 20, 20.5, 21, 21.5)
	add("one", "One section", crown(45, 3, 0), 1, 0)
	add("thin", "Less than a unit", grid(func(int) float64 { return 0.02 }), 2, 1, 20)
	add("heavy", "Thousands of units", grid(func(board int) float64 { return 4000 * float64(board) }), 3, 1, 20, 30)
	add("half", "Dry on the right, so without a ratio there", grid(func(board int) float64 { return max(0, float64(board-20)) }), 3, 1, 20, 30)
	add("dry", "A dry lane", nil, 3, 8, 15, 22)
	return all
}

func TestPatternTextsKeepClear(t *testing.T) {
	for name, f := range patternFigures(t) {
		for _, size := range []Size{Sheet, Phone} {
			for _, caution := range []string{"", lists.ReadingCaution} {
				t.Run(fmt.Sprintf("%s/%d/%v", name, size, caution != ""), func(t *testing.T) {
					f.figure.Size = size
					d := drawn(t)(Pattern(f.figure, f.sections, caution))
					texts := checkTexts(t, d)
					all := strings.Join(texts, " ")
					for _, s := range f.sections {
						if !slices.Contains(texts, plainFeet(s.Distance)) {
							t.Errorf("no label %q in %q", plainFeet(s.Distance), all)
						}
					}
					if caution != "" && !strings.Contains(strings.ReplaceAll(all, noBreak, " "), "may differ by a twentieth") {
						t.Errorf("no caution in %q", all)
					}
				})
			}
		}
	}
}

// The curves show the film's values: each section's line passes through them on the scale
// of the axis numbers.
func TestPatternCurvesLieOnTheirAxes(t *testing.T) {
	f := patternFigures(t)["half"]
	d := drawn(t)(Pattern(f.figure, f.sections, ""))
	places := map[string]point{}
	for i, s := range nonEmpty(d.Texts()) {
		places[s] = d.boxes()[i].centre() // the last occurrence is in the panel of sections
	}
	x := func(board float64) float64 {
		a, b := places["35"], places["5"]
		return a.x + (35-board)/30*(b.x-a.x)
	}
	found := 0
	for _, e := range d.elements {
		line, ok := e.(lineElement)
		if !ok || len(line.points) != lane.Boards+2 {
			continue
		}
		units := f.sections[found].Units
		found++
		for j, u := range units {
			at := line.points[j+1]
			if want := x(float64(j + 1)); at.x-want > 0.5 || want-at.x > 0.5 {
				t.Fatalf("board %d is drawn at %g, its number would be at %g", j+1, at.x, want)
			}
			if want := axisAt(d, u); at.y-want > 0.5 || want-at.y > 0.5 {
				t.Fatalf("%g units on board %d are drawn at %g, want %g", u, j+1, at.y, want)
			}
		}
	}
	if found != len(f.sections) {
		t.Errorf("%d curves for %d sections", found, len(f.sections))
	}
}

// axisAt returns the height of a film on the axis of the panel of sections, computed from
// the places of the numbers 0 and 5 to its left.
func axisAt(d *Drawing, units float64) float64 {
	heights := map[string]float64{}
	below := false
	for i, s := range nonEmpty(d.Texts()) {
		if strings.HasPrefix(s, "film across") {
			below = true
			continue
		}
		if _, there := heights[s]; below && !there {
			heights[s] = d.boxes()[i].centre().y
		}
	}
	return heights["0"] + units/5*(heights["5"]-heights["0"])
}

func TestPatternPicture(t *testing.T) {
	f := patternFigures(t)["house"]
	for size, width := range map[Size]int{Sheet: 1200, Phone: 1080} {
		f.figure.Size = size
		d := drawn(t)(Pattern(f.figure, f.sections, ""))
		picture, err := png.Decode(fileOf(t, d, "png"))
		if err != nil || picture.Bounds().Dx() != width {
			t.Errorf("size %d: %v, %v", size, picture.Bounds(), err)
		}
	}
}

func TestPatternsThatCannotBeDrawnAreErrors(t *testing.T) {
	f := patternFigures(t)["house"]
	shots := f.figure
	shots.Series = []Series{usual().series("")}
	for name, c := range map[string]patternFigure{
		"shots":   {shots, f.sections},
		"none":    {f.figure, nil},
		"crowd":   {f.figure, make([]patterns.Section, maxOverlay+1)},
		"no film": {f.figure, make([]patterns.Section, 1)},
	} {
		if _, err := Pattern(c.figure, c.sections, ""); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
