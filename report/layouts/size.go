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

	// halfway is for a distance from which others are measured on: midway between two
	// 64ths, so that rounding both leaves a hole within 1/64 in of its place.
	halfway = 128
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

// inInches matches a length that was written in inches.
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
// that the word gives.
func pitch(written string, length float64, positive, negative string) string {
	if length == 0 {
		return "0"
	}
	text := size(strings.TrimLeft(tidied(written), "−+"), math.Abs(length), drilledParts)
	if length < 0 {
		return text + " " + negative
	}
	return text + " " + positive
}

// assumedSize stands after a size that was not given.
const assumedSize = " (assumed)"

func markIf(assumed bool) string {
	if assumed {
		return assumedSize
	}
	return ""
}

// given writes a size of the grip as it was written or the usual one, with the word
// that it is assumed.
func given(written string, length float64) string {
	return sized(written, length, drilledParts) + markIf(written == "")
}

// givenPitch does so with a pitch, in mm as well; none goes without saying.
func givenPitch(written string, length float64, positive, negative string) string {
	text := pitch(written, length, positive, negative)
	if length == 0 {
		return text
	}
	_, other, _ := strings.Cut(sized(strings.TrimLeft(tidied(written), "−+"), math.Abs(length), drilledParts), ", ")
	return text + ", " + other + markIf(written == "")
}

// Written holds what was written of a ball and of its bowler.
type Written struct{ Ball, Bowler map[string]string }

// span writes the cut or fitted span to a finger.
func (w Written) span(key, finger string, length float64) string {
	written := func(key string) string { return writtenOr(w.Ball["grip."+key], w.Ball["grip."+key+"."+finger]) }
	return sized(written(key), length, drilledParts) + markIf(written("span")+written("fitted_span") == "")
}

// papAssumed reports whether nobody gave the PAP.
func (w Written) papAssumed() bool { return w.Bowler["pap.over"]+w.Bowler["pap.up"] == "" }
