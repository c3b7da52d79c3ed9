package plots

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image/png"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"lanesim/lane"
	"lanesim/physics"
)

// figures returns a figure of every kind.
func figures() map[string]Figure {
	l := inventedLane()
	dry := inventedLane()
	dry.Oil = nil
	lost := tooWide()
	left := usual()
	left.hand = 1
	straight := straightBall()
	eleven := four()
	eleven = append(eleven, lost.series("Too far out"), straight.series("Straight"))
	eleven = append(eleven, four()...)
	eleven = append(eleven, usual().series("The last of a long row of names that go on and on for ever"))
	long := four()
	long[0].Name = "Medium revs · a ball with quite a long name, pin far"
	long[1].Name = "Medium revs · a ball with quite a long name, pin near"
	return map[string]Figure{
		"one":      {Title: "Flat forty-two, one ball", Lane: l, Series: []Series{usual().series("")}},
		"two":      {Title: "Two layouts on one ball", Lane: l, Series: four()[:2]},
		"three":    {Title: "Three balls", Lane: l, Series: four()[:3]},
		"four":     {Title: "Four balls", Lane: l, Series: four()},
		"long":     {Title: "A title that is long enough to need a second line on a sheet and a third one on a phone, surely", Lane: l, Series: long},
		"left":     {Title: "A left-hander", Lane: l, Series: []Series{left.series("Lefty")}},
		"mixed":    {Title: "Both hands", Lane: l, Series: []Series{usual().series("Right-hander"), left.series("Left-hander")}},
		"gutter":   {Title: "Lost in the gutter", Lane: l, Series: []Series{lost.series("Too far out")}},
		"gutter2":  {Title: "One lost in the gutter", Lane: l, Series: []Series{usual().series("Good"), lost.series("Too far out")}},
		"dry":      {Title: "A dry lane", Lane: dry, Series: []Series{usual().series("Dry")}},
		"straight": {Title: "A straight ball", Lane: l, Series: []Series{straight.series("Straight"), usual().series("Hook")}},
		"many":     {Title: "Eleven shots", Lane: l, Series: eleven},
		"oil":      {Title: "Oil alone", Lane: l},
		"unusual":  {Title: "A name in <other> letters & signs: Łódź, Ωμ", Lane: l, Series: []Series{usual().series("Żółty\n\x01ball"), usual().series("")}},
	}
}

type drawing func(Figure) (*Drawing, error)

// eachDrawing draws every figure in every size and checks it.
func eachDrawing(t *testing.T, check func(t *testing.T, f Figure, d *Drawing)) {
	t.Helper()
	for name, f := range figures() {
		for kind, draw := range map[string]drawing{"lane": Lane, "motion": Motion, "combined": Combined} {
			if len(f.Series) == 0 && kind != "lane" {
				continue
			}
			for _, size := range []Size{Sheet, Phone} {
				f.Size = size
				t.Run(fmt.Sprintf("%s/%s/%d", name, kind, size), func(t *testing.T) {
					check(t, f, drawn(t)(draw(f)))
				})
			}
		}
	}
}

func TestNoTextsOverlapOrLeaveTheFigure(t *testing.T) {
	eachDrawing(t, func(t *testing.T, _ Figure, d *Drawing) {
		checkTexts(t, d)
	})
}

// reporter is the part of a test that reports errors; rapid's tests have it, too.
type reporter interface {
	Helper()
	Fatalf(string, ...any)
	Errorf(string, ...any)
}

// checkTexts checks that all texts of a drawing lie within it and do not overlap, and
// returns them.
func checkTexts(t reporter, d *Drawing) []string {
	t.Helper()
	boxes, texts := d.boxes(), nonEmpty(d.Texts())
	if len(boxes) != len(texts) {
		t.Fatalf("%d boxes for %d texts", len(boxes), len(texts))
	}
	page := box{0, 0, d.Width, d.Height}
	for i, b := range boxes {
		if !b.within(page) {
			t.Errorf("%q at %+v leaves the figure of %g × %g", texts[i], b, d.Width, d.Height)
		}
		for j := range i {
			if b.overlaps(boxes[j]) {
				t.Errorf("%q at %+v overlaps %q at %+v", texts[i], b, texts[j], boxes[j])
			}
		}
	}
	return texts
}

