package patterns

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"lanesim/lane"
	"lanesim/units"
)

// closeTo compares to exact; differences of films of up to 100 units may have that absolute
// error.
var closeTo = cmpopts.EquateApprox(exact, 100*exact)

// level is a grid of one film all over.
func level(film, length float64) Grid {
	row := slices.Repeat([]float64{film}, lane.Boards)
	return Grid{Distances: []float64{0, length}, Units: [][]float64{row, row}}
}

func build(t failer, g Grid) *lane.OilMap {
	o, err := g.Build()
	if err != nil {
		t.Errorf("%v", err)
	}
	return o
}

// Derived: 0.0167 cm³ per square foot × 40 ft × 41.5/12 ft = 2.310 mL.
func TestOneUnitOverFortyFeet(t *testing.T) {
	const want = 0.0167 * 40 * 41.5 / 12
	m := Measure(build(t, level(1, 40*units.Foot)), BoardSets{})
	if got := m.Volume * 1e6; !near(got, want, exact) || math.Round(got*1000) != 2310 {
		t.Errorf("volume %v mL, want %v", got, want)
	}
	if !near(m.MeanUnits, 1, exact) {
		t.Errorf("mean %v units, want 1", m.MeanUnits)
	}
}

// Derived from the same unit: total volumes as published for house and
// professional patterns, as means over the lane.
func TestMeanUnits(t *testing.T) {
	for _, test := range []struct{ millilitres, feet, units float64 }{
		{18, 38, 8.20}, {25, 40, 10.82}, {30, 42, 12.37},
	} {
		o, err := Crown{Length: test.feet * units.Foot, Volume: millilitres(test.millilitres), Ratio: 8}.Build()
		if err != nil {
			t.Fatal(err)
		}
		if got := Measure(o, BoardSets{}).MeanUnits; math.Round(got*100)/100 != test.units {
			t.Errorf("%g mL on %g ft: mean %.4f units, want %.2f", test.millilitres, test.feet, got, test.units)
		}
	}
}

func drawGrid(t *rapid.T) Grid {
	var g Grid
	x := 0.0
	for range rapid.IntRange(1, 6).Draw(t, "rows") {
		x += rapid.Float64Range(0.1, 3).Draw(t, "step")
		g.Distances = append(g.Distances, x)
		g.Units = append(g.Units, rapid.SliceOfN(rapid.Float64Range(0.01, 80), lane.Boards, lane.Boards).Draw(t, "row"))
	}
	return g
}

// A board of a grid has the film that was written, and the boards add up to the oil.
func TestMeasureReadsTheGridBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawGrid(t)
		m := Measure(build(t, g), BoardSets{})
		end := m.Sections[len(m.Sections)-1]
		if diff := cmp.Diff(g.Units[len(g.Units)-1], end.Units, closeTo); diff != "" {
			t.Errorf("last row read back otherwise (- written, + read):\n%s", diff)
		}
		sum := 0.0
		for _, u := range m.Units {
			sum += u
		}
		if got := sum * units.OilUnit * lane.BoardWidth * m.Length; !near(got, m.Volume, exact) {
			t.Errorf("boards add up to %v of %v m³", got, m.Volume)
		}
	})
}

// refine copies a map onto columns of step boards, as if each board were
// level: the same oil on a finer grid.
func refine(o *lane.OilMap, parts int) *lane.OilMap {
	var film []float64
	for i := range o.Distances {
		for j := range o.Columns {
			film = append(film, slices.Repeat([]float64{o.Film[i*o.Columns+j]}, parts)...)
		}
	}
	spacing := o.Spacing / float64(parts)
	fine, err := lane.NewOilMap(slices.Clone(o.Distances), -lane.Width/2+spacing/2, spacing, o.Columns*parts, film)
	if err != nil {
		panic(err)
	}
	return fine
}

// A finer map of the same oil has the same measures.
func TestMeasureOnFinerColumns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := build(t, drawGrid(t))
		want := Measure(o, BoardSets{})
		got := Measure(refine(o, rapid.IntRange(2, 5).Draw(t, "columns per board")), BoardSets{})
		if diff := cmp.Diff(want, got, closeTo, cmpopts.EquateNaNs()); diff != "" {
			t.Errorf("coarse -, fine +:\n%s", diff)
		}
	})
}

