package scenario

import (
	"math"
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
		kept, e := rounded(digits, more, n, power)
		x := decimal(kept, e-n+1)
		if f, _ := x.Mul(x, unit).Float64(); f == math.Abs(value) || n >= mostDigits {
			return plain(value < 0, kept, e)
		}
	}
}

// leading returns the digits that a number's size begins with, at least [mostDigits],
// whether more than zeros follow them, and the power of ten of the first one.
func leading(q *big.Rat) (digits string, more bool, power int) {
	numerator, denominator := new(big.Int).Abs(q.Num()), new(big.Int).Set(q.Denom())
	shift := mostDigits + len(written10(denominator)) - len(written10(numerator))
	if shift > 0 {
		numerator.Mul(numerator, tenTo(shift))
	} else {
		denominator.Mul(denominator, tenTo(-shift))
	}
	quotient, rest := numerator.QuoRem(numerator, denominator, new(big.Int))
	digits = written10(quotient)
	return digits, rest.Sign() != 0, len(digits) - 1 - shift
}

// chunk is 10¹⁸.
var chunk = tenTo(18)

// written10 writes a whole number.
func written10(n *big.Int) string {
	var parts []string
	for n.Cmp(chunk) >= 0 {
		rest := new(big.Int)
		n, rest = new(big.Int).QuoRem(n, chunk, rest)
		part := strconv.FormatUint(rest.Uint64(), 10)
		parts = append(parts, strings.Repeat("0", 18-len(part))+part)
	}
	text := strconv.FormatUint(n.Uint64(), 10)
	for i := len(parts) - 1; i >= 0; i-- {
		text += parts[i]
	}
	return text
}

// rounded returns the first n digits, rounded to the nearest, and to an even one from half
// way, and the power of ten of the first.
func rounded(digits string, more bool, n, power int) (string, int) {
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
	return string(kept), power
}

// Exponents of ten between which numbers are written without an exponent.
const (
	leastPlain = -5
	mostPlain  = 15
)

// plain writes digits, the first of which stands for 10ᵉ, as plain decimals where those
// are no hardship.
func plain(negative bool, digits string, e int) string {
	digits = strings.TrimRight(digits, "0")
	sign := ""
	if negative {
		sign = "-"
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
