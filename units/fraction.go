package units

import (
	"math"
	"strconv"
)

// Fraction writes a length in m in inches as on a ruler, to the nearest 1/parts of
// an inch, where parts is a power of two: "4 1/2 in", "−15/32 in", "0 in". rounded is
// true if that differs from the length by more than a millionth of an inch.
func Fraction(length float64, parts int) (text string, rounded bool) {
	exact := length / Inch * float64(parts)
	n := int(math.Round(math.Abs(exact)))
	sign := ""
	if length < 0 && n > 0 {
		sign = "−"
	}
	whole, over, under := n/parts, n%parts, parts
	for over > 0 && over%2 == 0 {
		over, under = over/2, under/2
	}
	text = sign + strconv.Itoa(whole) + " in"
	if part := strconv.Itoa(over) + "/" + strconv.Itoa(under) + " in"; over > 0 && whole == 0 {
		text = sign + part
	} else if over > 0 {
		text = sign + strconv.Itoa(whole) + " " + part
	}
	return text, math.Abs(math.Abs(exact)-float64(n)) > 1e-6*float64(parts)
}
