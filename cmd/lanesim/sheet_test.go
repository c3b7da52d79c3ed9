package main

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/ball/rules"
	"lanesim/plots"
	"lanesim/report/layouts"
	"lanesim/scenario"
	"lanesim/units"

	"gonum.org/v1/gonum/spatial/r3"
)

// walk goes a distance in inches along a great circle on a ball of a radius in inches. It
// returns the end point and the direction there.
func walk(at, way r3.Vec, distance, radius float64) (r3.Vec, r3.Vec) {
	sin, cos := math.Sin(distance/radius), math.Cos(distance/radius)
	return r3.Add(r3.Scale(cos, at), r3.Scale(sin, way)), r3.Sub(r3.Scale(cos, way), r3.Scale(sin, at))
}

// turn rotates a direction by an angle in degrees, counter-clockwise for someone who looks
// at the point from outside.
func turn(at, way r3.Vec, angle float64) r3.Vec {
	a := angle * math.Pi / 180
	return r3.Add(r3.Scale(math.Cos(a), way), r3.Scale(math.Sin(a), r3.Cross(at, way)))
}

var printedNumber = regexp.MustCompile(`^(≈ )?(?:(\d+)[ -])?(?:(\d+)/(\d+)|([\d.]+)) ?(in|"|mm|°)`)

// readSize reads a printed size, in inches or degrees.
func readSize(t *testing.T, text string) float64 {
	t.Helper()
	m := printedNumber.FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("no size in %q", text)
	}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			return 0
		}
		return v
	}
	v := number(m[2]) + number(m[5])
	if m[3] != "" {
		v += number(m[3]) / number(m[4])
	}
	if m[6] == "mm" {
		v /= 25.4
	}
	return v
}

// sheetReader follows the steps of a sheet.
type sheetReader struct {
	t     *testing.T
	steps map[string]layouts.Step
	holes [][]string
	byMM  bool // use the mm, if printed, of sizes rounded in inches
	tape  bool // mark angles by the tape
}

var printedMM = regexp.MustCompile(`^≈ [^,]+, ([\d.]+) mm`)

func (s sheetReader) size(text string) float64 {
	if m := printedMM.FindStringSubmatch(text); m != nil && s.byMM {
		return readSize(s.t, m[1]+" mm")
	}
	return readSize(s.t, text)
}

func (s sheetReader) value(step string) float64 { return s.size(s.steps[step].Value) }

var byTheTape = regexp.MustCompile(`By the tape: (.*) along the circle (.*) \(?from the`)

// angle returns a step's angle in degrees, either as printed or from its length along the
// circle a quarter of the way around the ball.
func (s sheetReader) angle(step string, radius float64) float64 {
	m := byTheTape.FindStringSubmatch(s.steps[step].How)
	if m == nil {
		s.t.Fatalf("no tape in step %s: %s", step, s.steps[step].How)
	}
	if quarter := readSize(s.t, m[2]); math.Abs(quarter-math.Pi/2*radius) > 1.0/64 {
		s.t.Errorf("a quarter of the way round is %g in, not %s", math.Pi/2*radius, m[2])
	}
	if s.tape {
		return s.size(m[1]) / radius * 180 / math.Pi
	}
	return s.value(step)
}

// says reports which of two words a step contains; it must be exactly one.
func (s sheetReader) says(step, yes, no string) bool {
	has := regexp.MustCompile(`\b` + yes + `\b`).MatchString(s.steps[step].How)
	if other := regexp.MustCompile(`(^|[^-])\b` + no + `\b`).MatchString(strings.ReplaceAll(s.steps[step].How, yes, "")); has == other {
		s.t.Fatalf("step %q says neither or both of %s and %s: %s", step, yes, no, s.steps[step].How)
	}
	return has
}

