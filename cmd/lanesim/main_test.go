package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

const examples = "../../examples"

func TestMain(m *testing.M) {
	if runtime.GOOS == "js" { // where a program cannot start another
		os.Exit(m.Run())
	}
	testscript.Main(m, map[string]func(){"lanesim": main})
}

// TestScripts runs the scripts in testdata next to a copy of the examples. Besides the
// usual commands there are
//
//	exits CODE PROGRAM [ARGUMENT...]
//	empty FOLDER
//
// which run a program and check its exit code, and check that a folder is empty.
func TestScripts(t *testing.T) {
	testscript.Run(t, scriptParameters("testdata"))
}

// inFull reports whether LANESIM_FULL is set, as .ci/run does. Otherwise a test that takes
// long runs a part and says so.
func inFull() bool { return os.Getenv("LANESIM_FULL") != "" }

func TestPageIsMade(t *testing.T) {
	if !inFull() {
		t.Skip("NOT CHECKED: making a page, whose engine takes a minute to build; LANESIM_FULL=1 does")
	}
	testscript.Run(t, scriptParameters(filepath.Join("testdata", "page")))
}

func scriptParameters(folder string) testscript.Params {
	return testscript.Params{
		Dir:                 folder,
		RequireExplicitExec: true,
		Setup: func(e *testscript.Env) error {
			if err := setGo(e); err != nil {
				return err
			}
			return os.CopyFS(filepath.Join(e.WorkDir, "examples"), os.DirFS(examples))
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": func(s *testscript.TestScript, _ bool, arguments []string) {
				want, err := strconv.Atoi(arguments[0])
				s.Check(err)
				got := 0
				exit := (*exec.ExitError)(nil)
				if err := s.Exec(arguments[1], arguments[2:]...); errors.As(err, &exit) {
					got = exit.ExitCode()
				} else {
					s.Check(err)
				}
				if got != want {
					s.Fatalf("exit code %d, want %d", got, want)
				}
			},
			"empty": func(s *testscript.TestScript, _ bool, arguments []string) {
				entries, err := os.ReadDir(s.MkAbs(arguments[0]))
				s.Check(err)
				for _, e := range entries {
					s.Fatalf("there is %s", e.Name())
				}
			},
		},
	}
}

// setGo lets a script's commands build the page's engine: it tells them where the source is
// and shares Go's and the program's caches.
func setGo(e *testscript.Env) error {
	source, err := filepath.Abs(filepath.Join("..", ".."))
	if err != nil {
		return err
	}
	e.Setenv("LANESIM_SOURCE", source)
	names := []string{"GOCACHE", "GOMODCACHE", "GOPATH", "GOFLAGS"}
	out, err := exec.Command("go", append([]string{"env"}, names...)...).Output()
	if err != nil {
		return err
	}
	for i, value := range strings.Split(strings.TrimSuffix(string(out), "\n"), "\n") {
		e.Setenv(names[i], value)
	}
	if cache, err := os.UserCacheDir(); err == nil {
		e.Setenv("XDG_CACHE_HOME", cache)
	}
	return nil
}

// lanesim runs a command line in the test's own process.
func lanesim(t testing.TB, input string, arguments ...string) (code int, output, errors string) {
	t.Helper()
	var out, err bytes.Buffer
	p := &program{in: strings.NewReader(input), out: &out, err: &err, environment: func(string) string { return "" }}
	code = p.run(context.Background(), arguments)
	return code, out.String(), err.String()
}

// good runs a command line that must succeed and returns its standard output.
func good(t testing.TB, input string, arguments ...string) string {
	t.Helper()
	code, output, problems := lanesim(t, input, arguments...)
	if code != exitDone {
		t.Fatalf("lanesim %s: exit code %d\n%s", strings.Join(arguments, " "), code, problems)
	}
	return output
}

// refused runs a command line that must be wrong, and checks that its message has some words.
func refused(t testing.TB, words string, arguments ...string) {
	t.Helper()
	if code, _, problems := lanesim(t, "", arguments...); code != exitUsage || !strings.Contains(problems, words) {
		t.Errorf("lanesim %s: exit code %d\n%s", strings.Join(arguments, " "), code, problems)
	}
}

// answers caches the outputs of command lines without an input.
var answers sync.Map

// goodOnce is good for tests of the output alone: each command line runs once in the whole
// test binary.
func goodOnce(t testing.TB, arguments ...string) string {
	t.Helper()
	run, _ := answers.LoadOrStore(strings.Join(arguments, "\x00"), sync.OnceValue(func() string { return good(t, "", arguments...) }))
	return run.(func() string)()
}

// shotsOfFile is the output of throw for a file: JSON, and the same shots as CSV.
type shotsOfFile struct{ json, csv string }

var throws sync.Map

// thrownOnce throws a file once in the whole test binary.
func thrownOnce(t testing.TB, file string) shotsOfFile {
	t.Helper()
	run, _ := throws.LoadOrStore(file, sync.OnceValue(func() shotsOfFile {
		rows := filepath.Join(t.TempDir(), "shots.csv")
		json := good(t, "", "throw", file, "--json", "-q", "-o", rows)
		return shotsOfFile{json, string(contents(t, rows))}
	}))
	return run.(func() shotsOfFile)()
}

// exampleFiles lists the example scenarios: the YAML files with a bowler. Files
// of measurements have none.
func exampleFiles(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(examples, "*.yaml"))
	if err != nil || len(files) == 0 {
		t.Fatal("no examples", err)
	}
	return slices.DeleteFunc(files, func(file string) bool {
		text := contents(t, file)
		return !strings.Contains("\n"+string(text), "\nbowler")
	})
}

// contents are those of a file.
func contents(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// write writes a file.
func write[T string | []byte](t testing.TB, path string, content T) {
	t.Helper()
	if err := os.WriteFile(path, []byte(content), 0o666); err != nil {
		t.Fatal(err)
	}
}

// entriesOf are those of a folder.
func entriesOf(t testing.TB, folder string) []os.DirEntry {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	return entries
}

// readJSON reads a value from JSON.
func readJSON[T string | []byte](t testing.TB, text T, to any) {
	t.Helper()
	if err := json.Unmarshal([]byte(text), to); err != nil {
		t.Fatal(err)
	}
}
