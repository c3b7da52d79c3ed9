package lane

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"lanesim/units"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"
)

// drawOil draws a map of any grid, with columns beyond the lane's edges too.
func drawOil(t *rapid.T) *OilMap {
	var distances []float64
	x := rapid.Float64Range(0, 2).Draw(t, "first distance")
	for range rapid.IntRange(1, 6).Draw(t, "rows") {
		distances = append(distances, x)
		x += rapid.Float64Range(0.01, 5).Draw(t, "step")
	}
	columns := rapid.IntRange(1, 12).Draw(t, "columns")
	n := len(distances) * columns
	o, err := NewOilMap(distances,
		rapid.Float64Range(-Width, Width).Draw(t, "right"),
		rapid.Float64Range(0.01, 0.4).Draw(t, "spacing"),
		columns,
		rapid.SliceOfN(rapid.Float64Range(0, 80), n, n).Draw(t, "film"))
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// A film a + bx + cy + dxy is exact everywhere between the nodes.
func TestBilinearFilmIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := rapid.Float64Range(0, 1)
		b, c, d := draw.Draw(t, "b"), draw.Draw(t, "c"), draw.Draw(t, "d")
		film := func(x, y float64) float64 { return 20 + b*x + c*y + d*x*y }
		distances := []float64{0, 0.3, 1, 4, 4.5, 11, 12}
		var nodes []float64
		for _, x := range distances {
			for j := range Boards {
				nodes = append(nodes, film(x, Lateral(float64(j+1))))
			}
		}
		o, err := NewOilMap(distances, Lateral(1), BoardWidth, Boards, nodes)
		if err != nil {
			t.Fatal(err)
		}
		x := rapid.Float64Range(0, 12).Draw(t, "x")
		y := rapid.Float64Range(Lateral(1), Lateral(39)).Draw(t, "y")
		if got, want := o.Thickness(x, y), film(x, y); !near(got, want, 100) {
			t.Errorf("film %v at (%v, %v), want %v", got, x, y, want)
		}
	})
}

// Constant from the outer columns to the edges and from the first row back to
// the foul line; dry beyond the last row and the edges, unless extended.
func TestBeyondTheGrid(t *testing.T) {
	o, err := NewOilMap([]float64{2, 10}, -0.4, 0.8, 2, []float64{1, 2, 3, 4})
	if err != nil {
		t.Fatal(err)
	}
	const edge = Width / 2
	for _, test := range []struct{ x, y, film, extended float64 }{
		{0, -0.4, 1, 1}, {2, 0.4, 2, 2}, {0, 0, 1.5, 1.5}, {6, 0, 2.5, 2.5}, {10, -0.4, 3, 3},
		{0, -edge, 1, 1}, {10, edge, 4, 4}, {6, edge, 3, 3},
		{10 + 1e-9, 0, 0, 3.5}, {50, 0, 0, 3.5}, {6, edge + 1e-9, 0, 3}, {6, -2, 0, 2},
	} {
		if got := o.Thickness(test.x, test.y); !near(got, test.film, 1) {
			t.Errorf("film %v at (%v, %v), want %v", got, test.x, test.y, test.film)
		}
		if got := o.Extended(test.x, test.y); !near(got, test.extended, 1) {
			t.Errorf("extended film %v at (%v, %v), want %v", got, test.x, test.y, test.extended)
		}
	}
	var dry *OilMap
	if dry.Thickness(1, 0) != 0 || dry.Volume(0, 10) != 0 || dry.Length() != 0 || dry.Mirror() != nil {
		t.Error("a nil map is not dry")
	}
}

func TestMirroredFilm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawOil(t)
		m := o.Mirror()
		x, y := rapid.Float64Range(0, 30).Draw(t, "x"), rapid.Float64Range(-0.6, 0.6).Draw(t, "y")
		// Between two columns 0.01 m apart the film may rise by 80: a rounding
		// of a position of 5 m moves it by 80/0.01 × 5 roundings.
		const steep = 80 / 0.01 * 5
		if a, b := o.Thickness(x, y), m.Thickness(x, -y); !near(a, b, steep) {
			t.Errorf("film %v at (%v, %v), mirrored %v", a, x, y, b)
		}
		twice := m.Mirror()
		if !slices.Equal(twice.Film, o.Film) || !slices.Equal(twice.Distances, o.Distances) ||
			twice.Columns != o.Columns || twice.Spacing != o.Spacing || !near(twice.Right, o.Right, 10) {
			t.Errorf("mirrored twice: %+v, was %+v", twice, o)
		}
		if a, b := o.Volume(0, 20), m.Volume(0, 20); !near(a, b, 80*20) {
			t.Errorf("volume %v, mirrored %v", a, b)
		}
	})
}

// The volume against quadrature of Thickness, whose pieces between grid lines
// are bilinear, so that two points each way integrate them exactly.
func TestVolumeIsTheIntegral(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawOil(t)
		from := rapid.Float64Range(-1, 20).Draw(t, "from")
		to := rapid.Float64Range(-1, 30).Draw(t, "to")
		want := 0.0
		if to > from {
			want = quadrature(o, max(from, 0), min(to, o.Length()))
		}
		if got := o.Volume(from, to); !near(got, want, 80*30) {
			t.Errorf("volume %v from %v to %v, quadrature %v", got, from, to, want)
		}
	})
}