// width returns the diameter of a hole in the table of holes.
func (s sheetReader) width(finger string) float64 {
	for _, r := range s.holes {
		if r[0] == finger {
			return s.size(strings.ReplaceAll(r[1], "\n", ", "))
		}
	}
	s.t.Fatalf("no hole of the %s finger", finger)
	return 0
}

// mark marks a ball of a radius in inches by the sheet, starting from its pin and PSA. It
// returns the places of the marks relative to the grip.
func (s sheetReader) mark(radius float64, pin, psa r3.Vec) map[string]r3.Vec {
	way := psa // 90° from the pin, so also the direction from the pin to it
	angle := s.angle("Drilling angle", radius)
	if !s.says("Drilling angle", "counter-clockwise", "clockwise") {
		angle = -angle
	}
	way = turn(pin, way, angle)
	pap, on := walk(pin, way, s.value("Pin to PAP"), radius)
	angle = s.angle("VAL angle", radius)
	if !s.says("VAL angle", "counter-clockwise", "clockwise") {
		angle = -angle
	}
	fingers := turn(pap, r3.Scale(-1, on), angle)
	up := s.value("Midline, PAP up")
	if strings.Contains(s.steps["Midline, PAP up"].How, "toward the fingers' end") {
		up = -up
	}
	foot, down := walk(pap, r3.Scale(-1, fingers), up, radius)
	z := r3.Scale(-1, down)
	left := r3.Cross(foot, z)
	if !s.says("Grip centre, PAP over", "to the left", "to the right") {
		left = r3.Scale(-1, left)
	}
	grip, _ := walk(foot, left, s.value("Grip centre, PAP over"), radius)
	y := r3.Cross(z, grip)
	seen := func(v r3.Vec) r3.Vec { return r3.Vec{X: r3.Dot(v, grip), Y: r3.Dot(v, y), Z: r3.Dot(v, z)} }
	places := map[string]r3.Vec{"pin": seen(pin), "PSA": seen(psa), "PAP": seen(pap)}
	if fingersAt, ok := s.steps["Finger holes"]; ok {
		side := 1.0
		if strings.Contains(fingersAt.How, "to the left") {
			side = -1
		}
		d := s.value("Finger holes")
		places["middle"], _ = walk(r3.Vec{X: 1}, r3.Vec{Y: side}, d, radius)
		places["ring"], _ = walk(r3.Vec{X: 1}, r3.Vec{Y: -side}, d, radius)
		return places
	}
	if _, ok := s.steps["Thumb hole"]; !ok {
		return places
	}
	side := 1.0
	if s.says("Cut spans", "to the left", "to the right") {
		side = -1
	}
	thumbWidth := s.width("thumb")
	thumb, away := walk(r3.Vec{X: 1}, r3.Vec{Z: -1}, s.value("Thumb hole")+thumbWidth/2, radius)
	spans := strings.Split(strings.TrimPrefix(s.steps["Cut spans"].Value, "middle "), ", ring ")
	a := (thumbWidth/2 + s.size(spans[0]) + s.width("middle")/2) / radius
	b := (thumbWidth/2 + s.size(spans[1]) + s.width("ring")/2) / radius
	c := (s.width("middle")/2 + s.value("Bridge") + s.width("ring")/2) / radius
	apart := math.Acos((math.Cos(c) - math.Cos(a)*math.Cos(b)) / (math.Sin(a) * math.Sin(b))) // spherical law of cosines
	line := r3.Scale(-1, away)
	half := apart / 2 * 180 / math.Pi
	places["thumb"] = thumb
	place := func(swung float64) { // by an angle in degrees around the middle of the thumb hole
		places["middle"], _ = walk(thumb, turn(thumb, line, swung-side*half), a*radius, radius)
		places["ring"], _ = walk(thumb, turn(thumb, line, swung+side*half), b*radius, radius)
	}
	place(0)
	between := r3.Add(places["middle"], places["ring"])
	place(-math.Atan2(r3.Dot(between, r3.Cross(thumb, line)), r3.Dot(between, line)) * 180 / math.Pi)
	return places
}

