package scenario

import (
	"math"
	"math/big"
	"strconv"
	"testing"

	"lanesim/internal/input"
	"lanesim/lane"
	"lanesim/units"

	"pgregory.net/rapid"
)

// The text of a value reads back to it bit for bit, in every unit.
func TestQuantitiesReadBackExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(dimensions).Draw(t, "dimension")
		u := rapid.SampledFrom(d.units).Draw(t, "unit")
		v := rapid.OneOf(rapid.Float64Range(-1e3, 1e3), rapid.Float64Range(-1e-6, 1e-6), rapid.Float64Range(-1e12, 1e12)).Draw(t, "value")
		if math.Abs(v) < 1e-290 {
			v = 0 // in some units the text would exceed the range of float64
		}
		text := d.format(v, u.name)
		got, err := d.parse(text, u.name)
		if err != nil || got != v {
			t.Fatalf("%v is written %q, which reads as %v, %v", v, text, got, err)
		}
	})
}

// A number without a unit is written as Go does: the shortest text with the same value.
func TestBareNumbersReadBackExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-1e18, 1e18).Draw(t, "value")
		got, err := parseBare(formatBare(v))
		if err != nil || got != v {
			t.Fatalf("%v is written %q, which reads as %v, %v", v, formatBare(v), got, err)
		}
		if shortest, err := strconv.ParseFloat(formatBare(v), 64); err != nil || shortest != v {
			t.Fatalf("%q is not %v to others", formatBare(v), v)
		}
	})
}

// A quantity is the float64 nearest to the decimal text, as Go's exact constants are.
func TestQuantitiesAreExact(t *testing.T) {
	for _, c := range []struct {
		d    *dimension
		text string
		want float64
	}{
		{speed, "18.5 mph", 18.5 * 0.44704},
		{speed, "29.8 km/h", 29.8 / 3.6},
		{speed, "7 m/s", 7},
		{speed, "25ft/s", 25 * 0.3048},
		{length, "4 1/2 in", 4.5 * units.Inch},
		{length, "4-1/2 in", 4.5 * units.Inch},
		{length, "4½ in", 4.5 * units.Inch},
		{length, "½ in", 0.5 * units.Inch},
		{length, "-1/2 in", -0.5 * units.Inch},
		{length, "−3 3/8 inches", -3.375 * units.Inch},
		{length, "+8.58in", 8.58 * units.Inch},
		{length, "114 mm", 0.114},
		{length, "60 ft", lane.HeadPin},
		{length, "25 uin", 25 * units.Microinch},
		{length, "25 µin", 25 * units.Microinch},
		{length, "25 μin", 25 * units.Microinch},
		{length, "0.6 um", 0.6e-6},
		{length, "0.2 µm", lane.DefaultRoughness},
		{length, "2.5e-7 m", 2.5e-7},
		{length, "25.E-2 m", 0.25},
		{length, ".5 cm", 0.005},
		{length, "1\u00a0m", 1},
		{weight, "15 lb", 15 * units.Pound},
		{weight, "6.8 kg", 6.8},
		{weight, "3.5 oz", 3.5 * units.Ounce},
		{weight, "6800 g", 6.8},
		{angle, "13 deg", 13 * units.Degree},
		{angle, "60°", 60 * units.Degree},
		{angle, "0.7 rad", 0.7},
		{rate, "350 rpm", 350 * math.Pi / 30},
		{rate, "33 rad/s", 33},
		{volume, "24 mL", 24e-6},
		{volume, "0.024 L", 24e-6},
		{volume, "5 µL", 5e-9},
		{duration, "2 min", 120},
		{duration, "60 s", 60},
		{duration, "3 ms", 0.003},
		{grit, "2000 grit", 2000},
	} {
		got, err := c.d.parse(c.text, c.d.units[0].name)
		if err != nil || got != c.want {
			t.Errorf("%s is %v, %v, want %v", c.text, got, err, c.want)
		}
	}
}

// Texts that other YAML readers take for another type are refused.
func TestNumbersThatAreRefused(t *testing.T) {
	for _, text := range []string{
		"", " ", "mph", "017", "00", "-007.5", "0x1F", "0o7", "0b1", "1_000", "1,000", "18,5", "nan", "NaN", ".nan", "inf",
		"-.inf", "+Infinity", "1e999", "1e-999", "1e99999999999999999999", "1/0", "3 1/0", "1/2/3", "1.5/2", "1:30", "--1", "+-1",
		"1.2.3", "1 2", "2 -1/2", "e5", ".", "½½", "3 m", "１２",
	} {
		if v, err := parseBare(text); err == nil {
			t.Errorf("%q reads as %v", text, v)
		}
	}
}

func TestShortestDigits(t *testing.T) {
	one := exact("1")
	for _, c := range []struct {
		v    float64
		want string
	}{
		{0, "0"}, {1, "1"}, {-1, "-1"}, {100, "100"}, {17.5, "17.5"}, {0.1, "0.1"}, {0.022, "0.022"}, {1e-6, "1e-6"},
		{2.5e-7, "2.5e-7"}, {123456789, "123456789"}, {1e20, "1e20"}, {-0.00012, "-0.00012"},
	} {
		if got := shortest(c.v, one); got != c.want {
			t.Errorf("%v is written %s, want %s", c.v, got, c.want)
		}
	}
	if got := shortest(math.Nextafter(0.1*0.0254, 1), big.NewRat(254, 10000)); len(got) < 15 {
		t.Errorf("the neighbour of a tenth of an inch is written %s", got)
	}
}

func TestNearest(t *testing.T) {
	keys := ballShape.keys()
	for word, want := range map[string]string{
		"diferential": "differential", "Weight": "weight", "wieght": "weight", "rgs": "rg", "film memory": "film_memory",
		"contact-radius": "contact_radius", "colour": "", "x": "", "layuot": "layout",
	} {
		if got := input.Nearest(word, keys); got != want {
			t.Errorf("nearest to %q is %q, want %q", word, got, want)
		}
	}
}
