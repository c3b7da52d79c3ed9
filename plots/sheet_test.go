package plots

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/ball/rules"
	"lanesim/internal/theme"
	"lanesim/report/layouts"
	"lanesim/units"
)

// sheetOf makes the sheet of an invented ball, with everything that a sheet can have.
func sheetOf(in inventedBall) (layouts.DrillSheet, layouts.Layout) {
	f := in.figure()
	l := f.Layout
	half := units.Given(0.5 * units.Ounce)
	l.Specification.Box = &ball.Box{TopWeight: units.Given(3 * units.Ounce), PinOut: units.Given(2.5 * units.Inch), Colour: "black and a good deal of orange with gold", Serial: "0123456789-0123456789", Wanted: &ball.WantedWeights{Side: half, Top: half}}
	l.Verdicts = rules.Check(l.Specification, f.Drilling)
	l.Plans = layouts.PlanWeights(l.Specification, ball.PAP{Over: in.over * units.Inch, Up: in.up * units.Inch}, in.hand, f.Drilling.Grip)
	for _, h := range f.Drilling.Holes {
		l.Clearances = append(l.Clearances, layouts.Clearance{Kind: "track", Lane: "A lane", What: h.Name + " hole to the nearest track", Distance: 0.01, Least: 0.02, First: 0.01, Last: float64(len(f.Flare.Turns)) / 100})
	}
	return layouts.NewDrillSheet(l, layouts.Flare{Lane: "A lane", Why: "invented"}), l
}

// Every sheet fits its paper, its texts do not overlap, and no label of a view covers a
// line (then it would have a background).
func TestSheetsFitTheirPaper(t *testing.T) {
	for name, in := range inventedBalls() {
		sheet, l := sheetOf(in)
		for _, paper := range Papers() {
			t.Run(name+" on "+paper.Name, func(t *testing.T) {
				pages, err := SheetPages(sheet, l, paper)
				if err != nil {
					t.Fatal(err)
				}
				if len(pages) != 3 {
					t.Errorf("%d pages", len(pages))
				}
				for _, d := range pages {
					if d.Width != paper.Width || d.Height != paper.Height {
						t.Errorf("a page of %g × %g points", d.Width, d.Height)
					}
					checkTexts(t, d)
					for _, e := range d.elements {
						if a, ok := e.(areaElement); ok && a.fill == theme.BallPlate {
							t.Errorf("a label over a line at %+v", a.points)
						}
					}
				}
				if text := strings.Join(pages[2].Texts(), "\n"); !strings.Contains(text, "check mark: 2 in") {
					t.Error("no check mark on the strips")
				}
			})
		}
	}
}

// A strip has its true length on paper: 72 points an inch.
func TestStripsAreTrueToScale(t *testing.T) {
	d := strips(layouts.DrillSheet{Strips: []layouts.Strip{{Name: "span", Length: 3.329 * units.Inch}}}, Papers()[0])
	var long []float64
	for _, e := range d.elements {
		if l, ok := e.(lineElement); ok && len(l.points) == 2 && l.points[0].y == l.points[1].y {
			long = append(long, l.points[1].x-l.points[0].x)
		}
	}
	if words := strings.Join(d.Texts(), "\n"); !strings.Contains(words, "span: ≈ 3 21/64 in, 84.56 mm") {
		t.Errorf("a strip of 84.56 mm is not as expected:\n%s", words)
	}
	if len(long) != 2 || long[0] != 144 || math.Abs(long[1]-72*3.329) > 1e-9 {
		t.Errorf("lines of %v points", long)
	}
}

// Drawings on paper are grey.
func TestPaperIsGrey(t *testing.T) {
	sheet, l := sheetOf(usualBall())
	pages, err := SheetPages(sheet, l, Papers()[0])
	if err != nil {
		t.Fatal(err)
	}
	var a, b bytes.Buffer
	if err := WritePaper(&a, pages); err != nil {
		t.Fatal(err)
	}
	if err := WritePaper(&b, pages); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Errorf("%v: two writings, two files", err)
	}
	if g := grey(pinArcColor); g < 0 || g > 160 {
		t.Errorf("the arc from the pin is as light as %d on paper", g)
	}
}
