package lane

import (
	"fmt"
	"math"
	"slices"

	"lanesim/units"
)

// OilMap is the film of oil on a lane: thickness on a grid of distances by
// lateral positions, bilinear between them. It is constant from the outer
// columns to the lane's edges and from the first distance back to the foul
// line, and dry beyond the last distance and beyond the edges.
//
// Between two distances no farther apart than [Jump] the film jumps.
//
// Build one with [NewOilMap] or [NewBoardOilMap]; the fields are exported
// for reading and for studies that exchange oil.
type OilMap struct {
	// Distances are the grid's down-lane positions in m, increasing. The
	// film ends exactly at the last.
	Distances []float64

	// Right is the lateral position in m of the first column, Spacing the
	// distance in m from a column to the next on its left.
	Right, Spacing float64

	// Columns is the number of columns.
	Columns int

	// Film holds the thickness in m, row by row: Film[i*Columns+j] is at
	// Distances[i] and Right + j·Spacing.
	Film []float64

	// centre is the lateral position in m of the grid's middle, if placed. It is
	// stored so that a mirrored map's is exactly opposite: from the columns it
	// would be so only to rounding.
	centre float64
	placed bool
}

// Jump is the largest gap in m between two distances between which the film jumps.
const Jump = 1e-6

// NewOilMap returns an oil map with rows at the given distances in m and
// columns at right + j·spacing, in m; film is row-major, in m. The slices
// are kept, not copied.
//
// The error is a [*units.FieldError]: distances do not increase from 0 or more, the
// film's length is not rows × columns, or a value is negative, NaN or infinite.
func NewOilMap(distances []float64, right, spacing float64, columns int, film []float64) (*OilMap, error) {
	o := &OilMap{Distances: distances, Right: right, Spacing: spacing, Columns: columns, Film: film}
	if err := o.Validate(); err != nil {
		return nil, err
	}
	o.centre, o.placed = o.middle(), true
	return o, nil
}

// NewBoardOilMap returns an oil map with a column at the centre of each
// board. rows[i][j] is the film, in oil units, at distances[i] in m and
// board j+1 counted from the right.
func NewBoardOilMap(distances []float64, rows [][]float64) (*OilMap, error) {
	if len(rows) != len(distances) {
		return nil, fmt.Errorf("oil map: %d rows for %d distances", len(rows), len(distances))
	}
	film := make([]float64, 0, len(rows)*Boards)
	for i, row := range rows {
		if len(row) != Boards {
			return nil, fmt.Errorf("oil map: row %d has %d values, not %d", i, len(row), Boards)
		}
		for _, u := range row {
			film = append(film, u*units.OilUnit)
		}
	}
	return NewOilMap(slices.Clone(distances), Lateral(1), BoardWidth, Boards, film)
}

// Length is the distance in m at which the oil ends, 0 for a map that is nil or
// empty.
func (o *OilMap) Length() float64 {
	if o == nil || len(o.Distances) == 0 {
		return 0
	}
	return o.Distances[len(o.Distances)-1]
}

// Thickness returns the film in m at (x, y): 0 beyond the map's last
// distance and beyond the lane's edges, and everywhere on a nil map.
func (o *OilMap) Thickness(x, y float64) float64 {
	if o == nil || len(o.Film) == 0 || x > o.Length() || math.Abs(y) > Width/2 {
		return 0
	}
	return o.Extended(x, y)
}

// Extended returns the film in m at (x, y) as if the last row and the outer
// columns continued without end. An integrator uses it to evaluate the film a
// little beyond an edge that it is locating. The map must not be nil.
func (o *OilMap) Extended(x, y float64) float64 {
	i, u := o.row(x)
	inner, outer, v := o.columns(y)
	a := o.Film[i*o.Columns : (i+1)*o.Columns]
	h := interpolate(a[inner], a[outer], v)
	if u > 0 {
		b := o.Film[(i+1)*o.Columns : (i+2)*o.Columns]
		h += u * (interpolate(b[inner], b[outer], v) - h)
	}
	return h
}

// interpolate interpolates linearly between two values. Half-way it gives the same
// from either side, to the last digit.
func interpolate(inner, outer, v float64) float64 {
	if v == 0.5 {
		return (inner + outer) / 2
	}
	return inner + v*(outer-inner)
}