func quadrature(o *OilMap, from, to float64) float64 {
	along := []float64{from}
	for _, d := range o.Distances {
		if d > from && d < to {
			along = append(along, d)
		}
	}
	along = append(along, to)
	across := []float64{-Width / 2}
	for j := range o.Columns {
		if y := o.Right + float64(j)*o.Spacing; math.Abs(y) < Width/2 {
			across = append(across, y)
		}
	}
	across = append(across, Width/2)
	total := 0.0
	for i := 1; i < len(along); i++ {
		if along[i] <= along[i-1] {
			continue
		}
		total += quad.Fixed(func(x float64) float64 {
			row := 0.0
			for j := 1; j < len(across); j++ {
				row += quad.Fixed(func(y float64) float64 { return o.Thickness(x, y) },
					across[j-1], across[j], 2, quad.Legendre{}, 0)
			}
			return row
		}, along[i-1], along[i], 2, quad.Legendre{}, 0)
	}
	return total
}

// Volumes of neighbouring stretches add up.
func TestVolumeAdds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawOil(t)
		cut := rapid.Float64Range(0, 20).Draw(t, "cut")
		if a, b := o.Volume(0, cut)+o.Volume(cut, 40), o.Volume(0, 40); !near(a, b, 80*40) {
			t.Errorf("%v in two stretches, %v in one", a, b)
		}
	})
}

func TestNewOilMapRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, test := range []struct {
		distances      []float64
		right, spacing float64
		columns        int
		film           []float64
	}{
		{nil, 0, 1, 1, nil},
		{[]float64{1}, 0, 1, 0, nil},
		{[]float64{1}, 0, 0, 1, []float64{1}},
		{[]float64{1}, 0, nan, 1, []float64{1}},
		{[]float64{1}, 0, inf, 1, []float64{1}},
		{[]float64{1}, nan, 1, 1, []float64{1}},
		{[]float64{1}, -inf, 1, 1, []float64{1}},
		{[]float64{-1}, 0, 1, 1, []float64{1}},
		{[]float64{nan}, 0, 1, 1, []float64{1}},
		{[]float64{inf}, 0, 1, 1, []float64{1}},
		{[]float64{1, 1}, 0, 1, 1, []float64{1, 1}},
		{[]float64{1}, 0, 1, 2, []float64{1}},
		{[]float64{1}, 0, 1, 1, []float64{-1}},
		{[]float64{1}, 0, 1, 1, []float64{nan}},
		{[]float64{1}, 0, 1, 1, []float64{inf}},
	} {
		t.Run(fmt.Sprint(test), func(t *testing.T) {
			if o, err := NewOilMap(test.distances, test.right, test.spacing, test.columns, test.film); err == nil {
				t.Errorf("accepted as %+v", o)
			}
		})
	}
}

func TestNewBoardOilMap(t *testing.T) {
	row := make([]float64, Boards)
	for j := range row {
		row[j] = float64(j + 1)
	}
	distances := []float64{0, 12}
	o, err := NewBoardOilMap(distances, [][]float64{row, row})
	if err != nil {
		t.Fatal(err)
	}
	distances[1] = 1
	if o.Length() != 12 {
		t.Error("the map shares the caller's distances")
	}
	for board := 1; board <= Boards; board++ {
		if got := o.Thickness(5, Lateral(float64(board))) / units.OilUnit; !near(got, float64(board), Boards) {
			t.Errorf("board %d has %v units", board, got)
		}
	}
	for _, units := range [][][]float64{{row}, {row, row[:38]}, {row, nil}} {
		if _, err := NewBoardOilMap([]float64{0, 12}, units); err == nil {
			t.Errorf("accepted rows of %d and %d values", len(units[0]), len(units[len(units)-1]))
		}
	}
}

func TestThicknessDoesNotAllocate(t *testing.T) {
	row := make([]float64, Boards)
	o, err := NewBoardOilMap([]float64{0, 12}, [][]float64{row, row})
	if err != nil {
		t.Fatal(err)
	}
	if n := testing.AllocsPerRun(100, func() { o.Thickness(5, 0.1) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// A place just inside the outermost column may round to it.
func TestFilmJustInsideTheOutermostColumn(t *testing.T) {
	film := []float64{1, 1, 1, 1}
	for _, right := range []float64{1.3877787807814457e-17, -0.4, -0.3999999999999999} {
		o, err := NewOilMap([]float64{0, 1}, right, 0.4, 2, film)
		if err != nil {
			t.Fatal(err)
		}
		for _, y := range []float64{right, math.Nextafter(right, 1), right + 2.7755575615628914e-17, right + 0.4, math.Nextafter(right+0.4, 0)} {
			for _, m := range []*OilMap{o, o.Mirror()} {
				for _, at := range []float64{y, -y} {
					if f := m.Extended(0.5, at); f != 1 {
						t.Errorf("right %g: %g at %g", right, f, at)
					}
				}
			}
		}
	}
}