// people writes lengths in inches as people do.
func people(r *rand.Rand, v float64) string {
	switch r.IntN(4) {
	case 0:
		return fmt.Sprintf("%.2f in", v)
	case 1:
		return fmt.Sprintf("%.1f mm", v*25.4)
	}
	n := max(1, int(math.Round(v*64)))
	if r.IntN(2) == 0 {
		n = max(2, n/2*2)
	}
	switch whole, part := n/64, n%64; {
	case part == 0:
		return fmt.Sprintf("%d in", whole)
	case whole == 0:
		return fmt.Sprintf("%d/64 in", part)
	default:
		return fmt.Sprintf("%d %d/64 in", whole, part)
	}
}

// randomSheet draws a ball, its layout and its grip.
func randomSheet(r *rand.Rand, byDistances bool) string {
	within := func(low, high float64) float64 { return low + r.Float64()*(high-low) }
	size := func(low, high float64) string { return people(r, within(low, high)) }
	diameter := within(8.5, 8.6)
	layout := fmt.Sprintf("{drilling_angle: %.1f deg, pin_to_pap: %s, val_angle: %.1f deg}", within(-90, 90), size(0.7, 6.5), within(-60, 100))
	if byDistances {
		l := ball.Layout{DrillingAngle: within(10, 90) * units.Degree, PinToPAP: within(1.5, 6) * units.Inch, VALAngle: within(5, 85) * units.Degree}
		d := l.Distances(diameter / 2 * units.Inch)
		layout = fmt.Sprintf("{pin_to_pap: %.4f in, psa_to_pap: %.4f in, pin_to_val: %.4f in}", d.PinToPAP/units.Inch, d.PSAToPAP/units.Inch, d.PinToVAL/units.Inch)
	}
	span := within(3.2, 4.8)
	key := "span"
	if r.IntN(3) == 0 {
		key = "fitted_span"
	}
	spans := fmt.Sprintf("%s: {middle: %s, ring: %s}", key, people(r, span), people(r, span+within(-0.2, 0.2)))
	hole := func() string {
		return fmt.Sprintf("{diameter: %s, forward: %s, insert: {inner: %s}}", size(0.85, 1), size(0, 0.3), size(0.6, 0.75))
	}
	grip := fmt.Sprintf("{%s, bridge: %s, middle: %s, ring: %s, thumb: {diameter: %s}}", spans, size(0.2, 0.4), hole(), hole(), size(0.9, 1.1))
	if r.IntN(5) == 0 {
		grip = fmt.Sprintf("{bridge: %s, middle: %s, ring: %s, thumb: none}", size(0.2, 0.4), hole(), hole())
	}
	up := size(0.05, 1.2)
	if r.IntN(3) == 0 {
		up = "-" + up
	}
	intermediate := []string{"0 in", "0.015 in"}[r.IntN(2)]
	return fmt.Sprintf(`lane: {oil: flat}
ball: {weight: 15 lb, diameter: %.3f in, rg: 2.5 in, differential: 0.04 in, intermediate_differential: %s, roughness: 25 uin, layout: %s, grip: %s}
bowler: {hand: %s, pap: {over: %s, up: %s}, speed: 18 mph, rev_rate: 300 rpm, axis_rotation: 45 deg, axis_tilt: 13 deg, laydown: 22, angle: 2 deg}
`, diameter, intermediate, layout, grip, []string{"left", "right"}[r.IntN(2)], size(3.5, 6), up)
}

// laidOutOf returns the layout of the first ball of a scenario, without its shots.
func laidOutOf(t *testing.T, text string) layouts.Layout {
	t.Helper()
	s, err := scenario.Read("sheet.yaml", []byte(text), nil, nil)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	deliveries, err := s.Deliveries()
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return layouts.Layout{Ball: "Ball", Bowler: "Bowler", Specification: s.Balls[0], Drilling: deliveries[0].Drilling,
		Verdicts: rules.Check(s.Balls[0], deliveries[0].Drilling), Written: layouts.Written{Ball: s.BallsWritten[0], Bowler: s.BowlersWritten[0]}}
}

