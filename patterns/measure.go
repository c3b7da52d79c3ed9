package patterns

import (
	"math"
	"slices"

	"lanesim/lane"
	"lanesim/units"
)

// leastStrip is the share of a board below which a column's strip is taken not to
// lie on it. Strip edges computed in two ways differ by about 1e-14 boards; a
// millionth of a board's film is less than any tape shows.
const leastStrip = 1e-6

// ExitRule is the distance in ft that the published rule of thumb for the exit
// board subtracts from the oiled length.
const ExitRule = 31

// ReadingDistances returns the distances in m, besides the end of the oil, at
// which [Measure] reads the film: 8, 15 and 22 ft.
func ReadingDistances() []float64 {
	return []float64{8 * units.Foot, 15 * units.Foot, 22 * units.Foot}
}

// Measures are the numbers of a pattern. A number that does not exist, such as a
// ratio over boards without oil, is NaN.
type Measures struct {
	// Sets names the boards that the ratios compare.
	Sets BoardSets

	// Length is the oiled length in m from the foul line.
	Length float64

	// Volume is the oil on the lane in m³; Thirds is its part in the first,
	// middle and last third of the oiled length.
	Volume float64
	Thirds [3]float64

	// MeanUnits is the film in units averaged over the lane's width and the
	// oiled length. NaN without oiled length.
	MeanUnits float64

	// Units is the film in units on each board, counted from the right,
	// averaged over the oiled length; Ratio compares these. NaN without
	// oiled length.
	Units []float64
	Ratio Ratio

	// Sections are the readings at the given distances, [ReadingDistances] by
	// default, and last at the end of the oil.
	Sections []Section

	// LeftShare is the share of the oil on the left half of the lane, 0.5 if the
	// halves have the same oil. NaN without oil.
	LeftShare float64

	// Asymmetry is how far the pattern is from its mirror image: the absolute
	// difference of the film on each board from that on the mirrored board,
	// summed over the map's rows and the lane, over twice the oil. 0 is symmetric;
	// 1 means that all oil lies opposite dry boards. NaN without oil.
	Asymmetry float64

	// ExitBoard is a first guess of the board at which the ball leaves the oil,
	// not of the breakpoint: the oiled length in ft minus 31, a published rule of
	// thumb. NaN if there is no such board.
	ExitBoard float64
}

// Ratio is the film on the inside boards over that on the outside boards of a
// [BoardSets]: on each side and, as Both, with the two sides averaged first. NaN if
// the outside is dry.
type Ratio struct{ Right, Left, Both float64 }

// Section is the film at one distance.
type Section struct {
	Distance float64   // m
	Units    []float64 // on each board counted from the right; 0 beyond the oil
	Ratio    Ratio
}

// Measure is [MeasureAt] at [ReadingDistances].
func Measure(o *lane.OilMap, sets BoardSets) Measures {
	return MeasureAt(o, sets, ReadingDistances())
}

// MeasureAt computes the numbers of an oil map; nil is a dry lane. Zero sets mean
// the default; ratios over sets that are not on the lane are NaN. The distances, in
// m, are those of the sections, to which the end of the oil is added.
//
// The film on a board is the average over the board's width, where each column
// of the map represents the strip half-way to its neighbours. So a map with a
// column per board gives its own values, a finer one is averaged, and the boards
// add up to the map's volume if its columns lie on the lane.
func MeasureAt(o *lane.OilMap, sets BoardSets, distances []float64) Measures {
	m := Measures{
		Sets:      sets.orDefault(),
		Length:    o.Length(),
		Volume:    o.Volume(0, o.Length()),
		MeanUnits: math.NaN(),
		LeftShare: math.NaN(),
		Asymmetry: math.NaN(),
		ExitBoard: math.NaN(),
	}
	for i := range m.Thirds {
		m.Thirds[i] = o.Volume(m.Length*float64(i)/3, m.Length*float64(i+1)/3)
	}
	strips := boardStrips(o)
	for _, x := range append(slices.Clone(distances), m.Length) {
		section := Section{Distance: x, Units: strips.at(o, x)}
		section.Ratio = ratio(section.Units, m.Sets)
		m.Sections = append(m.Sections, section)
	}
	m.Units = strips.average(o)
	m.Ratio = ratio(m.Units, m.Sets)
	if m.Length > 0 {
		m.MeanUnits = m.Volume / (m.Length * lane.Width) / units.OilUnit
	}
	if m.Volume > 0 {
		m.LeftShare, m.Asymmetry = strips.balance(o)
	}
	if board := m.Length/units.Foot - ExitRule; board >= 1 && board <= lane.Boards {
		m.ExitBoard = board
	}
	return m
}

