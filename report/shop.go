package report

import (
	"fmt"
	"math"
	"strings"
)

// Section is a heading with lines of a name and a value each.
type Section struct {
	Heading string
	Rows    []Row
}

// Row is a name with its value, both as they are to be read.
type Row struct{ Name, Value string }

// InchFraction writes a length in m in inches to the nearest 1/32, as tapes
// are read: "4 1/2 in", "−15/32 in", "0 in".
func InchFraction(length float64) string {
	const parts = 32
	n := int(math.Round(math.Abs(Inch.In(length)) * parts))
	sign := ""
	if length < 0 && n > 0 {
		sign = "−"
	}
	whole, over, under := n/parts, n%parts, parts
	for over > 0 && over%2 == 0 {
		over, under = over/2, under/2
	}
	switch {
	case over == 0:
		return fmt.Sprintf("%s%d in", sign, whole)
	case whole == 0:
		return fmt.Sprintf("%s%d/%d in", sign, over, under)
	}
	return fmt.Sprintf("%s%d %d/%d in", sign, whole, over, under)
}

// Millimetres writes a length in m in mm to a tenth.
func Millimetres(length float64) string { return Millimetre.Show(length) + " mm" }

// Degrees writes an angle in rad in degrees to a tenth, whole ones without
// decimals.
func Degrees(angle float64) string { return strings.TrimSuffix(Degree.Show(angle), ".0") + "°" }

// inBoth writes a length in m as a shop reads it, and in mm.
func inBoth(length float64) string { return InchFraction(length) + ", " + Millimetres(length) }

// toward writes a signed length with the word for its direction.
func toward(length float64, positive, negative string) string {
	switch text := InchFraction(math.Abs(length)); {
	case text == InchFraction(0):
		return text
	case length < 0:
		return text + " " + negative
	default:
		return text + " " + positive
	}
}
