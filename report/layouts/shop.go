package layouts

import (
	"math"
	"strings"

	"lanesim/report"
	"lanesim/units"
)

// Section is a heading with rows of a name and a value.
type Section struct {
	Heading string
	Rows    []Row
}

func (s *Section) add(name, value string) { s.Rows = append(s.Rows, Row{name, value}) }

// addSaid adds a row if it has a value.
func (s *Section) addSaid(name, value string) {
	if value != "" {
		s.add(name, value)
	}
}

// Row is a name with its value, both formatted for people.
type Row struct{ Name, Value string }

// Step is one step of marking a ball.
type Step struct{ Name, Value, How string }

// Strip is a paper strip of a length in m to cut out and lay on the ball.
type Strip struct {
	Name   string
	Length float64
}

// Label returns a strip's name and rounded length; the strip itself has the exact length.
func (s Strip) Label() string { return s.Name + ": " + sized("", s.Length, drilledParts) }

// InchFraction formats a length in m in inches to the nearest 1/32, as on tapes: "4 1/2 in", "−15/32 in", "0
// in".
func InchFraction(length float64) string {
	text, _ := units.Fraction(length, markedParts)
	return text
}

// Millimetres formats a length in m in mm to a hundredth, with halves rounded away from 0: 1/8 in, 3.175 mm,
// is "3.18 mm".
func Millimetres(length float64) string {
	const rounding = 1e-12 // m, far above the rounding of a float64
	return report.Millimetre.Digits(2).Show(length+math.Copysign(rounding, length)) + " mm"
}

// Degrees formats an angle in rad in degrees to a tenth, whole degrees without decimals.
func Degrees(angle float64) string { return strings.TrimSuffix(report.Degree.Show(angle), ".0") + "°" }

// toward formats a signed length with the word for its direction.
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