// ratio computes the ratios of a row of film on the boards.
func ratio(row []float64, sets BoardSets) Ratio {
	if !sets.valid() {
		return Ratio{math.NaN(), math.NaN(), math.NaN()}
	}
	over := func(in, out float64) float64 {
		if out == 0 {
			return math.NaN()
		}
		return in / out
	}
	inRight, outRight := sets.Inside.mean(row, false), sets.Outside.mean(row, false)
	inLeft, outLeft := sets.Inside.mean(row, true), sets.Outside.mean(row, true)
	return Ratio{
		Right: over(inRight, outRight),
		Left:  over(inLeft, outLeft),
		Both:  over(inRight+inLeft, outRight+outLeft),
	}
}

// strips holds, for each board, the columns whose strips lie on it and the
// share of the board's width that each covers.
type strips [lane.Boards][]strip

type strip struct {
	column int
	share  float64
}

func boardStrips(o *lane.OilMap) strips {
	var boards strips
	if o == nil {
		return boards
	}
	for j := range o.Columns {
		// The strip's edges in boards, half a board off the board numbers.
		right := lane.Board(o.Right + (float64(j)-0.5)*o.Spacing)
		left := lane.Board(o.Right + (float64(j)+0.5)*o.Spacing)
		if j == 0 {
			right = math.Inf(-1)
		}
		if j == o.Columns-1 {
			left = math.Inf(1)
		}
		for b := range boards {
			board := float64(b + 1)
			share := min(left, board+0.5) - max(right, board-0.5)
			if share > leastStrip {
				boards[b] = append(boards[b], strip{j, share})
			}
		}
	}
	for _, columns := range boards { // the shares of a board add up to 1 without the slivers left out, too
		sum := 0.0
		for _, s := range columns {
			sum += s.share
		}
		for i := range columns {
			columns[i].share /= sum
		}
	}
	return boards
}

// at returns the boards' film in units at the distance x.
func (s *strips) at(o *lane.OilMap, x float64) []float64 {
	if o == nil || x > o.Length() {
		return make([]float64, lane.Boards)
	}
	// Interpolate the rows themselves: the map's film at the computed position of
	// a column would mix in a neighbour by rounding.
	i, found := slices.BinarySearch(o.Distances, x)
	row := s.row(o, i)
	if !found && i > 0 {
		before, after := o.Distances[i-1], o.Distances[i]
		share := (x - before) / (after - before)
		for b, u := range s.row(o, i-1) {
			row[b] = (1-share)*u + share*row[b]
		}
	}
	return row
}

// row returns the boards' film in units in the map's row i.
func (s *strips) row(o *lane.OilMap, i int) []float64 {
	film := o.Film[i*o.Columns : (i+1)*o.Columns]
	row := make([]float64, lane.Boards)
	for b, columns := range s {
		for _, c := range columns {
			row[b] += c.share * film[c.column]
		}
		row[b] /= units.OilUnit
	}
	return row
}

// average returns the boards' film in units averaged over the oiled length.
func (s *strips) average(o *lane.OilMap) []float64 {
	mean := make([]float64, lane.Boards)
	if !(o.Length() > 0) {
		for b := range mean {
			mean[b] = math.NaN()
		}
		return mean
	}
	for i, weight := range rowWeights(o) {
		for b, u := range s.row(o, i) {
			mean[b] += weight / o.Length() * u
		}
	}
	return mean
}

// balance returns the left half's share of the oil and the asymmetry; see
// [Measures].
func (s *strips) balance(o *lane.OilMap) (leftShare, asymmetry float64) {
	var left, all, difference float64
	const centre = (lane.Boards+1)/2 - 1
	for i, weight := range rowWeights(o) {
		row := s.row(o, i)
		for b, u := range row {
			all += weight * u
			difference += weight * math.Abs(u-row[lane.Boards-1-b])
			if b > centre {
				left += weight * u
			}
		}
		left += weight * row[centre] / 2
	}
	// Each pair of boards is counted twice.
	return left / all, difference / (2 * all)
}

// rowWeights returns the weight in m of each row of the map in an integral of its
// film along the lane: trapezoids, and the first row back to the foul line.
func rowWeights(o *lane.OilMap) []float64 {
	d := o.Distances
	weights := make([]float64, len(d))
	weights[0] = d[0]
	for i := 1; i < len(d); i++ {
		half := (d[i] - d[i-1]) / 2
		weights[i-1] += half
		weights[i] += half
	}
	return weights
}
