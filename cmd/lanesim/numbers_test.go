package main

import (
	"slices"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// Flags for numbers accept only decimal digits, and counts are limited to what memory can
// hold.
func TestFlagsTakeDecimalNumbers(t *testing.T) {
	p := &program{}
	seen := 0
	var visit func(c *cobra.Command)
	visit = func(c *cobra.Command) {
		c.LocalFlags().VisitAll(func(f *pflag.Flag) {
			wrong := []string{"0x10", "1_0", "0b1", "0o7", "inf", "nan", "1e999", ""}
			switch {
			case slices.Contains([]string{"int", "count", "uint", "int64", "uint64"}, f.Value.Type()):
				wrong = append(wrong, "010", "1.5", "99999999999999999999", "+1", " 1")
			case !slices.Contains([]string{"float", "float64"}, f.Value.Type()):
				return
			}
			if f.Value.Type() == "int" {
				wrong = append(wrong, "9223372036854775807", "100000001")
			}
			seen++
			for _, text := range wrong {
				if err := f.Value.Set(text); err == nil {
					t.Errorf("%s --%s takes %q for %s", c.CommandPath(), f.Name, text, f.Value)
				}
			}
			if err := f.Value.Set("12"); err != nil || f.Value.String() != "12" {
				t.Errorf("%s --%s: 12 is %s, %v", c.CommandPath(), f.Name, f.Value, err)
			}
		})
		for _, sub := range c.Commands() {
			visit(sub)
		}
	}
	visit(p.command())
	if seen < 15 {
		t.Errorf("only %d flags take a number", seen)
	}
	for _, arguments := range [][]string{
		{"spread", exampleFiles(t)[0], "--until", "0x1p-5"}, {"spread", exampleFiles(t)[0], "--until", "1_0%"},
		{"aim", exampleFiles(t)[0], "--laydown", "0x10:30"}, {"aim", exampleFiles(t)[0], "--arrows", "1:inf"}, {"aim", exampleFiles(t)[0], "--laydown", "1:2:3"},
		{"aim", exampleFiles(t)[0], "--laydown", "1_0:30"}, {"throw", exampleFiles(t)[0], "--tolerance", "0x1p-20"}, {"throw", exampleFiles(t)[0], "--tolerance", "1_0"},
		{"sweep", exampleFiles(t)[0], "--jobs", "0x2"}, {"pattern", "house", "--at", "0x10ft"}, {"pattern", "house", "--at", "1_0ft"},
		{"pattern", "house", "--inside", "0x10-22"}, {"pattern", "house", "--inside", "1_8-22"},
		{"pattern", "build", "--length", "4_2ft", "--volume", "27mL", "--ratio", "3"},
		{"throw", exampleFiles(t)[0], "--set", "ball[+0].rg=2.5 in"}, {"throw", exampleFiles(t)[0], "--set", "ball[0.rg=2.5 in"},
	} {
		if code, output, problems := lanesim(t, "", arguments...); code != exitUsage || output != "" {
			t.Errorf("%v: exit code %d\n%s", arguments, code, problems)
		}
	}
}
