package scenario

import (
	"math/big"
	"strconv"
	"strings"
)

// Digits and binary places with which a quotient of a float64 and a unit is
// told apart from its neighbours: 17 digits identify a float64, one more a
// value between two of them; the quotient carries twice that.
const (
	mostDigits   = 19
	quotientBits = 128
)

// shortest returns the decimal number with the fewest digits that, times the
// unit, is nearest to value and no other float64.
func shortest(value float64, unit *big.Rat) string {
	if value == 0 {
		return "0"
	}
	q := new(big.Float).SetPrec(quotientBits).SetFloat64(value)
	q.Quo(q, new(big.Float).SetPrec(quotientBits).SetRat(unit))
	for n := 0; ; n++ {
		text := q.Text('e', n)
		x, _ := new(big.Rat).SetString(text)
		if f, _ := x.Mul(x, unit).Float64(); f == value || n >= mostDigits {
			return plain(text)
		}
	}
}

// Exponents of ten between which numbers are written without an exponent.
const (
	leastPlain = -5
	mostPlain  = 15
)

// plain turns d.ddde±xx into plain decimals where those are no hardship.
func plain(text string) string {
	mantissa, power, _ := strings.Cut(text, "e")
	e, _ := strconv.Atoi(power)
	sign := ""
	if strings.HasPrefix(mantissa, "-") {
		sign, mantissa = "-", mantissa[1:]
	}
	digits := strings.TrimRight(strings.Replace(mantissa, ".", "", 1), "0")
	if digits == "" {
		return "0"
	}
	n := len(digits)
	switch {
	case e < leastPlain || e > mostPlain:
		if n > 1 {
			digits = digits[:1] + "." + digits[1:]
		}
		return sign + digits + "e" + strconv.Itoa(e)
	case e < 0:
		return sign + "0." + strings.Repeat("0", -e-1) + digits
	case n <= e+1:
		return sign + digits + strings.Repeat("0", e+1-n)
	default:
		return sign + digits[:e+1] + "." + digits[e+1:]
	}
}