// drawn returns a drawing that was made without an error.
func drawn(t reporter) func(d *Drawing, err error) *Drawing {
	return func(d *Drawing, err error) *Drawing {
		t.Helper()
		if err != nil {
			t.Fatalf("%v", err)
		}
		return d
	}
}

// fileOf returns a drawing as a file.
func fileOf(t testing.TB, d *Drawing, format string) *bytes.Buffer {
	t.Helper()
	var out bytes.Buffer
	if err := d.Write(&out, format); err != nil {
		t.Fatal(err)
	}
	return &out
}

// checkRepeatable checks that a figure drawn and written twice gives the same bytes in all
// formats.
func checkRepeatable(t *testing.T, draw func() (*Drawing, error)) {
	t.Helper()
	for _, format := range Formats() {
		one, two := fileOf(t, drawn(t)(draw()), format), fileOf(t, drawn(t)(draw()), format)
		if one.Len() < 1000 || !bytes.Equal(one.Bytes(), two.Bytes()) {
			t.Errorf("%s: %d and %d bytes", format, one.Len(), two.Len())
		}
	}
}

// checkSays draws a figure in one size and checks its texts and that they contain the
// words.
func checkSays(t *testing.T, words []string, draw func() (*Drawing, error)) *Drawing {
	t.Helper()
	d := drawn(t)(draw())
	all := strings.Join(checkTexts(t, d), "\n")
	for _, want := range words {
		if !strings.Contains(all, want) {
			t.Errorf("no %q in the texts", want)
		}
	}
	for _, e := range d.elements {
		if a, ok := e.(areaElement); ok && slices.ContainsFunc(a.points, func(p point) bool { return !finite(p.x) || !finite(p.y) }) {
			t.Errorf("an area with a place that is no number: %v", a.points)
		}
	}
	return d
}

// sizes are the sizes of figures.
var sizes = []Size{Sheet, Phone}

func nonEmpty(all []string) []string {
	return slices.DeleteFunc(all, func(s string) bool { return s == "" })
}

func TestEveryShotIsNamed(t *testing.T) {
	eachDrawing(t, func(t *testing.T, f Figure, d *Drawing) {
		if len(f.Series) < 2 {
			return
		}
		all := strings.Join(d.Texts(), " ")
		for i := range f.Series {
			// A long name may be broken or shortened, but its beginning and its end are shown.
			name := []rune(named(f.Series, i))
			if head := string(name[:min(4, len(name))]); !strings.Contains(all, head) {
				t.Errorf("shot %q is not named in %q", string(name), all)
			}
		}
	})
}

func TestFormatsAreFilledAndRepeatable(t *testing.T) {
	for _, name := range []string{"four", "unusual", "dry"} {
		checkRepeatable(t, func() (*Drawing, error) { return Combined(figures()[name]) })
	}
}

func TestPNGIsWideEnoughForASheet(t *testing.T) {
	for size, width := range map[Size]int{Sheet: 1200, Phone: 1080} {
		f := figures()["one"]
		f.Size = size
		d := drawn(t)(Lane(f))
		img, err := png.Decode(fileOf(t, d, ".PNG"))
		if err != nil {
			t.Fatal(err)
		}
		if got := img.Bounds().Dx(); got != width {
			t.Errorf("size %d is %d pixels wide, not %d", size, got, width)
		}
		// The picture shows oil where the ball starts and none beyond the oil's end.
		if at, dry := img.At(width/8, img.Bounds().Dy()*45/100), img.At(width*3/4, img.Bounds().Dy()*45/100); at == dry {
			t.Errorf("size %d shows no oil: %v on both sides of its end", size, at)
		}
	}
}

func TestSVGHoldsTitleUnitsAndWellFormedText(t *testing.T) {
	f := figures()["unusual"]
	d := drawn(t)(Combined(f))
	var text strings.Builder
	for decoder := xml.NewDecoder(fileOf(t, d, "svg")); ; {
		token, err := decoder.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("no well-formed XML: %v", err)
		}
		if c, ok := token.(xml.CharData); ok {
			text.Write(c)
			text.WriteByte(' ')
		}
	}
	for _, want := range []string{
		f.Title, "Żółty", "shot 2", "distance from the foul line, ft", "speed, mph", "rev rate, rpm",
		"axis rotation, degrees", "axis tilt, degrees", "slip, mph", "friction coefficient", "units",
		"board, from the right", "stretched ×", "oil ends 42.0 ft", "pocket", "head pin", "hook starts", "friction read", "breakpoint", "rolls",
	} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("no %q in the text of the SVG", want)
		}
	}
}

