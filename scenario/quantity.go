package scenario

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"lanesim/internal/input"
)

// unit is a unit of measurement. Its SI value is exact, except for π with 60 digits, so
// that a quantity is the float64 nearest to what is written.
type unit struct {
	name    string
	size    string // in SI, exactly
	aliases []string
}

// value returns the unit's value in SI.
func (u *unit) value() *big.Rat { return unitValues[u.size] }

// unitValues has the values of all units by their sizes. They are not stored in the units,
// so that the linker can leave the methods of their type out of the page's engine.
var unitValues = func() map[string]*big.Rat {
	values := map[string]*big.Rat{}
	for _, d := range dimensions {
		for _, u := range d.units {
			number, pi := strings.CutSuffix(u.size, " π")
			if values[u.size] = exact(number); pi {
				values[u.size].Mul(values[u.size], exact("3.14159265358979323846264338327950288419716939937510582097494459"))
			}
		}
	}
	return values
}()

// dimension is the dimension of a quantity.
type dimension struct {
	name  string // "speed"
	units []unit // first the one to suggest
}

// exact returns a number given as decimal or fraction.
func exact(text string) *big.Rat {
	number, below, divided := strings.Cut(text, "/")
	digits, power, _ := strings.Cut(number, "e")
	e, _ := strconv.Atoi(power)
	x := decimal(digits, e)
	if divided {
		x.Quo(x, decimal(below, 0))
	}
	return x
}

// The dimensions. Inch, foot, mile, pound and ounce are exact (1959
// international yard and pound agreement).
var (
	speed = &dimension{"speed", []unit{
		{"mph", "0.44704", nil}, {"km/h", "5/18", nil}, {"m/s", "1", nil}, {"ft/s", "0.3048", nil},
	}}
	length = &dimension{"length", []unit{
		{"in", "0.0254", []string{"inch", "inches", `"`, "″"}}, {"ft", "0.3048", []string{"foot", "feet"}},
		{"m", "1", nil}, {"cm", "0.01", nil}, {"mm", "0.001", nil},
		{"um", "1e-6", []string{"µm", "μm"}}, {"uin", "0.0254e-6", []string{"µin", "μin"}},
	}}
	weight = &dimension{"weight", []unit{
		{"lb", "0.45359237", []string{"lbs"}}, {"oz", "0.028349523125", nil},
		{"kg", "1", nil}, {"g", "0.001", nil},
	}}
	angle = &dimension{"angle", []unit{
		{"deg", "1/180 π", []string{"°", "degrees"}}, {"rad", "1", nil},
	}}
	rate = &dimension{"rate of revolution", []unit{
		{"rpm", "1/30 π", nil}, {"rad/s", "1", nil},
	}}
	volume = &dimension{"volume", []unit{
		{"mL", "1e-6", []string{"ml"}}, {"L", "1e-3", []string{"l"}},
		{"uL", "1e-9", []string{"µL", "μL", "ul"}},
	}}
	duration = &dimension{"time", []unit{
		{"s", "1", nil}, {"ms", "0.001", nil}, {"min", "60", nil},
	}}
	frameRate = &dimension{"frame rate", []unit{
		{"fps", "1", []string{"frames/s", "Hz"}},
	}}
	density = &dimension{"density", []unit{
		{"g/cm3", "1000", []string{"g/cm³", "g/cc"}}, {"kg/m3", "1", []string{"kg/m³"}},
	}}
	grit = &dimension{"finish", []unit{{"grit", "1", nil}}}

	dimensions = []*dimension{speed, length, weight, angle, rate, volume, duration, frameRate, density, grit}
)

// names lists the units' names.
func (d *dimension) names() []string {
	return input.Each(d.units, func(u unit) string { return u.name })
}

// unit returns the unit with a name or alias, nil if there is none.
func (d *dimension) unit(name string) *unit {
	if i := slices.IndexFunc(d.units, func(u unit) bool { return u.name == name || slices.Contains(u.aliases, name) }); i >= 0 {
		return &d.units[i]
	}
	return nil
}

// quantityError is the error of a quantity.
type quantityError struct{ message, hint string }

func (e *quantityError) Error() string {
	if e.hint == "" {
		return e.message
	}
	return e.message + " (" + e.hint + ")"
}

