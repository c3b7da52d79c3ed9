package scenario

import (
	"errors"
	"flag"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the golden files anew")

// overrides returns the values of the lines "# --set path=value" of a test file.
func overrides(data []byte) []string {
	var sets []string
	for line := range strings.Lines(string(data)) {
		if set, ok := strings.CutPrefix(line, "# --set "); ok {
			sets = append(sets, strings.TrimRight(set, "\r\n"))
		}
	}
	return sets
}

// openIn opens the files of a folder of the test data.
func openIn(folder string) OpenFile {
	return func(name string) ([]byte, error) {
		data, err := os.ReadFile(filepath.Join("testdata", folder, filepath.FromSlash(name)))
		if errors.Is(err, os.ErrNotExist) {
			return nil, os.ErrNotExist // without the path, which differs between systems
		}
		return data, err
	}
}

// Every bad file gives exactly the messages in its golden file.
func TestErrorsOfBadFiles(t *testing.T) {
	checkErrors(t, "testdata/bad/*.[yj]*", func(name string, data []byte) (any, error) {
		s, err := Read(name, data, openIn("bad"), overrides(data))
		return s, err
	})
}

// testFile is a file with its contents.
type testFile struct {
	path string
	text []byte
}

// testFiles reads the files that match a pattern, of which there must be some, but not the golden ones.
func testFiles(t testing.TB, pattern string) (list []testFile) {
	t.Helper()
	paths, err := filepath.Glob(pattern)
	if err != nil || len(paths) == 0 {
		t.Fatal("no test data", err)
	}
	for _, path := range paths {
		if filepath.Ext(path) == ".golden" {
			continue
		}
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, testFile{path, text})
	}
	return list
}

// checkErrors reads files and compares their errors with their golden files.
func checkErrors(t *testing.T, pattern string, read func(name string, data []byte) (any, error)) {
	t.Helper()
	for _, file := range testFiles(t, pattern) {
		t.Run(filepath.Base(file.path), func(t *testing.T) {
			made, err := read(filepath.Base(file.path), file.text)
			var problems Errors
			if !reflect.ValueOf(made).IsNil() || !errors.As(err, &problems) {
				t.Fatalf("got %v, %v, want Errors alone", made, err)
			}
			checkPlaces(t, problems)
			golden := file.path + ".golden"
			got := err.Error() + "\n"
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), got); diff != "" {
				t.Errorf("messages differ (-want +got):\n%s", diff)
			}
		})
	}
}

// checkPlaces checks any list of problems: places lie within the text and in order, and no
// problem occurs twice.
func checkPlaces(t *testing.T, problems Errors) {
	t.Helper()
	for i, p := range problems {
		if p.Line < 1 || p.Column < 1 || p.Column > len([]rune(p.Source))+1 {
			t.Errorf("%s:%d:%d is not in the text %q", p.File, p.Line, p.Column, p.Source)
		}
		if p.Message == "" || p.File == "" {
			t.Errorf("problem %d says nothing: %+v", i, p)
		}
		if slices.Index(problems, p) != i {
			t.Errorf("said twice: %v", p)
		}
		if i > 0 && p.File == problems[i-1].File && p.File != SetName && p.Line < problems[i-1].Line {
			t.Errorf("line %d comes after %d", p.Line, problems[i-1].Line)
		}
	}
}
