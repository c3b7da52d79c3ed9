// Package docs_test keeps the pages of this folder true.
package docs_test

import (
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"lanesim/internal/figures"
)

var update = flag.Bool("update", false, "write what is generated in the pages anew")

// The program of the page for users of the library builds and runs outside the
// module, offline, by the commands of the page, and prints what the page says.
func TestLibraryProgramRuns(t *testing.T) {
	if runtime.GOOS == "js" {
		t.Skip("no program starts another there")
	}
	root, err := filepath.Abs("..")
	if err != nil {
		t.Fatal(err)
	}
	const page = "library.md"
	text := read(t, page)
	scripts, programs, outputs := blocks(text, "sh"), blocks(text, "go"), blocks(text, "text")
	if len(scripts) != 2 || len(programs) != 1 || len(outputs) != 1 {
		t.Fatalf("%d scripts, %d programs, %d outputs", len(scripts), len(programs), len(outputs))
	}
	modulePath, _, _ := strings.Cut(strings.TrimPrefix(read(t, "../go.mod"), "module "), "\n")
	if !strings.Contains(text, "`module "+modulePath+"`") || !strings.Contains(scripts[0], "-replace="+modulePath+"=") {
		t.Errorf("the page does not name the module's path, %s", modulePath)
	}
	folder := t.TempDir()
	script := scripts[0] + "cp \"$PROGRAM\" main.go\n" + scripts[1]
	program := filepath.Join(folder, "program")
	if err := os.WriteFile(program, []byte(programs[0]), 0o644); err != nil {
		t.Fatal(err)
	}
	c := exec.Command("sh", "-ec", strings.ReplaceAll(script, "/path/to/lanesim", root))
	c.Dir = folder
	c.Env = append(os.Environ(), "PROGRAM="+program, "GOFLAGS=-mod=mod", "GOPROXY=off", "GOSUMDB=off", "GOWORK=off")
	var problems strings.Builder
	c.Stderr = &problems
	output, err := c.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, problems.String())
	}
	if string(output) == outputs[0] || !*update && figures.Agree(string(output), outputs[0]) {
		return
	}
	if !*update {
		t.Fatalf("the program prints\n%swhere the page has\n%s", output, outputs[0])
	}
	write(t, page, strings.Replace(text, "```text\n"+outputs[0]+"```", "```text\n"+string(output)+"```", 1))
}

// blocks returns the code blocks of a language.
func blocks(text, language string) []string {
	var list []string
	for {
		_, rest, found := strings.Cut(text, "```"+language+"\n")
		if !found {
			return list
		}
		block, after, _ := strings.Cut(rest, "```")
		list, text = append(list, block), after
	}
}

func read(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func write(t *testing.T, name, text string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// section replaces what stands between the marks of a generated part of a page, or
// says that it is not as it should be.
func section(t *testing.T, page, mark, want string) {
	t.Helper()
	text := read(t, page)
	begin, end := "<!-- generated: "+mark+" -->\n", "<!-- end: "+mark+" -->"
	before, rest, found := strings.Cut(text, begin)
	old, after, closed := strings.Cut(rest, end)
	switch {
	case !found || !closed:
		t.Errorf("%s has no part %q", page, mark)
	case strings.TrimSpace(old) == strings.TrimSpace(want), !*update && figures.Agree(strings.TrimSpace(old), strings.TrimSpace(want)):
	case *update:
		write(t, page, before+begin+"\n"+strings.TrimSpace(want)+"\n\n"+end+after)
	default:
		t.Errorf("%s: %q should be\n%s\nrun go test ./docs -update", page, mark, want)
	}
}