// parse reads a quantity of the dimension and returns its SI value. The
// suggested unit appears in messages.
func (d *dimension) parse(text, suggested string) (float64, error) {
	x, rest, err := scanNumber(text)
	if errors.Is(err, errNoNumber) {
		return 0, &quantityError{fmt.Sprintf("%q is not %s: write a number with a unit, %s", text, article(d.name), either(d.names())), ""}
	}
	if err != nil {
		return 0, &quantityError{err.Error(), ""}
	}
	if rest == "" {
		return 0, &quantityError{fmt.Sprintf("%s needs a unit, for example %s %s", text, strings.TrimSpace(text), suggested), ""}
	}
	u := d.unit(rest)
	var more *big.Rat
	if pounds, ounces, ok := cutPounds(rest); u == nil && d == weight && ok {
		if u = d.unit(pounds); strings.HasPrefix(strings.TrimSpace(tidy.Replace(text)), "-") {
			return 0, &quantityError{fmt.Sprintf("%q: pounds and ounces cannot be negative", text), ""}
		}
		y, unit, err := scanNumber(ounces)
		if o := d.unit(unit); err == nil && u != nil && o != nil && o.name == "oz" && y.Sign() >= 0 && y.Cmp(exact("16")) < 0 {
			more = y.Mul(y, o.value())
		} else {
			return 0, &quantityError{fmt.Sprintf("%q: after the pounds write ounces below 16, as in 15 lb 2 oz", text), ""}
		}
	}
	if u == nil {
		return 0, d.wrongUnit(rest, suggested)
	}
	x.Mul(x, u.value())
	if more != nil {
		x.Add(x, more)
	}
	f, _ := x.Float64()
	if math.IsInf(f, 0) || f == 0 && x.Sign() != 0 {
		return 0, &quantityError{fmt.Sprintf("%s is outside the range of numbers", text), ""}
	}
	return f, nil
}

// cutPounds splits what follows the number of "15 lb 2 oz".
func cutPounds(rest string) (unit, ounces string, ok bool) {
	unit, ounces, ok = strings.Cut(rest, " ")
	return unit, strings.TrimSpace(ounces), ok && (unit == "lb" || unit == "lbs")
}

// article puts a or an before a word.
func article(word string) string {
	if strings.ContainsRune("aeiou", rune(word[0])) {
		return "an " + word
	}
	return "a " + word
}

// wrongUnit returns the error for a unit that the dimension does not have.
func (d *dimension) wrongUnit(given, suggested string) error {
	fit := "the units are " + strings.Join(d.names(), ", ")
	if len(d.units) == 1 {
		fit = "the unit is " + d.units[0].name
	}
	for _, o := range dimensions {
		if o.unit(given) != nil {
			return &quantityError{fmt.Sprintf("%q is a unit of %s, not of %s; %s", given, o.name, d.name, fit), ""}
		}
	}
	known := []string{suggested}
	for _, u := range d.units {
		known = append(append(known, u.name), u.aliases...)
	}
	return &quantityError{fmt.Sprintf("%q is not a unit of %s; %s", given, d.name, fit), input.DidYouMean(given, known)}
}

// parseBare reads a number without a dimension.
func parseBare(text string) (float64, error) {
	x, rest, err := scanNumber(text)
	if errors.Is(err, errNoNumber) {
		return 0, &quantityError{fmt.Sprintf("%q is not a number", text), ""}
	}
	if err != nil {
		return 0, &quantityError{err.Error(), ""}
	}
	if rest != "" {
		return 0, &quantityError{fmt.Sprintf("%q: write the number alone, without %q", text, rest), ""}
	}
	f, _ := x.Float64()
	return f, nil
}

// format writes an SI value in a unit of the dimension, with the fewest digits that read
// back as the same float64.
func (d *dimension) format(value float64, unit string) string {
	if d == nil {
		return formatBare(value)
	}
	u := d.unit(unit)
	if u == nil || math.IsNaN(value) || math.IsInf(value, 0) {
		return fmt.Sprint(value)
	}
	return shortest(value, u.value()) + " " + unit
}

// formatBare writes a number without a dimension.
func formatBare(value float64) string { return shortest(value, exact("1")) }
