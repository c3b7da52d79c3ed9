// Package figures compares texts whose numbers may change a little: pages with
// computed answers stay true when the last digit of a number does.
package figures

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

var numbers = regexp.MustCompile(`\d+(\.\d+)?( %)?`)

// Agree reports whether two texts are the same but for numbers that are almost
// equal: those with decimals to one unit of the last digit, shares in whole per cent
// to two. Other whole numbers, which count something, must be equal.
func Agree(a, b string) bool {
	if numbers.ReplaceAllString(a, "#") != numbers.ReplaceAllString(b, "#") {
		return false
	}
	x, y := numbers.FindAllString(a, -1), numbers.FindAllString(b, -1)
	for i := range x {
		if x[i] != y[i] && !near(x[i], y[i]) {
			return false
		}
	}
	return true
}

func near(a, b string) bool {
	decimals := func(s string) int {
		_, after, _ := strings.Cut(strings.TrimSuffix(s, " %"), ".")
		return len(after)
	}
	value := func(s string) float64 {
		v, err := strconv.ParseFloat(strings.TrimSuffix(s, " %"), 64)
		if err != nil {
			return math.NaN()
		}
		return v
	}
	n := decimals(a)
	within := 1.0
	for range n {
		within /= 10
	}
	switch percent := strings.HasSuffix(a, " %"); {
	case percent != strings.HasSuffix(b, " %") || n != decimals(b):
		return false
	case n == 0 && percent:
		within = 2
	case n == 0:
		return false
	}
	return math.Abs(value(a)-value(b)) < 1.01*within
}