// A ball marked by the sheet has pin, PSA and holes where the layout puts them: within 1/64
// in by inches alone, with a protractor or a tape for the angles, and within half of that
// if the mm are used. LANESIM_SHEETS=20000 marks that many sheets.
func TestMarkingByTheSheet(t *testing.T) {
	draws := 200
	if n, err := strconv.Atoi(os.Getenv("LANESIM_SHEETS")); err == nil {
		draws = n
	}
	type way struct {
		byMM, tape bool
		most       float64 // in
	}
	ways := []way{{true, false, 1.0 / 128}, {false, false, 1.0 / 64}, {true, true, 1.0 / 128}, {false, true, 1.0 / 64}}
	worst := make([]map[string]float64, len(ways))
	r := rand.New(rand.NewPCG(3, 7))
	for k := range draws {
		text := randomSheet(r, k%4 == 0)
		l := laidOutOf(t, text)
		sheet := layouts.NewDrillSheet(l, layouts.Flare{})
		steps := map[string]layouts.Step{}
		for _, s := range sheet.Steps {
			steps[s.Name] = s
		}
		pin := r3.Unit(r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()})
		other := r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}
		psa := r3.Unit(r3.Sub(other, r3.Scale(r3.Dot(other, pin), pin)))
		radius := l.Drilling.Radius / units.Inch
		f := l.Drilling.Before.Frame
		want := map[string]r3.Vec{"pin": f.Pin, "PSA": f.PSA, "PAP": f.PAP}
		for _, h := range l.Drilling.Holes {
			want[h.Name] = h.Mouth
		}
		for i, by := range ways {
			got := sheetReader{t, steps, sheet.Holes, by.byMM, by.tape}.mark(radius, pin, psa)
			if len(got) != len(want) {
				t.Fatalf("marked %v, wanted %v", got, want)
			}
			if worst[i] == nil {
				worst[i] = map[string]float64{}
			}
			for name, place := range want {
				off := math.Atan2(r3.Norm(r3.Cross(place, got[name])), r3.Dot(place, got[name])) * radius
				worst[i][name] = max(worst[i][name], off)
				if !(off < by.most) {
					t.Errorf("%+v: %s is %.4f in off\n%s%+v", by, name, off, text, steps)
				}
			}
		}
	}
	for i, by := range ways {
		t.Logf("mm %v, tape %v, at the worst, in: %v", by.byMM, by.tape, worst[i])
	}
}

// Every size that a person wrote is printed as written.
func TestSizesStandAsWritten(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 11))
	pair := regexp.MustCompile(`(drilling_angle|pin_to_pap|val_angle|bridge|diameter|forward|inner|over|up|middle|ring): (-?[0-9][^,}{:]*)`)
	for range 100 {
		text := randomSheet(r, false)
		sheet := layouts.NewDrillSheet(laidOutOf(t, text), layouts.Flare{})
		var all strings.Builder
		for _, s := range sheet.Steps {
			all.WriteString(s.Value + "\n" + s.How + "\n")
		}
		for _, row := range sheet.Holes {
			all.WriteString(strings.Join(row, "\n") + "\n")
		}
		for _, row := range append(sheet.Layouts, sheet.Fields...) {
			all.WriteString(row.Value + "\n")
		}
		for _, m := range pair.FindAllStringSubmatch(text, -1) {
			want := strings.TrimPrefix(m[2], "-")
			want = strings.Replace(want, " deg", "°", 1)
			if want == "0 in" || strings.HasPrefix(want, "0.0 mm") || strings.HasPrefix(want, "0.00 in") {
				continue
			}
			if !strings.Contains(all.String(), want) {
				t.Errorf("%s of %s is not on the sheet:\n%s", m[1], want, all.String())
			}
		}
	}
}

