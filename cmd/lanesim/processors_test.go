package main

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// everyCommand lists command lines over the examples, with the endings of their output
// files. The first short of them are fast.
func everyCommand(t *testing.T) (list []string, short int) {
	t.Helper()
	const all = " .json .csv .svg .png .pdf"
	list = []string{
		"throw house-and-flat.yaml" + all,
		"spread spread-two-balls.yaml --shots 60" + all,
		"carry carry-light-and-flush.yaml --racks 30 --scatter" + all,
		"wear wear-two-layouts.yaml --shots 6 --sessions 2" + all,
		"aim aim-two-balls.yaml --laydown 24:26 --shots 20 --others 1" + all + withoutFilm,
		"sweep sweep-layout.yaml .csv .jsonl .parquet .svg .png .pdf",
		"compare compare-flare.yaml --assumed 0 .json .csv",
		"bag compare-one-number.yaml --level league --size 1 --shots 2 --farthest 1 .json .csv" + withoutFilm,
		"spares spare-ten-pin.yaml --leaves 10 --laydown 20:20 --shots 10 .json .csv",
		"seek seek-layout.yaml --points 2 --others 0 --assumed 0 .json",
		"layout aim-house.yaml --tolerances .json",
	}
	short = len(list)
	list = append(list, "validate .json", "pattern tape-readings.csv"+all, "pattern house"+all, "pattern convert tape-readings.csv .yaml",
		"bowler measured-bowler.yaml .yaml .json", "reference", "schema", "fit fit-friction.yaml friction-tracks.csv --fit film,dry --bootstrap 6"+all,
		"bag bag-three-of-five.yaml --shots 100 --farthest 2 --worn 10 .json .csv", "aim aim-house.yaml --laydown 24:29 --shots 300"+all,
		"wear wear-league-night.yaml --shots 40 --moves"+all, "sweep sweep-speed-revs.yaml .csv .jsonl .parquet .svg .png .pdf",
		"sweep sweep-any-release.yaml .csv .jsonl .parquet", "spread spread-which-miss.yaml --shots 300 --sobol"+all,
		"spread spread-house-and-flat.yaml --shots 300"+all)
	for _, file := range exampleFiles(t) {
		name := filepath.Base(file)
		switch {
		case strings.HasPrefix(name, "sweep-"):
			continue
		case strings.HasPrefix(name, "compare-"):
			list = append(list, "compare "+name+all)
		}
		layout := "layout " + name
		if name == "spare-ten-pin.yaml" {
			layout += " --set bowler.aim=pocket" // layout does not draw a line aimed at pins
		}
		list = append(list, "throw "+name+all, layout+" .json .svg .png .pdf")
	}
	return list, short
}

// Every command and picture gives the same bytes on any number of processors and with any
// number of jobs. By default some run on one processor and on seven with three jobs;
// LANESIM_PROCESSORS=1 runs all examples, also on two.
func TestResultsDoNotDependOnProcessors(t *testing.T) {
	list, short := everyCommand(t)
	others := []string{"2", "7"}
	if os.Getenv("LANESIM_PROCESSORS") == "" {
		list, others = list[:short], others[1:]
	}
	files := 0
	for _, line := range list {
		t.Run(line, func(t *testing.T) {
			want := resultsOn(t, line, "1")
			command, _, _ := strings.Cut(line, " ")
			if slices.Contains(commandsWithJobs, command) {
				line += " --jobs 3"
			}
			files += len(want)
			for _, processors := range others {
				got := resultsOn(t, line, processors)
				for name := range want {
					if got[name] != want[name] {
						t.Errorf("%s differs on %s processors", name, processors)
					}
				}
				if len(got) != len(want) {
					t.Errorf("%d files on %s processors, %d on one", len(got), processors, len(want))
				}
			}
		})
	}
	if files < 5*len(list)/2 {
		t.Errorf("only %d files of %d commands", files, len(list))
	}
}

// commandsWithJobs are those that throw many shots.
var commandsWithJobs = []string{"compare", "aim", "spread", "wear", "bag", "carry", "spares", "seek", "fit", "sweep", "layout"}

// All commands that throw many shots have the same flag --jobs, and no others have it.
func TestJobsIsOneFlag(t *testing.T) {
	usage := ""
	for _, c := range (&program{}).command().Commands() {
		f := c.Flags().Lookup("jobs")
		if has := f != nil; has != slices.Contains(commandsWithJobs, c.Name()) {
			t.Errorf("%s: has --jobs: %v", c.Name(), has)
		} else if has {
			if usage = cmp.Or(usage, f.Usage); f.Usage != usage || f.DefValue != "0" {
				t.Errorf("%s: %q, %s unless given", c.Name(), f.Usage, f.DefValue)
			}
			if err := f.Value.Set("-1"); err == nil || f.Value.Set("2") != nil {
				t.Errorf("%s: --jobs -1: %v", c.Name(), err)
			}
		}
	}
}

// resultsOn runs a command line on a number of processors and returns the hashes of its
// output and its files.
func resultsOn(t *testing.T, line, processors string) map[string][sha256.Size]byte {
	t.Helper()
	folder := t.TempDir()
	var arguments []string
	for _, word := range strings.Fields(line) {
		if strings.HasPrefix(word, ".") {
			arguments = append(arguments, "-o", filepath.Join(folder, "out"+word))
		} else {
			arguments = append(arguments, word)
		}
	}
	c := exec.Command("lanesim", arguments...)
	c.Dir = examples
	c.Env = append(os.Environ(), "GOMAXPROCS="+processors)
	var errs bytes.Buffer
	c.Stderr = &errs
	printed, err := c.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, &errs)
	}
	got := map[string][sha256.Size]byte{"standard output": sha256.Sum256(printed)}
	entries := entriesOf(t, folder)
	for _, e := range entries {
		got[e.Name()] = sha256.Sum256(contents(t, filepath.Join(folder, e.Name())))
	}
	return got
}
