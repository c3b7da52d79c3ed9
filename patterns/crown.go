package patterns

import (
	"cmp"
	"errors"
	"fmt"
	"math"

	"lanesim/internal/portable"
	"lanesim/lane"
	"lanesim/units"
)

// Defaults of a crown's shape. All are assumed, not measured: they put about
// 50 units in the middle of the heads and 5 at the end for 25 mL on 40 ft at
// 10 to 1, where front-centre readings of 50 to 100 units are common practice.
const (
	DefaultPlateau     = 14.0 // boards
	DefaultShoulder    = 5.0  // boards; the outer level begins at board 8
	DefaultFrontToBack = 10.0
	DefaultFallOff     = 2.0
)

// MaximumLength is the longest crown in m that [Crown.Build] accepts: far longer
// than any lane, and short enough for a table with a row per foot.
const MaximumLength = 1000.0

// MaximumUnits is the thickest film in oil units that tape readings and grids may
// have: far more than any lane carries.
const MaximumUnits = 1e6

// leastRow is the least distance in m between the last whole foot and the end of
// the oil at which both get a row. Whole feet computed in two ways differ by
// about 1e-15 m; a tenth of a millimetre is below any oil machine's accuracy.
const leastRow = 1e-4

// Crown is a pattern built from a few numbers. Its length, volume and ratio
// are met exactly, up to rounding.
//
// The film is the product of a profile across the lane and one along it, so
// the ratio holds at every distance. With c the distance from the lane's
// centre line in boards and ξ the share of the oiled length,
//
//	across(c) ∝ Ratio (D_out − d(c)) + d(c) − D_in
//	along(ξ)  ∝ b + (1 − b) (1 − ξ)^FallOff,    b = 1/FrontToBack
//
// where the drop d is 0 on the plateau, 1 outside the shoulders and a cubic
// smoothstep on them, and D_in and D_out are its means over the inside and the
// outside boards. The means of across over these boards then have the ratio Ratio.
// The volume sets the scale. The film is symmetric.
type Crown struct {
	Name, About string

	// Length is the oiled length in m from the foul line.
	Length float64

	// Volume is the oil on the lane in m³.
	Volume float64

	// Ratio is the film on the inside boards over that on the outside boards
	// of each side, as [Measure] computes it with Sets: 1 is flat across,
	// 10 a crowned house pattern, less than 1 has more oil outside.
	Ratio float64

	// Plateau is the width in boards, about the centre line, over which the
	// film is level. 0 means DefaultPlateau, assumed.
	Plateau float64

	// Shoulder is the width in boards, on each side of the plateau, over
	// which the film falls to the level of the outer boards. 0 means
	// DefaultShoulder, assumed.
	Shoulder float64

	// FrontToBack is the film at the foul line over that at the end of the
	// oil; 1 is level along the lane. 0 means DefaultFrontToBack, assumed.
	FrontToBack float64

	// FallOff is the exponent of the film's fall from front to back: 1 is a
	// straight line, with more it falls earlier, with less later. 0 means
	// DefaultFallOff, assumed.
	FallOff float64

	// Sets names the boards that Ratio compares; zero means the default.
	Sets BoardSets
}

// ShapeError reports a number of a [Crown] that is impossible.
type ShapeError struct {
	// Field is the number's key in a pattern file: length, volume, ratio,
	// plateau, shoulder, front_to_back, fall_off or boards.
	Field string

	// Reason says what is wrong with it.
	Reason string
}

func (e *ShapeError) Error() string { return e.Field + ": " + e.Reason }

// Build returns the pattern as an oil map with a column per board centre, a
// row at every foot and a row at the end. Each fault is a [*ShapeError]; several
// are joined.
func (c Crown) Build() (*lane.OilMap, error) {
	c = c.withDefaults()
	if err := c.check(); err != nil {
		return nil, err
	}
	across, err := c.across()
	if err != nil {
		return nil, err
	}
	distances := rowDistances(c.Length)
	rows := make([][]float64, len(distances))
	for i, x := range distances {
		along := c.along(x / c.Length)
		row := make([]float64, len(across))
		for j, a := range across {
			row[j] = along * a
		}
		rows[i] = row
	}
	// Build it once at an arbitrary scale to find the volume of its bilinear
	// film, then scale it.
	o, err := lane.NewBoardOilMap(distances, rows)
	if err != nil {
		return nil, &ShapeError{"ratio", fmt.Sprintf("%g is too extreme to compute", c.Ratio)}
	}
	scale := c.Volume / o.Volume(0, c.Length)
	for i := range o.Film {
		o.Film[i] *= scale
		if math.IsInf(o.Film[i], 0) || math.IsNaN(o.Film[i]) {
			return nil, &ShapeError{"volume", fmt.Sprintf("%g m³ is too extreme to compute", c.Volume)}
		}
	}
	return o, nil
}

