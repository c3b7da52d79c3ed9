package plots

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"
)

func inventedSweep(curves, panels int, size Size) SweepFigure {
	f := SweepFigure{Title: "A sweep", Note: "Each point is a shot.", X: "ball.layout.pin_to_pap, in", Size: size}
	for k := range panels {
		panel := SweepPanel{Label: strings.Repeat("a quantity, in ", k+1)}
		for i := range curves {
			c := SweepCurve{}
			if curves > 1 {
				c.Name = strings.Repeat("curve ", i+1)
			}
			for j := range 21 {
				x := 1 + 0.25*float64(j)
				c.X, c.Y = append(c.X, x), append(c.Y, float64(i)+math.Sin(x*float64(k+1))*math.Pow10(k))
			}
			c.Y[3], c.Y[5] = math.NaN(), math.NaN()
			panel.Curves = append(panel.Curves, c)
		}
		f.Panels = append(f.Panels, panel)
	}
	return f
}

func inventedMaps(n int, size Size) SweepMapFigure {
	f := SweepMapFigure{Title: "Two fields", Note: "Lines join equal values.", X: "bowler.speed, mph", Y: "bowler.rev_rate, rpm", Size: size}
	for k := range n {
		m := SweepMap{Label: "a quantity, deg", Name: strings.Repeat("x", k), X: []float64{15, 16, 17, 19, 21}, Y: []float64{200, 300, 350, 500}}
		for i := range m.X {
			m.Values = append(m.Values, nil)
			for j := range m.Y {
				m.Values[i] = append(m.Values[i], float64((i-2)*(j-1)+k)*math.Pow10(k-1))
			}
		}
		m.Values[4][3] = math.NaN()
		f.Maps = append(f.Maps, m)
	}
	return f
}

// Texts never overlap, for any number of curves, panels and maps, and every format can be
// written.
func TestSweepsAreLegible(t *testing.T) {
	for _, size := range sizes {
		var drawings []*Drawing
		for _, c := range [][2]int{{1, 1}, {2, 3}, {MaxSweepCurves, MaxSweepPanels}} {
			drawings = append(drawings, drawn(t)(Sweep(inventedSweep(c[0], c[1], size))))
		}
		for _, n := range []int{1, 2, 3} {
			drawings = append(drawings, drawn(t)(SweepMaps(inventedMaps(n, size))))
		}
		for i, d := range drawings {
			checkTexts(t, d)
			for _, format := range Formats() {
				if i%5 > 0 { // the simplest figure and the one with most maps
					break
				}
				if one, two := fileOf(t, d, format), fileOf(t, d, format); !bytes.Equal(one.Bytes(), two.Bytes()) {
					t.Errorf("%s differs from one time to the next", format)
				}
			}
		}
	}
}

// A gap divides a curve, and a single point between gaps is marked.
func TestSweepGaps(t *testing.T) {
	d := drawn(t)(Sweep(inventedSweep(1, 1, Sheet)))
	strokes := (Sheet.measures()).shotStroke(0)
	strokes.width *= 0.8
	lines, dots := 0, 0
	for _, e := range d.elements {
		switch e := e.(type) {
		case lineElement:
			if e.stroke.color == strokes.color {
				lines++
			}
		case areaElement:
			if e.fill == strokes.color {
				dots++
			}
		}
	}
	if lines != 2 || dots != 19 {
		t.Errorf("%d lines and %d points, want 2 and 19", lines, dots)
	}
}

// Contour lines of a plane are straight and lie at their levels; those of a saddle never
// cross.
func TestContours(t *testing.T) {
	m := SweepMap{X: []float64{0, 1, 4}, Y: []float64{0, 2, 4}, Values: make([][]float64, 3)}
	for i, x := range m.X {
		for _, y := range m.Y {
			m.Values[i] = append(m.Values[i], 2*x+y)
		}
	}
	identity := func(u, w float64) point { return point{4 * u, 4 * w} }
	lines := m.fine().contours([]float64{3, 6, 11}, identity)
	if len(lines) != 3 {
		t.Fatalf("%d lines", len(lines))
	}
	const rounding = 1e-9 // of values of order 10, generously
	for _, c := range lines {
		for _, p := range c.points {
			if v := 2*p.x + p.y; math.Abs(v-c.level) > rounding {
				t.Errorf("%v lies on the line of %v", v, c.level)
			}
		}
	}
	levels, decimals := SweepMapFigure{Maps: []SweepMap{m, {Label: "other", Values: [][]float64{{100}}}}}.levels("")
	if want := []float64{0, 2, 4, 6, 8, 10, 12}; !slices.Equal(levels, want) || decimals != 0 {
		t.Errorf("levels are %v, want %v", levels, want)
	}

	// The function x y at the middle: its lines meet at level 0 and not at levels close to
	// it.
	saddle := SweepMap{X: []float64{-1, 1}, Y: []float64{-1, 1}, Values: [][]float64{{1, -1}, {-1, 1}}}
	for _, level := range []float64{-0.3, 0.001, 0.3} {
		lines := saddle.fine().contours([]float64{level}, identity)
		if len(lines) != 2 {
			t.Errorf("%d lines of %v", len(lines), level)
		}
	}
	// A peak is surrounded by a closed line.
	peak := SweepMap{X: []float64{0, 1, 2}, Y: []float64{0, 1, 2}, Values: [][]float64{{0, 0, 0}, {0, 1, 0}, {0, 0, 0}}}
	lines = peak.fine().contours([]float64{0.5}, identity)
	if len(lines) != 1 || lines[0].points[0] != lines[0].points[len(lines[0].points)-1] {
		t.Errorf("%d lines about a peak, or not closed", len(lines))
	}
}

func TestBadSweepFigures(t *testing.T) {
	ragged := inventedSweep(2, 2, Sheet)
	ragged.Panels[1].Curves = ragged.Panels[1].Curves[:1]
	one := inventedSweep(1, 1, Sheet)
	one.Panels[0].Curves[0] = SweepCurve{X: []float64{1, 1}, Y: []float64{2, 3}}
	for name, f := range map[string]SweepFigure{
		"no panel": {}, "no curve": {Panels: []SweepPanel{{}}}, "ragged": ragged, "one value": one,
		"too many curves": inventedSweep(MaxSweepCurves+1, 1, Sheet), "too many panels": inventedSweep(1, MaxSweepPanels+1, Sheet),
	} {
		if _, err := Sweep(f); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	for name, change := range map[string]func(*SweepMap){
		"one value":      func(m *SweepMap) { m.X, m.Values = m.X[:1], m.Values[:1] },
		"columns":        func(m *SweepMap) { m.Values = m.Values[1:] },
		"short column":   func(m *SweepMap) { m.Values[2] = m.Values[2][1:] },
		"not increasing": func(m *SweepMap) { m.X[1] = m.X[0] },
	} {
		f := inventedMaps(1, Sheet)
		change(&f.Maps[0])
		if _, err := SweepMaps(f); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := SweepMaps(SweepMapFigure{}); err == nil {
		t.Error("no map: no error")
	}
	// The picture says so if a quantity does not exist for any shot.
	f := inventedMaps(1, Sheet)
	for _, column := range f.Maps[0].Values {
		for j := range column {
			column[j] = math.NaN()
		}
	}
	d, err := SweepMaps(f)
	if err != nil || !slices.Contains(d.Texts(), "does not exist for any of the shots") {
		t.Errorf("%v, %v", d, err)
	}
}
