package files_test

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"lanesim/internal/files"
)

func names(t *testing.T, folder string) (list []string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		list = append(list, e.Name())
	}
	return list
}

// If one of several files cannot be made, none is written and none that exists is changed.
func TestAllFilesOrNone(t *testing.T) {
	folder := t.TempDir()
	first, second := filepath.Join(folder, "a.json"), filepath.Join(folder, "b.csv")
	if err := os.WriteFile(first, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	broken := errors.New("broken")
	list := []files.File{{Path: first, Content: []byte("new")}, {Path: second, Stream: func(to io.Writer) error {
		_, err := to.Write([]byte("half"))
		return errors.Join(err, broken)
	}}}
	if _, err := files.WriteAll(list); !errors.Is(err, broken) {
		t.Errorf("error %v", err)
	}
	if got, err := os.ReadFile(first); err != nil || string(got) != "old" || !slices.Equal(names(t, folder), []string{"a.json"}) {
		t.Errorf("%q, %v, files %v", got, err, names(t, folder))
	}
	list[1] = files.File{Path: second, Content: []byte("whole")}
	written, err := files.WriteAll(list)
	if err != nil || len(written) != 2 || !slices.Equal(names(t, folder), []string{"a.json", "b.csv"}) {
		t.Fatalf("%v, %v, files %v", written, err, names(t, folder))
	}
	if got, _ := os.ReadFile(first); string(got) != "new" {
		t.Errorf("%q", got)
	}
	if info, err := os.Stat(first); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the file that was there had another mode than %v", info.Mode())
	}
}

// An output is neither an input nor another output, by whatever name.
func TestClaims(t *testing.T) {
	folder := t.TempDir()
	in, link := filepath.Join(folder, "in.yaml"), filepath.Join(folder, "link.yaml")
	if err := os.WriteFile(in, []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(in, link); err != nil {
		t.Skip(err)
	}
	var c files.Claims
	if _, err := c.Open(in); err != nil {
		t.Fatal(err)
	}
	if err := c.Write(filepath.Join(folder, "out.json"), files.Standard); err != nil {
		t.Error(err)
	}
	if err := c.Write(filepath.Join(folder, ".", "out.json")); err == nil {
		t.Error("two outputs are one file")
	}
	var d files.Claims
	if _, err := d.Open(in); err != nil {
		t.Fatal(err)
	}
	if err := d.Write(link); err == nil {
		t.Error("an output is the input, by a link")
	}
}

func TestNamesBeside(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "shots.json")
	for _, want := range []string{"shots.partial.json", "shots.partial-2.json", "shots.partial-3.json"} {
		got := files.Beside(path)
		if filepath.Base(got) != want {
			t.Errorf("%s, not %s", filepath.Base(got), want)
		}
		if err := os.WriteFile(got, nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
}
