// Package input is shared by the readers of files and flags: decimal numbers, tables in
// CSV, the nearest of some words, and texts that are safe to print.
package input

import (
	"errors"
	"math"
	"strconv"
	"strings"
)

// Errors of numbers. In a message they follow the quoted text.
var (
	ErrNoNumber  = errors.New("is not a number")
	ErrNotFinite = errors.New("is not a finite number")
)

// Number reads a finite decimal number with an optional sign and exponent, as 12,
// -0.5 or 2.5e-7. It refuses the other forms that [strconv.ParseFloat] takes:
// hexadecimal digits and digits grouped by underscores with [ErrNoNumber],
// infinities and NaN with [ErrNotFinite].
func Number(text string) (float64, error) {
	v, err := strconv.ParseFloat(text, 64)
	switch {
	case err != nil && !errors.Is(err, strconv.ErrRange), strings.ContainsAny(text, "xX_"):
		return 0, ErrNoNumber
	case math.IsInf(v, 0) || math.IsNaN(v):
		return 0, ErrNotFinite
	}
	return v, nil
}

// Count reads a whole number in decimal digits, from 0 to most. It refuses a leading 0,
// which some readers take for octal. The error is [ErrNoNumber], or [strconv.ErrRange]
// if the number is too large.
func Count(text string, most uint64) (uint64, error) {
	v, err := strconv.ParseUint(text, 10, 64)
	switch {
	case errors.Is(err, strconv.ErrRange) || err == nil && v > most:
		return 0, strconv.ErrRange
	case err != nil || len(text) > 1 && text[0] == '0':
		return 0, ErrNoNumber
	}
	return v, nil
}
