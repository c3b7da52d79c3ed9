package layouts

import (
	"math"
	"strings"

	"lanesim/report"
	"lanesim/units"
)

// Section is a heading with lines of a name and a value each.
type Section struct {
	Heading string
	Rows    []Row
}

func (s *Section) add(name, value string) { s.Rows = append(s.Rows, Row{name, value}) }

// addSaid adds what there is something to say about.
func (s *Section) addSaid(name, value string) {
	if value != "" {
		s.add(name, value)
	}
}

// Row is a name with its value, both as they are to be read.
type Row struct{ Name, Value string }

// Step is one step of marking a ball.
type Step struct{ Name, Value, How string }

// Strip is a length in m to be cut out of paper and laid on the ball.
type Strip struct {
	Name   string
	Length float64
}

// Label is a strip's name and length; the strip itself has the exact one.
func (s Strip) Label() string { return s.Name + ": " + sized("", s.Length, drilledParts) }

// InchFraction writes a length in m in inches to the nearest 1/32, as tapes
// are read: "4 1/2 in", "−15/32 in", "0 in".
func InchFraction(length float64) string {
	text, _ := units.Fraction(length, markedParts)
	return text
}

// Millimetres writes a length in m in mm to a hundredth, and halves of one away from 0:
// 1/8 in is 3.175 mm, and 3.18 mm.
func Millimetres(length float64) string {
	const rounding = 1e-12 // m, far above that of a length in binary digits
	return report.Millimetre.Digits(2).Show(length+math.Copysign(rounding, length)) + " mm"
}

// Degrees writes an angle in rad in degrees to a tenth, whole ones without
// decimals.
func Degrees(angle float64) string { return strings.TrimSuffix(report.Degree.Show(angle), ".0") + "°" }

// toward writes a signed length with the word for its direction.
func toward(length float64, positive, negative string) string {
	switch text := fractionOf(math.Abs(length), markedParts); {
	case strings.HasPrefix(strings.TrimPrefix(text, about), "0 in"):
		return "0 in"
	case length < 0:
		return text + " " + negative
	default:
		return text + " " + positive
	}
}