// Columns that straddle two boards count half for each.
func TestMeasureSharesColumns(t *testing.T) {
	// Columns on the boards' edges, from the right edge of the lane: 0, 1, 2…
	// and so board b averages b−1 and b.
	var film []float64
	for j := range lane.Boards + 1 {
		film = append(film, float64(j)*units.OilUnit)
	}
	o, err := lane.NewOilMap([]float64{5}, -lane.Width/2, lane.BoardWidth, len(film), film)
	if err != nil {
		t.Fatal(err)
	}
	for b, u := range Measure(o, BoardSets{}).Units {
		if want := float64(b) + 0.5; !near(u, want, exact) {
			t.Errorf("board %d: %v units, want %v", b+1, u, want)
		}
	}
}

// A mirrored map swaps the sides.
func TestMeasureMirrored(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := build(t, drawGrid(t))
		a, b := Measure(o, BoardSets{}), Measure(o.Mirror(), BoardSets{})
		if !near(a.Ratio.Right, b.Ratio.Left, exact) || !near(a.Ratio.Left, b.Ratio.Right, exact) ||
			!near(a.Ratio.Both, b.Ratio.Both, exact) {
			t.Errorf("ratios %v, mirrored %v", a.Ratio, b.Ratio)
		}
		if math.Abs(a.LeftShare+b.LeftShare-1) > exact || math.Abs(a.Asymmetry-b.Asymmetry) > exact {
			t.Errorf("left share %v and %v, asymmetry %v and %v", a.LeftShare, b.LeftShare, a.Asymmetry, b.Asymmetry)
		}
	})
}

func TestMeasureOneSided(t *testing.T) {
	g := level(0, 12)
	for i := range g.Units {
		g.Units[i] = make([]float64, lane.Boards)
		g.Units[i][4] = 30
		g.Units[i][19] = 10
	}
	m := Measure(build(t, g), BoardSets{})
	// Right: (10/5)/(30/5); the left outside is dry; both: (2+2)/(6+0).
	if !near(m.Ratio.Right, 1.0/3, exact) || !math.IsNaN(m.Ratio.Left) || !near(m.Ratio.Both, 2.0/3, exact) {
		t.Errorf("ratio %+v", m.Ratio)
	}
	// Of 40 parts, half of the centre board's 10 lie left, 30 have no match.
	if !near(m.LeftShare, 5.0/40, exact) || !near(m.Asymmetry, 30.0/40, exact) {
		t.Errorf("left share %v, asymmetry %v", m.LeftShare, m.Asymmetry)
	}
}

// Wedge along the lane, derived: film 1 − ξ leaves 5/9, 3/9, 1/9 in the
// thirds.
func TestMeasureThirds(t *testing.T) {
	g := level(9, 12)
	g.Units[1] = make([]float64, lane.Boards)
	m := Measure(build(t, g), BoardSets{})
	for i, want := range []float64{5.0 / 9, 3.0 / 9, 1.0 / 9} {
		if !near(m.Thirds[i]/m.Volume, want, exact) {
			t.Errorf("third %d holds %v, want %v", i+1, m.Thirds[i]/m.Volume, want)
		}
	}
}

func TestMeasureWhereThereIsNothing(t *testing.T) {
	m := Measure(nil, BoardSets{})
	if m.Volume != 0 || m.Length != 0 || !math.IsNaN(m.Ratio.Both) || !math.IsNaN(m.ExitBoard) ||
		!math.IsNaN(m.LeftShare) || !math.IsNaN(m.Asymmetry) || !math.IsNaN(m.MeanUnits) || !math.IsNaN(m.Units[0]) {
		t.Errorf("dry lane: %+v", m)
	}
	short := Measure(build(t, level(10, 20*units.Foot)), BoardSets{})
	if beyond := short.Sections[2]; !math.IsNaN(beyond.Ratio.Right) || beyond.Units[19] != 0 {
		t.Errorf("22 ft on 20 ft of oil: %+v", beyond)
	}
	if !math.IsNaN(short.ExitBoard) {
		t.Errorf("exit board %v, want none", short.ExitBoard)
	}
	if m := Measure(build(t, level(10, 12)), BoardSets{BoardRange{18, 22}, BoardRange{0, 7}}); !math.IsNaN(m.Ratio.Both) {
		t.Errorf("ratio %v over board 0", m.Ratio.Both)
	}
	if m := Measure(build(t, level(10, 40*units.Foot)), BoardSets{}); !near(m.ExitBoard, 9, exact) {
		t.Errorf("exit board %v, want 40 − 31", m.ExitBoard)
	}
}
