package report

import (
	"math"
	"strconv"
	"strings"
)

// Exact formats a number for machines, with the fewest digits that read back to the same float64; empty if it
// is not finite.
func Exact(v float64) string { return string(appendExact(nil, v)) }

// appendExact appends a finite number in the format of encoding/json.
func appendExact(b []byte, v float64) []byte {
	const plainFrom, plainBelow = 1e-6, 1e21 // without an exponent
	size := math.Abs(v)
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return b
	case v == 0:
		return append(b, '0') // no negative zero
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

// Absent is shown in tables for a value that does not exist.
const Absent = "–"

// significant is the number of significant digits of [Figure].
const significant = 4

// negligible is the size below which a number is shown as 0: far below the accuracy of any quantity.
const negligible = 1e-9

// Figure formats a number to four significant digits.
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

// exponentOf returns the decimal exponent in a formatted number.
func exponentOf(text string) int {
	exponent, _ := strconv.Atoi(text[strings.IndexByte(text, 'e')+1:])
	return exponent
}

// Short is [Figure] without trailing zeros.
func Short(v float64) string {
	if math.Abs(v) < negligible {
		return "0"
	}
	return Digits(v, significant)
}

// Digits formats a number to a number of significant digits, without trailing zeros.
func Digits(v float64, digits int) string {
	if math.IsNaN(v) {
		return Absent
	}
	return minus(strconv.FormatFloat(v, 'g', digits, 64))
}

// Fixed formats a number with a number of decimals.
func Fixed(v float64, decimals int) string {
	if math.IsNaN(v) {
		return Absent
	}
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if !strings.ContainsAny(text, "123456789I") {
		return strings.TrimPrefix(text, "-") // no negative zero
	}
	return minus(text)
}

// Signed formats a difference as Fixed does, with a sign unless it is zero.
func Signed(v float64, decimals int) string {
	text := Fixed(v, decimals)
	if v > 0 && strings.ContainsAny(text, "123456789I") {
		return "+" + text
	}
	return text
}

// minus replaces hyphens by minus signs.
func minus(text string) string { return strings.ReplaceAll(text, "-", "−") }

// Percent formats a share in percent.
func Percent(share float64, decimals int) string {
	if math.IsNaN(share) {
		return Absent
	}
	return Fixed(100*share, decimals) + "%"
}

// Share formats a share in percent with one decimal.
func Share(share float64) string { return Percent(share, 1) }

// Points formats a difference of shares in percentage points.
func Points(difference float64) string { return Signed(100*difference, 1) }

// YesNo returns yes or no.
func YesNo(v bool) string {
	if v {
		return "yes"
	}
	return "no"
}

// WithUncertainty formats a value and its standard deviation: the deviation with two digits, since more are
// never known, and the value with the same decimals.
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

// Plain rounds a number that was converted to another unit and back to 12 of the 15 to 17 digits of a
// float64.
func Plain(v float64) float64 {
	plain, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 12, 64), 64)
	if err != nil {
		return v
	}
	return plain
}
