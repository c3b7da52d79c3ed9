package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// linkedExamples makes a folder with copies of some examples and links to them.
func linkedExamples(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	if err := os.CopyFS(folder, os.DirFS(examples)); err != nil {
		t.Fatal(err)
	}
	made := map[string]string{
		"two-lanes.yaml": "lanes: [{oil: grid.yaml}, {oil: flat}]\nball: {rg: 2.5 in, differential: 0 in}\nbowler: {like: medium revs, angle: 2 deg}\n",
		"sweep.yaml":     "scenario: two-lanes.yaml\nvary: {bowler.speed: [17 mph, 18 mph]}\ncolumns: [entry_board]\n",
		"sweep-oil.yaml": "scenario: first-shot.yaml\nvary: {lane.oil: [flat, grid.yaml]}\ncolumns: [entry_board]\n",
		"in.csv.partial": "scenario: first-shot.yaml\nvary: {lane.oil: [flat, house]}\ncolumns: [entry_board]\n",
		"own.yaml.json":  "{lane: {oil: tape-readings.csv}, ball: {rg: 2.5 in, differential: 0 in}, bowler: {like: medium revs, angle: 2 deg}}\n",
	}
	for name, text := range made {
		write(t, filepath.Join(folder, name), text)
	}
	t.Chdir(folder)
	good(t, "", "pattern", "convert", "house", "-o", "grid.yaml")
	good(t, "", "throw", "first-shot.yaml", "--set", "title=x", "-o", "scenario.json")
	for _, err := range []error{
		os.Link("own.yaml.json", "hard.json"), os.Symlink("own.yaml.json", "soft.json"), os.Symlink(folder, "here"),
		os.Link("tape-readings.csv", "hard.csv"), os.Symlink("new.json", "dangling.json"), os.Symlink("grid.yaml", "grid.json"),
		os.Link("friction-tracks.csv", "tracks.csv"), os.Symlink("two-lanes.yaml", "h-2.svg"), os.Symlink("grid.yaml", "oil.csv"),
	} {
		if err != nil {
			t.Skip(err)
		}
	}
	return folder
}

// state lists the files of a folder with their contents.
func state(t *testing.T, folder string) string {
	t.Helper()
	entries := entriesOf(t, folder)
	var b strings.Builder
	for _, e := range entries {
		text, _ := os.ReadFile(filepath.Join(folder, e.Name()))
		fmt.Fprintf(&b, "%s %v %q\n", e.Name(), e.Type(), text)
	}
	return b.String()
}

// An output never replaces an input or another output, whatever names are used; then
// nothing is written at all.
func TestOutputsAreNoInputsAndAllDiffer(t *testing.T) {
	folder := linkedExamples(t)
	before := state(t, folder)
	for _, arguments := range []string{
		"throw own.yaml.json -o own.yaml.json",
		"throw own.yaml.json -o ./own.yaml.json",
		"throw own.yaml.json -o here/own.yaml.json",
		"throw own.yaml.json -o " + filepath.Join(folder, "own.yaml.json"),
		"throw own.yaml.json -o hard.json",
		"throw own.yaml.json -o soft.json",
		"throw own.yaml.json -o other.csv -o tape-readings.csv",
		"throw own.yaml.json -o hard.csv",
		"throw hard.json -o soft.json",
		"throw first-shot.yaml -o new.json -o ./new.json",
		"throw first-shot.yaml -o new.json -o here/new.json",
		"throw first-shot.yaml -o new.json -o dangling.json",
		"throw own.yaml.json -o soft.json -o hard.json",
		"throw two-lanes.yaml -o grid.json",
		"throw two-lanes.yaml -o k.svg -o k-2.svg",
		"throw two-lanes.yaml -o k-2.svg -o here/k.svg",
		"throw two-lanes.yaml -o h.svg",
		"layout two-lanes.yaml -o h.svg",
		"layout two-lanes.yaml -o k.svg -o k-2.svg",
		"layout own.yaml.json -o soft.json",
		"compare house-and-flat.yaml -o own.json -o here/own.json",
		"aim own.yaml.json -o hard.json",
		"wear own.yaml.json -o hard.csv",
		"spread own.yaml.json -o tape-readings.csv",
		"bag own.yaml.json --size 1 -o hard.json",
		"bag own.yaml.json --size 1 -o hard.csv",
		"fit fit-friction.yaml friction-tracks.csv -o friction-tracks.csv",
		"fit fit-friction.yaml friction-tracks.csv -o tracks.csv",
		"fit fit-friction.yaml tracks.csv -o new.json -o friction-tracks.csv",
		"sweep sweep.yaml -o new.csv -o here/new.csv",
		"sweep sweep-oil.yaml -o oil.csv",
		"sweep in.csv.partial -o in.csv",
		"pattern tape-readings.csv -o hard.csv",
		"pattern grid.yaml -o grid.json",
		"pattern convert grid.yaml -o grid.yaml",
		"pattern convert grid.yaml -o here/grid.yaml",
		"bowler measured-bowler.yaml -o measured-bowler.yaml",
	} {
		words := strings.Fields(arguments)
		if _, err := os.Stat(words[1]); err != nil && words[0] != "pattern" {
			t.Fatal(err)
		}
		code, output, problems := lanesim(t, "", words...)
		if code != exitUsage || output != "" {
			t.Errorf("%s: exit code %d\n%s%s", arguments, code, output, problems)
		}
		if !strings.Contains(problems, "this run reads") && !strings.Contains(problems, "the same file") && !strings.Contains(problems, "twice") {
			t.Errorf("%s: %s", arguments, problems)
		}
		if state(t, folder) != before {
			t.Fatalf("%s: files have changed", arguments)
		}
	}
	// Names that only look alike are allowed.
	for _, arguments := range []string{
		"throw first-shot.yaml -o m.svg -o m-2.svg -o m.json -o M.json",
		"throw own.yaml.json -o own.json",
		"throw first-shot.yaml -o dangling.json",
	} {
		good(t, "", strings.Fields(arguments)...)
	}
	if text, err := os.ReadFile("new.json"); err != nil || len(text) == 0 {
		t.Errorf("a link to a file that is not there yet: %v", err)
	}
}

// Standard output may be redirected to a file, but not to an input or another output of the
// run.
func TestStandardOutputIsNoOtherFile(t *testing.T) {
	linkedExamples(t)
	for _, c := range []struct{ to, arguments string }{
		{"own.yaml.json", "throw own.yaml.json"},
		{"tape-readings.csv", "throw own.yaml.json --json"},
		{"out.json", "throw own.yaml.json --json -o out.json"},
	} {
		f, err := os.OpenFile(c.to, os.O_WRONLY|os.O_APPEND|os.O_CREATE, 0o666)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		var errs strings.Builder
		p := &program{in: strings.NewReader(""), out: f, err: &errs, environment: func(string) string { return "" }}
		size, _ := f.Stat()
		if code := p.run(t.Context(), strings.Fields(c.arguments)); code != exitUsage || !strings.Contains(errs.String(), "standard output") {
			t.Errorf("%s > %s: exit code %d, %s", c.arguments, c.to, code, errs.String())
		}
		if now, err := os.Stat(c.to); err != nil || now.Size() != size.Size() {
			t.Errorf("%s > %s: the file has changed (%v)", c.arguments, c.to, err)
		}
	}
}
