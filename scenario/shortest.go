package scenario

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"

	"lanesim/internal/portable"
)

// mostDigits is the largest number of digits written: 17 identify a float64, one more a
// value between two of them, and the unit may cost one at each end.
const mostDigits = 20

// shortest returns the decimal number with the fewest digits that, times the unit, rounds
// to value.
func shortest(value float64, unit *big.Rat) string {
	if value == 0 {
		return "0"
	}
	q := new(big.Rat).SetFloat64(math.Abs(value))
	about, _ := q.Quo(q, unit).Float64()
	size, _ := unit.Float64()
	power := int(math.Floor((portable.Log(math.Abs(value)) - portable.Log(size)) / math.Ln10)) // off by one at most, which does no harm
	for n := 1; ; n++ {
		rough, _ := strconv.ParseFloat(strconv.FormatFloat(about, 'e', n-1, 64), 64)
		if math.Abs(rough-about) > 1e-14*about && n < mostDigits {
			continue // far too few digits; the arithmetic errs by 1e-16
		}
		digits := nearest(q, n-1-power)
		x := new(big.Rat).Mul(decimal(digits, power-n+1), unit)
		if f, _ := x.Float64(); f == math.Abs(value) || n >= mostDigits {
			return plain(value < 0, digits, len(digits)-n+power)
		}
	}
}

// nearest returns the digits of the whole number nearest to q times 10ᵉ, which has no more
// than twenty.
func nearest(q *big.Rat, e int) string {
	twice, denominator := new(big.Int).Lsh(q.Num(), 1), new(big.Int).Set(q.Denom())
	if e > 0 {
		twice.Mul(twice, tenTo(e))
	} else {
		denominator.Mul(denominator, tenTo(-e))
	}
	n := twice.Add(twice, denominator)
	n.Quo(n, denominator.Lsh(denominator, 1))
	most, least := n.QuoRem(n, tenTo(10), new(big.Int))
	return strings.TrimLeft(fmt.Sprintf("%d%010d", most.Uint64(), least.Uint64()), "0")
}

// Exponents of ten between which numbers are written without an exponent.
const (
	leastPlain = -5
	mostPlain  = 15
)

// plain writes digits, the first of which has the place value 10ᵉ, without an exponent
// between leastPlain and mostPlain.
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
