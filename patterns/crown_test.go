package patterns

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"lanesim/lane"
	"lanesim/units"
)

// exact is the relative error allowed as rounding: sums of some 2400 film values, each
// rounded to 1.1e-16, scatter below 1e-13.
const exact = 1e-12

func near(got, want, relative float64) bool {
	return math.Abs(got-want) <= relative*math.Abs(want)
}

func millilitres(v float64) float64 { return v * 1e-6 }

// The pattern has exactly the numbers given to the crown.
func TestCrownMeetsItsNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// The plateau covers the inside boards and the shoulders end before the outside
		// boards, 13 from the centre, so the ratio has no bound.
		plateau := rapid.Float64Range(4, 20).Draw(t, "plateau")
		c := Crown{
			Length:      rapid.Float64Range(0.1, 60).Draw(t, "feet") * units.Foot,
			Volume:      millilitres(rapid.Float64Range(0.001, 100).Draw(t, "mL")),
			Ratio:       math.Exp(rapid.Float64Range(math.Log(0.02), math.Log(50)).Draw(t, "log ratio")),
			Plateau:     plateau,
			Shoulder:    rapid.Float64Range(0.1, 13-plateau/2).Draw(t, "shoulder"),
			FrontToBack: rapid.Float64Range(0.5, 50).Draw(t, "front to back"),
			FallOff:     rapid.Float64Range(0.2, 6).Draw(t, "fall-off"),
		}
		o, err := c.Build()
		if err != nil {
			t.Fatal(err)
		}
		checkCrown(t, c, o)
	})
}

// Shoulders that reach the compared boards limit the possible ratios, and the error has the
// limit.
func TestCrownWithAnyShape(t *testing.T) {
	met, refused := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		c := Crown{
			Length:   40 * units.Foot,
			Volume:   millilitres(25),
			Ratio:    math.Exp(rapid.Float64Range(math.Log(0.05), math.Log(30)).Draw(t, "log ratio")),
			Plateau:  rapid.Float64Range(0.1, 39).Draw(t, "plateau"),
			Shoulder: rapid.Float64Range(0.1, 39).Draw(t, "shoulder"),
			Sets: BoardSets{
				Inside:  BoardRange{rapid.IntRange(10, 20).Draw(t, "inside"), rapid.IntRange(20, 30).Draw(t, "to")},
				Outside: BoardRange{1, rapid.IntRange(1, 10).Draw(t, "outside")},
			},
		}
		o, err := c.Build()
		if err == nil {
			met++
			checkCrown(t, c, o)
			return
		}
		refused++
		var shape *ShapeError
		if !errors.As(err, &shape) || shape.Field != "ratio" {
			t.Fatalf("error is %v", err)
		}
	})
	if met == 0 || refused == 0 {
		t.Errorf("%d met, %d refused: the draw does not test both", met, refused)
	}
}

type failer interface{ Errorf(string, ...any) }

func checkCrown(t failer, c Crown, o *lane.OilMap) {
	m := Measure(o, c.Sets)
	if m.Length != c.Length {
		t.Errorf("length %v m, want %v", m.Length, c.Length)
	}
	if !near(m.Volume, c.Volume, exact) {
		t.Errorf("volume %v m³, want %v", m.Volume, c.Volume)
	}
	for _, got := range []float64{m.Ratio.Right, m.Ratio.Left, m.Ratio.Both, m.Sections[3].Ratio.Right, m.Sections[3].Ratio.Left} {
		if !near(got, c.Ratio, exact) {
			t.Errorf("ratio %v, want %v", got, c.Ratio)
		}
	}
	if m.Asymmetry > exact || !near(m.LeftShare, 0.5, exact) {
		t.Errorf("asymmetry %v, left share %v", m.Asymmetry, m.LeftShare)
	}
	if sum := m.Thirds[0] + m.Thirds[1] + m.Thirds[2]; !near(sum, m.Volume, exact) {
		t.Errorf("thirds add up to %v of %v m³", sum, m.Volume)
	}
}

func TestCrownIsFlatAtOne(t *testing.T) {
	o, err := Crown{Length: 40 * units.Foot, Volume: millilitres(25), Ratio: 1}.Build()
	if err != nil {
		t.Fatal(err)
	}
	for i := range o.Distances {
		for _, h := range o.Film[i*o.Columns : (i+1)*o.Columns] {
			if h != o.Film[i*o.Columns] {
				t.Fatalf("row %d is not level", i)
			}
		}
	}
}