// withDefaults resolves the zero values.
func (c Crown) withDefaults() Crown {
	c.Plateau, c.Shoulder = cmp.Or(c.Plateau, DefaultPlateau), cmp.Or(c.Shoulder, DefaultShoulder)
	c.FrontToBack, c.FallOff = cmp.Or(c.FrontToBack, DefaultFrontToBack), cmp.Or(c.FallOff, DefaultFallOff)
	c.Sets = c.Sets.orDefault()
	return c
}

// check returns an error for each number that is impossible by itself.
func (c Crown) check() error {
	var faults []error
	for _, number := range []struct {
		field, unit string
		value, most float64
	}{
		{"length", " m", c.Length, MaximumLength},
		{"volume", " m³", c.Volume, math.MaxFloat64},
		{"ratio", "", c.Ratio, math.MaxFloat64},
		{"plateau", " boards", c.Plateau, lane.Boards},
		{"shoulder", " boards", c.Shoulder, lane.Boards},
		{"front_to_back", "", c.FrontToBack, math.MaxFloat64},
		{"fall_off", "", c.FallOff, math.MaxFloat64},
	} {
		switch {
		case !(number.value > 0): // also NaN
			faults = append(faults, &ShapeError{number.field,
				fmt.Sprintf("%g%s is not greater than 0", number.value, number.unit)})
		case number.value > number.most:
			faults = append(faults, &ShapeError{number.field,
				fmt.Sprintf("%g%s is more than %g%s", number.value, number.unit, number.most, number.unit)})
		}
	}
	if c.FrontToBack > 0 && math.IsInf(1/c.FrontToBack, 0) {
		faults = append(faults, &ShapeError{"front_to_back", fmt.Sprintf("%g is too extreme to compute", c.FrontToBack)})
	}
	if !c.Sets.valid() {
		faults = append(faults, &ShapeError{"boards",
			fmt.Sprintf("inside %d–%d over outside %d–%d are not runs of boards from 1 to %d",
				c.Sets.Inside.From, c.Sets.Inside.To, c.Sets.Outside.From, c.Sets.Outside.To, lane.Boards)})
	}
	return errors.Join(faults...)
}

// along is the film at the share ξ of the oiled length over that at the foul
// line.
func (c Crown) along(ξ float64) float64 {
	b := 1 / c.FrontToBack
	return b + (1-b)*portable.Pow(max(1-ξ, 0), c.FallOff)
}

// across returns the film on each board at the foul line, at an arbitrary scale.
func (c Crown) across() ([]float64, error) {
	const centre = (lane.Boards - 1) / 2
	film := make([]float64, lane.Boards)
	for j := range film {
		film[j] = c.drop(math.Abs(float64(j - centre)))
	}
	// The drop is symmetric, so either side gives the same means.
	inside, outside := c.Sets.Inside.mean(film, false), c.Sets.Outside.mean(film, false)
	least, most := film[centre], film[0]
	switch {
	case c.Ratio == 1:
		for j := range film {
			film[j] = 1
		}
		return film, nil
	case !(inside < outside):
		return nil, &ShapeError{"ratio", fmt.Sprintf(
			"%g cannot be met: plateau and shoulder leave no drop from the inside to the outside boards", c.Ratio)}
	case c.Ratio*(outside-most)+most-inside < 0:
		return nil, &ShapeError{"ratio", fmt.Sprintf(
			"%g cannot be met: plateau and shoulder allow at most %.4g before the outermost boards are dry",
			c.Ratio, (most-inside)/(most-outside))}
	case c.Ratio*(outside-least)+least-inside < 0:
		return nil, &ShapeError{"ratio", fmt.Sprintf(
			"%g cannot be met: plateau and shoulder allow at least %.4g before the middle board is dry",
			c.Ratio, (inside-least)/(outside-least))}
	}
	for j, d := range film {
		film[j] = (c.Ratio*(outside-d) + d - inside) / (outside - inside)
	}
	return film, nil
}

// drop is d, from 0 on the plateau to 1 outside the shoulders, at a distance in
// boards from the centre line.
func (c Crown) drop(boards float64) float64 {
	t := min(max((boards-c.Plateau/2)/c.Shoulder, 0), 1)
	return t * t * (3 - 2*t)
}

// rowDistances returns every whole foot below length, in m, and length.
func rowDistances(length float64) []float64 {
	var rows []float64
	for i := 0; ; i++ {
		x := float64(i) * units.Foot
		if i > 0 && x > length-leastRow || x >= length {
			return append(rows, length)
		}
		rows = append(rows, x)
	}
}
