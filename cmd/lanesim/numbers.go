package main

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"lanesim/internal/input"

	"github.com/spf13/pflag"
)

// mostCount is the largest value of a flag that counts things: more than anybody would wait
// for, and small enough for memory.
const mostCount = 100_000_000

// numberFlag is a flag with a number in decimal digits. Those of pflag read 010 as 8, and
// accept 0x10, 1_000 and inf.
type numberFlag struct {
	kind string
	set  func(text string) error
	text func() string
}

func (f numberFlag) Set(text string) error { return f.set(text) }
func (f numberFlag) String() string        { return f.text() }
func (f numberFlag) Type() string          { return f.kind }

// intVar accepts negative numbers, too: the command checks the lower limit.
func intVar(f *pflag.FlagSet, to *int, name string, value int, usage string) {
	*to = value
	f.Var(numberFlag{"int", func(text string) error {
		digits, negative := strings.CutPrefix(text, "-")
		v, err := input.Count(digits, mostCount)
		if *to = int(v); negative {
			*to = -*to
		}
		return wholeNumber(err, mostCount)
	}, func() string { return strconv.Itoa(*to) }}, name, usage)
}

// countVar accepts 0 and more.
func countVar(f *pflag.FlagSet, to *int, name, usage string) {
	f.Var(numberFlag{"int", func(text string) error {
		if strings.HasPrefix(text, "-") {
			return errors.New("it can be 0 or more")
		}
		v, err := input.Count(text, mostCount)
		*to = int(v)
		return wholeNumber(err, mostCount)
	}, func() string { return strconv.Itoa(*to) }}, name, usage)
}

func seedVar(f *pflag.FlagSet, to *uint64, name string, value uint64, usage string) {
	*to = value
	f.Var(numberFlag{"uint", func(text string) (err error) {
		*to, err = input.Count(text, math.MaxUint64)
		return wholeNumber(err, math.MaxUint64)
	}, func() string { return strconv.FormatUint(*to, 10) }}, name, usage)
}

func numberVar(f *pflag.FlagSet, to *float64, name string, value float64, usage string) {
	*to = value
	f.Var(numberFlag{"float", func(text string) (err error) {
		*to, err = input.Number(text)
		return err
	}, func() string { return strconv.FormatFloat(*to, 'g', -1, 64) }}, name, usage)
}

// wholeNumber returns the message for an error of a whole number.
func wholeNumber(err error, most uint64) error {
	switch {
	case err == nil:
		return nil
	case errors.Is(err, strconv.ErrRange):
		return fmt.Errorf("more than %d, the most allowed", most)
	}
	return errors.New("not a whole number in decimal digits")
}