// By default the film falls from the centre to the gutters and from the heads to the end,
// and the film in the middle of the heads is that of common practice.
func TestCrownFallsOutwardAndBackward(t *testing.T) {
	o, err := Crown{Length: 40 * units.Foot, Volume: millilitres(25), Ratio: 10}.Build()
	if err != nil {
		t.Fatal(err)
	}
	const centre = (lane.Boards - 1) / 2
	for i := range o.Distances {
		row := o.Film[i*o.Columns : (i+1)*o.Columns]
		for j := range row {
			if row[j] != row[lane.Boards-1-j] {
				t.Errorf("row %d, board %d is not symmetric", i, j+1)
			}
			if j < centre && row[j] > row[j+1] {
				t.Errorf("row %d rises outward at board %d", i, j+1)
			}
			if i > 0 && row[j] >= o.Film[(i-1)*o.Columns+j] {
				t.Errorf("board %d does not fall at row %d", j+1, i)
			}
		}
	}
	if heads := o.Thickness(0, 0) / units.OilUnit; heads < 40 || heads > 60 {
		t.Errorf("%.1f units in the heads, want 40 to 60", heads)
	}
}

func TestCrownReversed(t *testing.T) {
	o, err := Crown{Length: 40 * units.Foot, Volume: millilitres(25), Ratio: 0.25}.Build()
	if err != nil {
		t.Fatal(err)
	}
	m := Measure(o, BoardSets{})
	if !near(m.Ratio.Right, 0.25, exact) || m.Units[0] <= m.Units[19] {
		t.Errorf("ratio %v, board 1 has %.2f units, board 20 %.2f", m.Ratio.Right, m.Units[0], m.Units[19])
	}
}

// Every impossible number is reported at once, under its key.
func TestCrownErrors(t *testing.T) {
	good := Crown{Length: 12, Volume: 25e-6, Ratio: 3}
	for _, test := range []struct {
		name   string
		change func(*Crown)
		want   string
	}{
		{"nothing", func(c *Crown) { *c = Crown{} },
			"length: 0 m is not greater than 0\nvolume: 0 m³ is not greater than 0\nratio: 0 is not greater than 0"},
		{"not numbers", func(c *Crown) { c.Ratio, c.Plateau = math.NaN(), math.Inf(1) },
			"ratio: NaN is not greater than 0\nplateau: +Inf boards is more than 39 boards"},
		{"endless", func(c *Crown) { c.Length = math.Inf(1) }, "length: +Inf m is more than 1000 m"},
		{"negative shape", func(c *Crown) { c.Shoulder, c.FrontToBack, c.FallOff = -1, -2, -3 },
			"shoulder: -1 boards is not greater than 0\nfront_to_back: -2 is not greater than 0\nfall_off: -3 is not greater than 0"},
		{"dry front", func(c *Crown) { c.FrontToBack = 5e-324 }, "front_to_back: 5e-324 is too extreme to compute"},
		{"sets", func(c *Crown) { c.Sets = BoardSets{BoardRange{18, 40}, BoardRange{3, 7}} },
			"boards: inside 18–40 over outside 3–7 are not runs of boards from 1 to 39"},
		{"too wide", func(c *Crown) { c.Plateau = 39 },
			"ratio: 3 cannot be met: plateau and shoulder leave no drop from the inside to the outside boards"},
		{"shoulder outside", func(c *Crown) { c.Plateau, c.Shoulder, c.Ratio = 20, 10, 20 },
			"ratio: 20 cannot be met: plateau and shoulder allow at most 2.059 before the outermost boards are dry"},
		{"shoulder inside", func(c *Crown) { c.Plateau, c.Shoulder, c.Ratio = 0.5, 3, 0.1 },
			"ratio: 0.1 cannot be met: plateau and shoulder allow at least 0.312 before the middle board is dry"},
	} {
		t.Run(test.name, func(t *testing.T) {
			c := good
			test.change(&c)
			_, err := c.Build()
			var shape *ShapeError
			if !errors.As(err, &shape) {
				t.Fatalf("error is %v", err)
			}
			if err.Error() != test.want {
				t.Errorf("error is\n%v\nwant\n%s", err, test.want)
			}
		})
	}
}
