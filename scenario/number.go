package scenario

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"regexp"
	"strconv"
	"strings"
)

// numberPattern is a number at the start of a text: a decimal number with an
// optional exponent, or a whole number with a fraction.
var numberPattern = regexp.MustCompile(`^([+-]?)(?:` +
	`(?:(\d+)[ -])?(\d+)/(\d+)|` + // whole, numerator, denominator
	`(\d*) ?([¼½¾⅛⅜⅝⅞⅓⅔])|` + // whole, fraction in one character
	`(\d+\.?\d*|\.\d+)(?:[eE]([+-]?\d+))?)`) // mantissa, exponent

// fractions are those that have a character of their own.
var fractions = map[string]*big.Rat{
	"¼": big.NewRat(1, 4), "½": big.NewRat(1, 2), "¾": big.NewRat(3, 4), "⅛": big.NewRat(1, 8), "⅜": big.NewRat(3, 8), "⅝": big.NewRat(5, 8), "⅞": big.NewRat(7, 8),
	"⅓": big.NewRat(1, 3), "⅔": big.NewRat(2, 3),
}

// Limits of the text of a number, so that exact arithmetic stays small: no measured value
// needs more characters, and float64 ends near 10^±308.
const (
	longestNumber   = 80
	largestExponent = 400
)

// tidy turns the typographic forms of minus and space into the plain ones.
var tidy = strings.NewReplacer("−", "-", "\u00a0", " ", "\u202f", " ", "\u2009", " ", "\t", " ")

// scanNumber reads the number at the start of a text exactly and returns what
// follows it, without spaces.
func scanNumber(text string) (*big.Rat, string, error) {
	text = strings.TrimSpace(tidy.Replace(text))
	if len(text) > longestNumber {
		return nil, "", errors.New("is too long for a number")
	}
	lower := strings.ToLower(strings.TrimLeft(text, "+-"))
	for _, word := range []string{".nan", "nan", ".inf", "infinity", "inf"} {
		if lower == word || strings.HasPrefix(lower, word+" ") {
			return nil, "", fmt.Errorf("%q is not a finite number", text)
		}
	}
	m := numberPattern.FindStringSubmatch(text)
	if m == nil {
		return nil, "", errNoNumber
	}
	rest := text[len(m[0]):]
	if err := checkSpelling(text, lower, rest, m); err != nil {
		return nil, "", err
	}
	x := new(big.Rat)
	switch {
	case m[4] != "":
		if strings.Trim(m[4], "0") == "" {
			return nil, "", fmt.Errorf("%q divides by zero", m[0])
		}
		x.SetFrac(integer(m[3]), integer(m[4]))
		addWhole(x, m[2])
	case m[6] != "":
		x.Set(fractions[m[6]])
		addWhole(x, m[5])
	default:
		e := 0
		if m[8] != "" {
			var err error
			if e, err = strconv.Atoi(m[8]); err != nil || e > largestExponent || e < -largestExponent {
				return nil, "", fmt.Errorf("%q is outside the range of numbers", m[0])
			}
		}
		x = decimal(m[7], e)
	}
	if m[1] == "-" {
		x.Neg(x)
	}
	if f, _ := x.Float64(); math.IsInf(f, 0) || f == 0 && x.Sign() != 0 {
		return nil, "", fmt.Errorf("%q is outside the range of numbers", m[0])
	}
	return x, strings.TrimSpace(rest), nil
}

// errNoNumber is the error for a text that does not start with a number.
var errNoNumber = errors.New("is not a number")

// checkSpelling returns an error for numbers that a person and other programs may read
// differently.
func checkSpelling(text, lower, rest string, m []string) error {
	if strings.HasPrefix(lower, "0x") || strings.HasPrefix(lower, "0o") || strings.HasPrefix(lower, "0b") {
		return fmt.Errorf("%q is not a decimal number", text)
	}
	if strings.HasPrefix(rest, "_") {
		return fmt.Errorf("%q: digits cannot be grouped with underscores", text)
	}
	if strings.HasPrefix(rest, ",") {
		return fmt.Errorf("%q has a comma: write decimals after a point, and do not group digits", text)
	}
	if next := strings.TrimSpace(rest); next != "" && strings.ContainsRune(":./+-0123456789¼½¾⅛⅜⅝⅞⅓⅔", []rune(next)[0]) {
		return errNoNumber
	}
	for _, i := range []int{2, 3, 4, 5, 7} {
		if len(m[i]) > 1 && m[i][0] == '0' && m[i][1] != '.' {
			return fmt.Errorf("%q starts with a zero, which some readers take for octal", m[i])
		}
	}
	return nil
}

func addWhole(x *big.Rat, digits string) {
	x.Add(x, new(big.Rat).SetInt(integer(digits)))
}

var ten = big.NewInt(10)

// integer returns the number that digits represent and skips other characters. The
// library's own reader would add its modular powers to the page's engine.
func integer(digits string) *big.Int {
	n := new(big.Int)
	for _, d := range digits {
		if '0' <= d && d <= '9' {
			n.Mul(n, ten).Add(n, big.NewInt(int64(d-'0')))
		}
	}
	return n
}

// tenTo returns 10ⁿ.
func tenTo(n int) *big.Int {
	power := big.NewInt(1)
	for range n {
		power.Mul(power, ten)
	}
	return power
}

// decimal returns a decimal number times 10ᵉ.
func decimal(digits string, e int) *big.Rat {
	_, part, _ := strings.Cut(digits, ".")
	if e -= len(part); e < 0 {
		return new(big.Rat).SetFrac(integer(digits), tenTo(-e))
	}
	n := integer(digits)
	return new(big.Rat).SetInt(n.Mul(n, tenTo(e)))
}
