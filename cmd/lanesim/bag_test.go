package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"lanesim/internal/files"
)

// smallBag is a small bag. Without film on the balls a cell takes some hundredths of a
// second.
const smallBag = `lanes: [{name: House, oil: house}, {name: Flat, oil: flat}]
balls:
  - {name: A, weight: 15 lb, diameter: 8.58 in, rg: 2.5 in, differential: 0 in, roughness: 25 uin, film_memory: off}
  - {name: B, weight: 15 lb, diameter: 8.58 in, rg: 2.6 in, differential: 0 in, roughness: 15 uin, film_memory: off}
bowler: {name: W, speed: 18 mph, rev_rate: 325 rpm, axis_rotation: 55 deg, axis_tilt: 13 deg, laydown: 27, aim: pocket, repeatability: tournament}
`

// bagFile writes the small bag to a file and returns the arguments of a short run.
func bagFile(t *testing.T) (arguments []string) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "bag.yaml")
	write(t, file, smallBag)
	return []string{"bag", file, "-q", "--size", "1", "--shots", "20", "--farthest", "1"}
}

// wholeBag returns what that run writes if it is not interrupted.
func wholeBag(t *testing.T) []byte {
	t.Helper()
	return []byte(good(t, "", append(bagFile(t), "--json")...))
}

// A bag that was interrupted at any moment and resumed gives the same bytes as one without
// an interruption.
func TestBagResumes(t *testing.T) {
	endedAndResumed(t, append(bagFile(t), "-o"), map[string][]byte{"out.json": wholeBag(t)})
}

// Kept cells are not deleted without --resume, not mixed with cells of other inputs, and
// not lost if the results cannot be written.
func TestBagKeepsItsCells(t *testing.T) {
	arguments, want := bagFile(t), wholeBag(t)
	folder := t.TempDir()
	out := filepath.Join(folder, "out.json")
	full := filepath.Join(folder, "full.csv")
	if err := os.Symlink("/dev/full", full); err != nil {
		t.Skip(err)
	}
	if _, err := os.Stat("/dev/full"); err != nil {
		t.Skip(err)
	}
	code, _, said := lanesim(t, "", append(arguments, "-o", out, "-o", full)...)
	if code != exitFailed || !strings.Contains(said, "all rows are kept in") {
		t.Fatalf("on a full disk: exit code %d\n%s", code, said)
	}
	if _, err := os.Stat(out); err == nil {
		t.Error("one of two files is written")
	}
	partial := out + files.PartialEnding
	kept := contents(t, partial)
	refusedAndKept := func(words string, more ...string) {
		t.Helper()
		refused(t, words, append(append(append([]string{}, arguments...), "-o", out), more...)...)
		if !bytes.Equal(contents(t, partial), kept) {
			t.Fatalf("%v: what was kept has changed", more)
		}
	}
	refusedAndKept("continue with --resume")
	for _, set := range []string{
		"lane.rolling_resistance=0.001", "lanes[1].rolling_resistance=0.001", "lanes[1].oil=house", "lanes[0].tilt=0.01 in", "lanes[1].roughness=0.3 um",
		"lanes[1].friction.dry=0.21", "lanes[1].length=59 ft", "balls[1].rg=2.61 in", "balls[0].weight=14 lb", "balls[1].balance.offset=[0.1 mm, 0 mm, 0 mm]",
		"balls[1].film_memory={}", "balls[1].contact_radius=2 mm", "bowler.speed=18.1 mph", "bowler.phase=10 deg", "bowler.laydown=26", "bowler.hand=left",
		"bowler.pap={over: 5 in, up: 1 in}", "bowler.repeatability=league", "bowler.repeatability={angle: 0.1 deg}", "settings.tolerance=1e-7", "settings.pocket={board: 17, half_width: 0.75}",
		"settings.good_angle=[3 deg, 7 deg]", "balls[0].name=Other", "lanes[1].name=Other",
	} {
		refusedAndKept("of another run", "--resume", "--set", set)
	}
	for _, flags := range [][]string{{"--shots", "21"}, {"--seed", "2"}, {"--farthest", "2"}, {"--by", "good"}, {"--level", "league"}} {
		refusedAndKept("of another run", append(flags, "--resume")...)
	}
	good(t, "", append(arguments, "-o", out, "--resume")...)
	if !bytes.Equal(contents(t, out), want) {
		t.Error("the resumed result differs from the undisturbed one")
	}
	if entries, err := os.ReadDir(folder); err != nil || len(entries) != 2 {
		t.Errorf("left %v, %v", entries, err)
	}
}

// Two runs cannot write one file of cells at the same time.
func TestBagIsTaken(t *testing.T) {
	arguments := bagFile(t)
	out := filepath.Join(t.TempDir(), "out.json")
	arguments = append(arguments, "-o", out)
	process := startedProcess(t, append(arguments, "--shots", "100000")...)
	defer process.kill()
	for begin := time.Now(); ; time.Sleep(time.Millisecond) {
		// The header is written once the file is locked.
		if info, err := os.Stat(out + files.PartialEnding); err == nil && info.Size() > 0 {
			break
		}
		if time.Since(begin) > time.Minute {
			t.Fatal("no partial file after a minute")
		}
	}
	for _, more := range [][]string{{"--shots", "100000"}, {"--shots", "100000", "--resume"}} {
		refused(t, out, append(arguments, more...)...)
	}
}
