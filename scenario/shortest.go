package scenario

import (
	"math/big"
	"strconv"
	"strings"
)

// mostDigits is how many digits a number is written with at most: 17 identify a float64, one
// more a value between two of them, and the unit may cost one at each end.
const mostDigits = 20

// shortest returns the decimal number with the fewest digits that, times the
// unit, is nearest to value and no other float64.
func shortest(value float64, unit *big.Rat) string {
	if value == 0 {
		return "0"
	}
	q := new(big.Rat).SetFloat64(value)
	digits, more, power := leading(q.Quo(q, unit))
	for n := 1; ; n++ {
		text := decimal(digits, more, n, power)
		if value < 0 {
			text = "-" + text
		}
		x, _ := new(big.Rat).SetString(text)
		if f, _ := x.Mul(x, unit).Float64(); f == value || n >= mostDigits {
			return plain(text)
		}
	}
}

// leading returns the digits that a number's size begins with, at least [mostDigits],
// whether more than zeros follow them, and the power of ten of the first one.
func leading(q *big.Rat) (digits string, more bool, power int) {
	numerator, denominator := new(big.Int).Abs(q.Num()), new(big.Int).Set(q.Denom())
	shift := mostDigits + len(denominator.String()) - len(numerator.String())
	ten := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(max(shift, -shift))), nil)
	if shift > 0 {
		numerator.Mul(numerator, ten)
	} else {
		denominator.Mul(denominator, ten)
	}
	whole, rest := numerator.QuoRem(numerator, denominator, new(big.Int))
	digits = whole.String()
	return digits, rest.Sign() != 0, len(digits) - 1 - shift
}

// decimal writes the first n digits, rounded to the nearest, and to an even one from half way.
func decimal(digits string, more bool, n, power int) string {
	kept, rest := []byte(digits[:n]), strings.TrimRight(digits[n:], "0")
	if rest > "5" || rest == "5" && (more || kept[n-1]%2 == 1) {
		i := n - 1
		for ; i >= 0 && kept[i] == '9'; i-- {
			kept[i] = '0'
		}
		if i < 0 {
			kept[0], power = '1', power+1
		} else {
			kept[i]++
		}
	}
	return string(kept[:1]) + "." + string(kept[1:]) + "e" + strconv.Itoa(power)
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
