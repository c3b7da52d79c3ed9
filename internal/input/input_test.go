package input

import (
	"errors"
	"strconv"
	"strings"
	"testing"
	"unicode"
)

func TestNumbersAreDecimal(t *testing.T) {
	for text, want := range map[string]float64{"0": 0, "-0.5": -0.5, "+3": 3, "2.5e-7": 2.5e-7, "1E3": 1000, ".5": 0.5, "5.": 5, "08.5": 8.5, "1e-999": 0} {
		if got, err := Number(text); err != nil || got != want {
			t.Errorf("%q is %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", " ", "1_0", "1_000.5", "0x10", "0X1p-2", "-0x1p3", "1,5", "1 2", "one", "0b1", "0o7", "1e", "--1", "1e1_0", "١"} {
		if v, err := Number(text); !errors.Is(err, ErrNoNumber) {
			t.Errorf("%q is %v, %v", text, v, err)
		}
	}
	for _, text := range []string{"inf", "-Inf", "Infinity", "+infinity", "NaN", "nan", "1e999", "-1e400"} {
		if v, err := Number(text); !errors.Is(err, ErrNotFinite) {
			t.Errorf("%q is %v, %v", text, v, err)
		}
	}
}

func TestCountsAreDecimal(t *testing.T) {
	const most = 1000
	for text, want := range map[string]uint64{"0": 0, "7": 7, "1000": 1000} {
		if got, err := Count(text, most); err != nil || got != want {
			t.Errorf("%q is %v, %v; want %v", text, got, err, want)
		}
	}
	for text, want := range map[string]error{
		"": ErrNoNumber, "010": ErrNoNumber, "00": ErrNoNumber, "0x10": ErrNoNumber, "1_0": ErrNoNumber, "-1": ErrNoNumber, "+1": ErrNoNumber,
		"1e3": ErrNoNumber, "1.0": ErrNoNumber, " 1": ErrNoNumber, "0b1": ErrNoNumber, "0o7": ErrNoNumber,
		"1001": strconv.ErrRange, "99999999999999999999": strconv.ErrRange,
	} {
		if v, err := Count(text, most); !errors.Is(err, want) {
			t.Errorf("%q is %v, %v; want %v", text, v, err, want)
		}
	}
}

func TestMessagesAreFitToBeShown(t *testing.T) {
	long := strings.Repeat("ab", 50_000)
	for text, want := range map[string]string{
		`"x" is not a number`:            `"x" is not a number`,
		strconv.Quote(long) + " is bad":  strconv.Quote(long[:80]) + "… (and 99920 more characters) is bad",
		"one \" alone":                   "one \" alone",
		"a\x1b[31mb\r\t\u202e\x00\xffé…": `a\x1b[31mb\r\t\u202e\x00\xffé…`,
		"two\nlines":                     "two\nlines",
		long:                             long[:1000] + "… (and 99000 more characters)",
	} {
		if got := Message(text); got != want {
			t.Errorf("%.60q becomes %.200q, want %.200q", text, got, want)
		}
	}
	// Quotes are cut between characters, escaped ones too.
	got := Message(strconv.Quote(strings.Repeat("\x01é", 100)) + "!")
	if quote, err := strconv.QuotedPrefix(got); err != nil || !strings.HasSuffix(got, "… (and 120 more characters)!") || len(quote) > 400 {
		t.Errorf("%s, %v", got, err)
	}
}

func FuzzMessage(f *testing.F) {
	f.Add("\"\\\"")
	f.Add("a\xff\"b\x1b")
	f.Fuzz(func(t *testing.T, text string) {
		got := Message(text)
		if n := len([]rune(got)); n > 1100 {
			t.Errorf("%d characters", n)
		}
		if i := strings.IndexFunc(got, func(r rune) bool { return r != '\n' && unicode.IsControl(r) }); i >= 0 {
			t.Errorf("a control character at %d of %q", i, got)
		}
	})
}
