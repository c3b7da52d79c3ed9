package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"lanesim/internal/input"

	"github.com/spf13/pflag"
)

// mostCount is the largest number that a flag takes where things are counted: more
// than anybody waits for, and few enough to be kept.
const mostCount = 100_000_000

// Flags with numbers take decimal digits alone. Those of pflag take 010 for 8, and
// 0x10, 1_000 and inf as well.
type (
	countFlag  int
	seedFlag   uint64
	numberFlag float64
)

func intVar(f *pflag.FlagSet, to *int, name string, value int, usage string) {
	*to = value
	f.Var((*countFlag)(to), name, usage)
}

func seedVar(f *pflag.FlagSet, to *uint64, name string, value uint64, usage string) {
	*to = value
	f.Var((*seedFlag)(to), name, usage)
}

func numberVar(f *pflag.FlagSet, to *float64, name string, value float64, usage string) {
	*to = value
	f.Var((*numberFlag)(to), name, usage)
}

// wholeNumber words what is wrong with one.
func wholeNumber(err error, most uint64) error {
	if errors.Is(err, strconv.ErrRange) {
		return fmt.Errorf("more than %d, the most that is taken", most)
	}
	return errors.New("not a whole number in decimal digits")
}

// Set takes negative numbers, too: what is too little a command says itself.
func (c *countFlag) Set(text string) error {
	digits, negative := strings.CutPrefix(text, "-")
	v, err := input.Count(digits, mostCount)
	if err != nil {
		return wholeNumber(err, mostCount)
	}
	if *c = countFlag(v); negative {
		*c = -*c
	}
	return nil
}

func (s *seedFlag) Set(text string) error {
	const most = 1<<64 - 1
	v, err := input.Count(text, most)
	if err != nil {
		return wholeNumber(err, most)
	}
	*s = seedFlag(v)
	return nil
}

func (n *numberFlag) Set(text string) error {
	v, err := input.Number(text)
	*n = numberFlag(v)
	return err
}

func (c *countFlag) String() string  { return strconv.Itoa(int(*c)) }
func (s *seedFlag) String() string   { return strconv.FormatUint(uint64(*s), 10) }
func (n *numberFlag) String() string { return strconv.FormatFloat(float64(*n), 'g', -1, 64) }

func (c *countFlag) Type() string  { return "int" }
func (s *seedFlag) Type() string   { return "uint" }
func (n *numberFlag) Type() string { return "float" }
