package layouts

import (
	"math"
	"regexp"
	"strings"

	"lanesim/units"
)

// Parts of an inch that a shop can mark: for drilled sizes and for distances on the ball.
const (
	drilledParts = 64
	markedParts  = 32

	// halfway is for a distance from which others are measured: with 128ths, midway between two 64ths,
	// rounding both leaves a hole within 1/64 in of its place.
	halfway = 128
)

// about marks rounded values.
const about = "≈ "

// fractionOf formats a computed length to the nearest part of an inch, marked if that rounds it.
func fractionOf(length float64, parts int) string {
	text, rounded := units.Fraction(length, parts)
	if rounded {
		return about + text
	}
	return text
}

// inInches matches a length that was written in inches.
var inInches = regexp.MustCompile(`(in|inch|inches|"|″)$`)

// tidied returns a written text without extra spaces and with a true minus sign.
func tidied(text string) string {
	return strings.Replace(strings.Join(strings.Fields(text), " "), "-", "−", strings.Count(text[:min(1, len(text))], "-"))
}

// sized formats a length as it was written or, if it is computed or a default, rounded to parts of an inch;
// then in mm from the exact value.
func sized(written string, length float64, parts int) string {
	switch {
	case written == "":
		return fractionOf(length, parts) + ", " + Millimetres(length)
	case inInches.MatchString(written):
		return tidied(written) + ", " + Millimetres(length)
	}
	return tidied(written) + ", " + fractionOf(length, parts)
}

// size is sized without the mm.
func size(written string, length float64, parts int) string {
	if written == "" {
		return fractionOf(length, parts)
	}
	return tidied(written)
}

func marked(length float64) string { return sized("", length, markedParts) }

// angled formats an angle as it was written or, if it was not, to a tenth of a degree.
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

// pitch formats a pitch with the words of the trade, which replace the sign of a written one.
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

// assumedSize follows a size that was not given.
const assumedSize = " (assumed)"

func markIf(assumed bool) string {
	if assumed {
		return assumedSize
	}
	return ""
}

// given formats a size of the grip as it was written, or the default marked as assumed.
func given(written string, length float64) string {
	return sized(written, length, drilledParts) + markIf(written == "")
}

// givenPitch formats a pitch like given, also in mm; a pitch of 0 is not marked.
func givenPitch(written string, length float64, positive, negative string) string {
	text := pitch(written, length, positive, negative)
	if length == 0 {
		return text
	}
	_, other, _ := strings.Cut(sized(strings.TrimLeft(tidied(written), "−+"), math.Abs(length), drilledParts), ", ")
	return text + ", " + other + markIf(written == "")
}

// Written has the texts of a ball's and its bowler's fields as written in the scenario.
type Written struct{ Ball, Bowler map[string]string }

// span formats the cut or fitted span to a finger.
func (w Written) span(key, finger string, length float64) string {
	written := func(key string) string { return writtenOr(w.Ball["grip."+key], w.Ball["grip."+key+"."+finger]) }
	return sized(written(key), length, drilledParts) + markIf(written("span")+written("fitted_span") == "")
}

// papAssumed reports whether the PAP was not given.
func (w Written) papAssumed() bool { return w.Bowler["pap.over"]+w.Bowler["pap.up"] == "" }
