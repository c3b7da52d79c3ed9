package report

import (
	"math"
	"strconv"
	"strings"
)

// Exact prints a number for machines, with the fewest digits that read back to the
// same float64; what is not finite is empty.
func Exact(v float64) string { return string(appendExact(nil, v)) }

// appendExact appends a finite number as encoding/json has it.
func appendExact(b []byte, v float64) []byte {
	const plainFrom, plainBelow = 1e-6, 1e21 // without an exponent
	size := math.Abs(v)
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return b
	case v == 0:
		return append(b, '0') // without the sign that a zero can have
	case size >= plainFrom && size < plainBelow:
		return strconv.AppendFloat(b, v, 'f', -1, 64)
	}
	b = strconv.AppendFloat(b, v, 'e', -1, 64)
	if n := len(b); n >= 4 && b[n-4] == 'e' && b[n-2] == '0' { // 1e-09 is 1e-9
		b[n-2] = b[n-1]
		b = b[:n-1]
	}
	return b
}

// Absent stands in tables for what does not exist.
const Absent = "–"

// significant is how many significant digits [Figure] shows.
const significant = 4

// negligible is shown as nothing: far below what any quantity is computed to.
const negligible = 1e-9

// Figure prints a number of which no more is known, to four significant digits.
func Figure(v float64) string {
	switch {
	case math.IsNaN(v):
		return Absent
	case math.Abs(v) < negligible:
		return "0"
	case math.IsInf(v, 0):
		return minus(strconv.FormatFloat(v, 'g', -1, 64))
	}
	// The exponent after rounding: 9.9996 is 10.00.
	exponent := exponentOf(strconv.FormatFloat(v, 'e', significant-1, 64))
	const tooSmall, tooLarge = -4, 7 // for plain decimals
	if exponent < tooSmall || exponent > tooLarge {
		return minus(strconv.FormatFloat(v, 'g', significant, 64))
	}
	return Fixed(v, max(0, significant-1-exponent))
}

// exponentOf is the exponent of a finite number that is printed with one.
func exponentOf(text string) int {
	exponent, _ := strconv.Atoi(text[strings.IndexByte(text, 'e')+1:])
	return exponent
}

// Short is [Figure] without zeros at the end.
func Short(v float64) string {
	if math.Abs(v) < negligible {
		return "0"
	}
	return Digits(v, significant)
}

// Digits prints a number to some significant digits, without zeros at the end.
func Digits(v float64, digits int) string {
	if math.IsNaN(v) {
		return Absent
	}
	return minus(strconv.FormatFloat(v, 'g', digits, 64))
}

// Fixed prints a number to some decimals.
func Fixed(v float64, decimals int) string {
	if math.IsNaN(v) {
		return Absent
	}
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if !strings.ContainsAny(text, "123456789I") {
		return strings.TrimPrefix(text, "-") // nothing has no sign
	}
	return minus(text)
}

// Signed prints a difference: as Fixed, with a sign before all that is not nothing.
func Signed(v float64, decimals int) string {
	text := Fixed(v, decimals)
	if v > 0 && strings.ContainsAny(text, "123456789I") {
		return "+" + text
	}
	return text
}

// minus puts the sign that people read in place of the one of machines.
func minus(text string) string { return strings.ReplaceAll(text, "-", "−") }

// Percent prints a share in percent.
func Percent(share float64, decimals int) string {
	if math.IsNaN(share) {
		return Absent
	}
	return Fixed(100*share, decimals) + "%"
}

// Share prints a share in percent to a tenth.
func Share(share float64) string { return Percent(share, 1) }

// Points prints a difference of shares in percentage points.
func Points(difference float64) string { return Signed(100*difference, 1) }

// YesNo prints a verdict.
func YesNo(v bool) string {
	if v {
		return "yes"
	}
	return "no"
}

// WithUncertainty prints a value and its standard deviation: two digits of the
// latter, since more are never known, and the value to as many decimals.
func WithUncertainty(v, deviation float64) []string {
	const known = 2
	text := strconv.FormatFloat(deviation, 'e', known-1, 64)
	rounded, err := strconv.ParseFloat(text, 64)
	if err != nil || !(rounded >= negligible) || math.IsInf(rounded, 0) {
		return []string{Figure(v), Figure(deviation)}
	}
	decimals := max(known-1-exponentOf(text), 0)
	return []string{Fixed(v, decimals), Fixed(rounded, decimals)}
}

// Plain gives a number that was converted there and back the digits that survive it: 12
// of the 15 to 17 that a float64 has.
func Plain(v float64) float64 {
	plain, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 12, 64), 64)
	if err != nil {
		return v
	}
	return plain
}
