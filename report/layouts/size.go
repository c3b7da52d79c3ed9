package layouts

import (
	"math"
	"regexp"
	"strings"

	"lanesim/units"
)

// What a shop can mark: parts of an inch for what is drilled and for distances on
// the ball.
const (
	drilledParts = 64
	markedParts  = 32
)

// about stands before what is rounded.
const about = "≈ "

// fractionOf writes a computed length to the nearest part of an inch, with a mark
// where that rounds it.
func fractionOf(length float64, parts int) string {
	text, rounded := units.Fraction(length, parts)
	if rounded {
		return about + text
	}
	return text
}

// inInches tells a length that was written in inches.
var inInches = regexp.MustCompile(`(in|inch|inches|"|″)$`)

// tidied returns what a person wrote, without spaces too many and with a true
// minus sign.
func tidied(text string) string {
	return strings.Replace(strings.Join(strings.Fields(text), " "), "-", "−", strings.Count(text[:min(1, len(text))], "-"))
}

// sized writes a length: as it was written or, if it is computed or a default,
// rounded to parts of an inch; then in mm from the exact value.
func sized(written string, length float64, parts int) string {
	switch {
	case written == "":
		return fractionOf(length, parts) + ", " + Millimetres(length)
	case inInches.MatchString(written):
		return tidied(written) + ", " + Millimetres(length)
	}
	return tidied(written) + ", " + fractionOf(length, parts)
}

// size is sized without the mm, where there is no room for them.
func size(written string, length float64, parts int) string {
	if written == "" {
		return fractionOf(length, parts)
	}
	return tidied(written)
}

// marked writes a distance on the ball.
func marked(length float64) string { return sized("", length, markedParts) }

// angled writes an angle as it was written or, without that, to a tenth of a degree.
func angled(written string, angle float64) string {
	if number, ok := strings.CutSuffix(written, "deg"); ok {
		return tidied(strings.TrimSpace(number)) + "°"
	}
	if written != "" {
		return tidied(written)
	}
	text := Degrees(angle)
	if tenths := angle / units.Degree * 10; math.Abs(tenths-math.Round(tenths)) > 1e-6 {
		text = about + text
	}
	return text
}

// pitch writes a pitch with the words of the trade; a written one loses the sign
// that the word tells.
func pitch(written string, length float64, parts int, positive, negative string) string {
	if length == 0 {
		return "0"
	}
	text := size(strings.TrimLeft(tidied(written), "−+"), math.Abs(length), parts)
	if length < 0 {
		return text + " " + negative
	}
	return text + " " + positive
}

// Written holds what was written of a ball and of its bowler.
type Written struct{ Ball, Bowler map[string]string }

// span returns how the span to a finger was written, cut or fitted.
func (w Written) span(key, finger string) string {
	if text := w.Ball["grip."+key]; text != "" {
		return text
	}
	return w.Ball["grip."+key+"."+finger]
}