// middle is the lateral position of the grid's middle in m.
func (o *OilMap) middle() float64 {
	if o.placed {
		return o.centre
	}
	return o.Right + float64(o.Columns-1)/2*o.Spacing
}

// columns finds the columns between which y lies and the fraction of the way
// from the inner one, nearer to the grid's middle, to the outer. Counting from
// the middle makes a mirrored map give the same film to the last digit.
func (o *OilMap) columns(y float64) (inner, outer int, v float64) {
	last := o.Columns - 1
	half := float64(last) / 2
	v = (y - o.middle()) / o.Spacing
	left := v > 0
	if !left {
		v = -v
	}
	if !(v < half) { // also NaN
		inner, v = last, 0
		outer = inner
	} else {
		// Steps outward from the column at the middle or, if there is none,
		// from the one half a step on the other side of it.
		v += half - float64(last/2)
		step := int(v)
		v -= float64(step)
		inner = last - last/2 + step - last%2
		outer = inner + 1
		if outer > last { // by rounding, just inside the outermost column
			inner, outer, v = last, last, 0
		}
	}
	if !left {
		inner, outer = last-inner, last-outer
	}
	return inner, outer, v
}

// row finds the grid row at or before x and the fraction of the way to the
// next.
func (o *OilMap) row(x float64) (int, float64) {
	d := o.Distances
	last := len(d) - 1
	if !(x > d[0]) {
		return 0, 0
	}
	if x >= d[last] {
		return last, 0
	}
	// Most grids are evenly spaced: guess the row, then step to it.
	i := min(int((x-d[0])/(d[last]-d[0])*float64(last)), last-1)
	for x < d[i] {
		i--
	}
	for x >= d[i+1] {
		i++
	}
	return i, (x - d[i]) / (d[i+1] - d[i])
}

// Mirror returns a copy of the map mirrored about the lane's centre line. A
// nil map stays nil.
func (o *OilMap) Mirror() *OilMap {
	if o == nil {
		return nil
	}
	m := *o
	m.Right = -(o.Right + float64(o.Columns-1)*o.Spacing)
	m.centre, m.placed = -o.middle(), true
	m.Film = slices.Clone(o.Film)
	for i := range o.Distances {
		slices.Reverse(m.Film[i*o.Columns : (i+1)*o.Columns])
	}
	return &m
}

// Volume returns the oil in m³ that lies between the distances from and to,
// in m: the exact integral of the bilinear film over the lane's width.
func (o *OilMap) Volume(from, to float64) float64 {
	if o == nil {
		return 0
	}
	from, to = max(from, 0), min(to, o.Length())
	if !(to > from) {
		return 0
	}
	// The film is linear in x between rows: trapezoids over the rows
	// within (from, to) and the two ends.
	total := 0.0
	x0, a0 := from, o.acrossAt(from)
	step := func(x float64) {
		a := o.acrossAt(x)
		total += (x - x0) * (a + a0) / 2
		x0, a0 = x, a
	}
	for _, d := range o.Distances {
		if d > from && d < to {
			step(d)
		}
	}
	step(to)
	return total
}

// acrossAt integrates the film across the lane at x: m².
func (o *OilMap) acrossAt(x float64) float64 {
	i, u := o.row(x)
	a := o.across(i)
	if u > 0 {
		a += u * (o.across(i+1) - a)
	}
	return a
}

// across integrates row i over the lane's width: trapezoids between the
// columns and constant strips out to the edges.
func (o *OilMap) across(i int) float64 {
	row := o.Film[i*o.Columns : (i+1)*o.Columns]
	n := o.Columns
	left := o.Right + float64(n-1)*o.Spacing
	const edge = Width / 2
	sum := min(max(o.Right+edge, 0), Width)*row[0] + min(max(edge-left, 0), Width)*row[n-1]
	if o.Right >= -edge && left <= edge {
		for j := 1; j < n; j++ {
			sum += o.Spacing * (row[j-1] + row[j]) / 2
		}
		return sum
	}
	// Columns lie beyond an edge: cut the trapezoids off there.
	for j := 1; j < n; j++ {
		y := o.Right + float64(j-1)*o.Spacing
		from, to := max(y, -edge), min(y+o.Spacing, edge)
		if to > from {
			middle := ((from+to)/2 - y) / o.Spacing
			sum += (to - from) * (row[j-1] + middle*(row[j]-row[j-1]))
		}
	}
	return sum
}