// The sheet is one page for drilling and one of details, in the size of the paper, with the
// same bytes every time and with text that can be selected.
func TestDrillingSheetPDF(t *testing.T) {
	folder := t.TempDir()
	for _, paper := range plots.Papers() {
		var last []byte
		for _, name := range []string{"a.pdf", "b.pdf"} {
			file := filepath.Join(folder, name)
			good(t, "", "layout", examples+"/layout-strong.yaml", "-q", "-o", file, "--paper", paper.Name)
			content := contents(t, file)
			if last != nil && !bytes.Equal(last, content) {
				t.Error("two runs, two files")
			}
			last = content
		}
		if n := bytes.Count(last, []byte("/Type /Page\n")); n != 2 {
			t.Errorf("%s: %d pages", paper.Name, n)
		}
		size := fmt.Sprintf("[0 0 %.2f %.2f]", paper.Width, paper.Height)
		if !bytes.Contains(last, []byte(size)) || !bytes.Contains(last, []byte("/ToUnicode")) {
			t.Errorf("%s: no page of %s, or text that cannot be selected", paper.Name, size)
		}
	}
	refused(t, "letter, a4", "layout", examples+"/layout-strong.yaml", "--paper", "foolscap")
}

// The sheets of the examples keep their bytes, whose hashes are stored. After an intended
// change: go test ./cmd/lanesim -run SheetsKeep -update.
func TestSheetsKeepTheirBytes(t *testing.T) {
	golden := filepath.Join("testdata", "sheets.golden")
	kept, err := os.ReadFile(golden)
	if err != nil && !*update {
		t.Fatal(err)
	}
	var made strings.Builder
	for _, name := range []string{"drill-asymmetric", "drill-left", "drill-spare", "drill-symmetric", "drill-thumbless"} {
		for _, paper := range plots.Papers() {
			file := filepath.Join(t.TempDir(), "sheet.pdf")
			good(t, "", "layout", filepath.Join(examples, name+".yaml"), "-q", "--strips", "-o", file, "--paper", paper.Name)
			line := fmt.Sprintf("%s %s %x\n", name, paper.Name, sha256.Sum256(contents(t, file)))
			if made.WriteString(line); !*update && !bytes.Contains(kept, []byte(line)) {
				t.Errorf("the sheet of %s on %s is another", name, paper.Name)
			}
		}
	}
	if *update {
		write(t, golden, made.String())
	}
}

// A left-hander's sheet is the mirror image of a right-hander's.
func TestSheetsOfBothHandsMirror(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 4))
	other := strings.NewReplacer("right angles", "right angles", "counter-clockwise", "clockwise", "clockwise", "counter-clockwise", "left", "right", "right", "left")
	for range 30 {
		text := randomSheet(r, false)
		mirrored := strings.Replace(text, "hand: left", "hand: right", 1)
		if mirrored == text {
			mirrored = strings.Replace(text, "hand: right", "hand: left", 1)
		}
		a, b := layouts.NewDrillSheet(laidOutOf(t, text), layouts.Flare{}), layouts.NewDrillSheet(laidOutOf(t, mirrored), layouts.Flare{})
		for i := range a.Steps {
			if a.Steps[i].Name != b.Steps[i].Name || a.Steps[i].Value != b.Steps[i].Value || a.Steps[i].How != other.Replace(b.Steps[i].How) {
				// The step on pitches names both sides.
				if a.Steps[i].Name != "Pitches" {
					t.Errorf("%+v and %+v", a.Steps[i], b.Steps[i])
				}
			}
		}
		for i := range a.Holes {
			if got, want := strings.Join(a.Holes[i], ";"), other.Replace(strings.Join(b.Holes[i], ";")); got != want {
				t.Errorf("%s and %s", got, want)
			}
		}
	}
}