func TestUnknownFormatNamesTheKnown(t *testing.T) {
	d := drawn(t)(Lane(figures()["oil"]))
	err := d.Write(io.Discard, "gif")
	if err == nil || !strings.Contains(err.Error(), "svg, png, pdf") {
		t.Errorf("error is %v", err)
	}
}

func TestShotsThatCannotBeDrawnAreErrors(t *testing.T) {
	bare := usual().shot()
	bare.Path = nil
	nan := physics.Shot{Path: make([]physics.State, 5)}
	for i := range nan.Path {
		nan.Path[i].Lateral = math.NaN()
	}
	crowd := make([]Series, MaxSeries+1)
	for i := range crowd {
		crowd[i] = usual().series("")
	}
	for name, series := range map[string][]Series{"no path": {{Shot: bare}}, "NaN": {{Shot: nan}}, "crowd": crowd} {
		for kind, draw := range map[string]drawing{"lane": Lane, "motion": Motion, "combined": Combined} {
			if _, err := draw(Figure{Lane: inventedLane(), Series: series}); err == nil {
				t.Errorf("%s: %s gives no error", name, kind)
			}
		}
	}
	if _, err := Motion(Figure{}); err == nil {
		t.Error("motion without a shot gives no error")
	}
}

func TestLeftHandersFigureMirrorsTheRightHanders(t *testing.T) {
	// On mirrored oil a left-hander's mirrored shot gives the same picture.
	lopsided := inventedLane()
	for i := range lopsided.Oil.Film {
		lopsided.Oil.Film[i] *= 1 + float64(i%lopsided.Oil.Columns)/40
	}
	left := usual()
	left.hand = 1
	write := func(f Figure) string {
		d := drawn(t)(Lane(f))
		return fileOf(t, d, "svg").String()
	}
	a := write(Figure{Lane: lopsided, Series: []Series{usual().series("")}})
	b := write(Figure{Lane: lopsided.Mirror(), Series: []Series{left.series("")}})
	if want := strings.Replace(a, "board, from the right", "board, from the left", 1); stripFit(want) != stripFit(b) {
		t.Error("the mirrored shot's figure differs by more than the name of its axis")
	}
}

// stripFit removes the row above the lane, whose words differ in width.
func stripFit(svg string) string {
	lines := strings.Split(svg, "\n")
	return strings.Join(slices.DeleteFunc(lines, func(line string) bool { return strings.Contains(line, "textLength") }), "\n")
}

func TestEndlessLaneHasNoPins(t *testing.T) {
	l := lane.Default()
	l.Length = math.Inf(1)
	d := drawn(t)(Lane(Figure{Lane: l, Series: []Series{usual().series("")}}))
	for _, s := range d.Texts() {
		if s == "pocket" || s == "head pin" {
			t.Errorf("%q on an endless lane", s)
		}
	}
}

func TestDescribe(t *testing.T) {
	for name, want := range map[string]string{
		"one":     "Hook starts at 37.8 ft, reads the friction at 39.6 ft, breakpoint board 5.6 at 41.8 ft, rolls from 54.0 ft, enters on board 17.5 at 5.0°.",
		"left":    "Hook starts at 37.8 ft, reads the friction at 39.6 ft, breakpoint board 5.6 at 41.8 ft, rolls from 54.0 ft, enters on board 17.5 at 5.0°.",
		"mixed":   "Right-hander enters on board 17.5 at 5.0°; Left-hander enters on board 22.5 at 5.0°.",
		"gutter2": "Good enters on board 17.5 at 5.0°; Too far out ends in the gutter at 32.5 ft.",
		"oil":     "The oil ends at 42.0 ft.",
	} {
		if got := Describe(figures()[name]); got != want {
			t.Errorf("%s: %q, not %q", name, got, want)
		}
	}
}
