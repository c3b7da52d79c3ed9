package input

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// MostMessages is the largest number of messages about one input.
const MostMessages = 100

// Bounds of messages, in characters.
const (
	longestQuote   = 80   // of a quoted value
	longestMessage = 1000 // of the whole message
)

// Message makes a text safe to print as a message. Very long quoted values, as by
// [strconv.Quote], and a very long text are cut, with the number of characters left
// out. Unprintable characters are escaped, except line breaks.
func Message(text string) string {
	var b strings.Builder
	for {
		start := strings.IndexByte(text, '"')
		if start < 0 {
			break
		}
		quote, err := strconv.QuotedPrefix(text[start:])
		if err != nil { // a quotation mark without its partner
			quote = `"`
		}
		b.WriteString(text[:start] + shortQuote(quote))
		text = text[start+len(quote):]
	}
	b.WriteString(text)
	return cut(Printable(b.String()), longestMessage)
}

// shortQuote cuts a quoted value between its characters.
func shortQuote(quote string) string {
	if utf8.RuneCountInString(quote) <= longestQuote+2 { // two quotation marks
		return quote
	}
	value, err := strconv.Unquote(quote)
	if err != nil {
		return quote
	}
	kept := []rune(value)
	if len(kept) <= longestQuote {
		return quote
	}
	return strconv.Quote(string(kept[:longestQuote])) + leftOut(len(kept)-longestQuote)
}

// cut cuts a text after a number of characters.
func cut(text string, most int) string {
	n := utf8.RuneCountInString(text)
	if n <= most {
		return text
	}
	return string([]rune(text)[:most]) + leftOut(n-most)
}

func leftOut(characters int) string { return fmt.Sprintf("… (and %d more characters)", characters) }

// Printable escapes unprintable characters except line breaks, so that a name in a
// message can neither move the cursor nor color the screen.
func Printable(text string) string {
	if !strings.ContainsFunc(text, unprintable) && utf8.ValidString(text) {
		return text
	}
	var b strings.Builder
	for i, r := range text {
		switch {
		case r == utf8.RuneError && !strings.HasPrefix(text[i:], string(utf8.RuneError)):
			fmt.Fprintf(&b, `\x%02x`, text[i])
		case unprintable(r):
			quoted := strconv.QuoteRune(r)
			b.WriteString(quoted[1 : len(quoted)-1])
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

func unprintable(r rune) bool { return r != '\n' && r != ' ' && !unicode.IsGraphic(r) }

// List joins words as in a sentence: "a, b and c".
func List(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}

// Each applies a function to each element of a list.
func Each[T, S any](list []T, of func(T) S) []S {
	all := make([]S, len(list))
	for i, v := range list {
		all[i] = of(v)
	}
	return all
}
