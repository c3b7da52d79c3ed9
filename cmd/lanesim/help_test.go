package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/spf13/cobra"
)

// commands lists all commands except those of the library: the scripts for completion.
func commands(c *cobra.Command) []*cobra.Command {
	list := []*cobra.Command{c}
	if c.Name() == "completion" {
		return list
	}
	for _, sub := range c.Commands() {
		list = append(list, commands(sub)...)
	}
	return list
}

func exampleLines(c *cobra.Command) []string {
	var lines []string
	for line := range strings.Lines(c.Example) {
		if line = strings.TrimSpace(line); line != "" {
			lines = append(lines, line)
		}
	}
	return lines
}

// takesLong are commands of which only the first example runs (none of page and validate),
// unless LANESIM_FULL is set.
var takesLong = map[string]bool{
	"aim": true, "bag": true, "compare": true, "fit": true, "page": true, "seek": true, "spares": true, "spread": true, "validate": true, "wear": true,
}

// shorter are flags that make an example faster, unless LANESIM_FULL is set.
var shorter = map[string]string{
	"aim": "--laydown 25:26 --shots 40", "bag": "--shots 2 --farthest 1 --set \"lanes=[{oil: flat}]\"", "carry": "--racks 20", "compare": "--assumed 1",
	"fit": "--tolerance 1e-3", "seek": "--points 16 --assumed 0", "spares": "--laydown 25:25", "spread": "--shots 60", "wear": "--sessions 2",
}

// Every example in the help of every command works in a shell in the root of the
// repository; LANESIM_FULL=1 runs them unchanged. Those that take long are separate
// scripts, which run in parallel.
func TestHelpExamplesWork(t *testing.T) {
	scripts := map[string]string{}
	count, left := 0, 0
	for _, c := range commands((&program{}).command()) {
		for i, line := range exampleLines(c) {
			if !strings.HasPrefix(line, "lanesim") {
				t.Errorf("%s: example %q does not run lanesim", c.CommandPath(), line)
			}
			if long := takesLong[c.Name()]; long && (i > 0 || c.Name() == "page" || c.Name() == "validate") && !inFull() {
				left++
				continue
			}
			name := "examples"
			if flags := shorter[c.Name()]; flags != "" {
				name = c.Name()
				if !inFull() {
					line += " " + flags
				}
			}
			scripts[name] += fmt.Sprintf("exec sh -c '%s'\n! stderr 'lanesim:'\n", strings.ReplaceAll(line, "'", "''"))
			count++
		}
	}
	t.Logf("%d examples are run, %d with LANESIM_FULL=1 alone", count, left)
	if count < 60 || left > 60 {
		t.Fatalf("%d examples are run and %d left", count, left)
	}
	folder := t.TempDir()
	for name, script := range scripts {
		write(t, filepath.Join(folder, name+".txtar"), script)
	}
	testscript.Run(t, scriptParameters(folder))
}

// The help of every command ends with its examples.
func TestHelpEndsWithExamples(t *testing.T) {
	for _, c := range commands((&program{}).command()) {
		words := strings.Fields(c.CommandPath())[1:]
		text := good(t, "", append([]string{"help"}, words...)...)
		_, tail, ok := strings.Cut(text, "\nExamples:\n")
		if !ok || strings.TrimSpace(tail) != strings.TrimSpace(c.Example) || len(exampleLines(c)) == 0 {
			t.Errorf("%s: the help ends with\n%s", c.CommandPath(), tail)
		}
		if flag := good(t, "", append(words, "--help")...); flag != text {
			t.Errorf("%s: --help and help differ:\n%s\n%s", c.CommandPath(), flag, text)
		}
		for line := range strings.Lines(c.Long) {
			if n := len([]rune(strings.TrimRight(line, "\n"))); n > 80 {
				t.Errorf("%s: a line of help has %d characters: %s", c.CommandPath(), n, line)
			}
		}
	}
}
