package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"lanesim/rows"
)

// longSweep has 6000 rows of a few hundred microseconds each.
const longSweep = `scenario:
  lane: {oil: dry}
  ball: {rg: 2.6 in, differential: 0.03 in, layout: {drilling_angle: 60 deg, pin_to_pap: 4 in, val_angle: 40 deg}}
  bowler: {speed: 18 mph, rev_rate: 100 rpm, axis_rotation: 60 deg, axis_tilt: 10 deg, laydown: 20, angle: 1 deg}
vary:
  bowler.speed: {from: 15 mph, to: 21 mph}
  bowler.rev_rate: {from: 100 rpm, to: 500 rpm}
design: latin
points: 6000
seed: 7
columns: [entry_board, entry_angle_deg, hook_ft, flare_in]
`

// Rows are the same, byte for byte, for any number of jobs and of parts, in every format.
func TestSweepIsTheSameHoweverComputed(t *testing.T) {
	path, folder := sweepFile(t, strings.Replace(longSweep, "6000", "700", 1)), t.TempDir()
	endings := rows.Endings()
	want := map[string][]byte{}
	compare := func(how, base string) {
		t.Helper()
		for _, e := range endings {
			if got := contents(t, base+e); want[e] == nil {
				want[e] = got
			} else if !bytes.Equal(got, want[e]) {
				t.Errorf("%s: other %s", how, e)
			}
		}
	}
	for _, jobs := range []string{"1", "2", "7"} {
		base := filepath.Join(folder, "jobs"+jobs)
		good(t, "", "sweep", path, "-q", "--jobs", jobs, "-o", base+".csv", "-o", base+".jsonl", "-o", base+".parquet")
		compare(jobs+" jobs", base)
	}
	for _, parts := range []int{1, 2, 5} {
		base := filepath.Join(folder, fmt.Sprint("parts", parts))
		for i := range parts {
			good(t, "", "sweep", path, "-q", "--shard", fmt.Sprintf("%d/%d", i, parts), "-o", base)
		}
		good(t, "", "merge", base, "-q", "-o", base+".csv", "-o", base+".jsonl", "-o", base+".parquet")
		compare(fmt.Sprint(parts, " parts"), base)
	}
}

// endedDuring runs the program in its own process, sends it a signal after some rows are
// written to a partial file, and returns how it ended. If the run finished before the
// signal, as on a busy machine, it removes the files and runs again.
func endedDuring(t *testing.T, s os.Signal, partial string, outputs []string, arguments ...string) (ended *exec.ExitError, messages string) {
	t.Helper()
	for range 20 {
		p := startedProcess(t, arguments...)
		var err error
		through := false
		for begin := time.Now(); !through; time.Sleep(time.Millisecond) {
			if info, err := os.Stat(partial); err == nil && info.Size() > 60_000 {
				p.Process.Signal(s)
				break
			}
			select {
			case err = <-p.ended:
				through = true
			default:
			}
			if time.Since(begin) > 5*time.Minute {
				p.kill()
				t.Fatalf("no rows after five minutes\n%s", &p.messages)
			}
		}
		if !through {
			err = <-p.ended
		}
		if errors.As(err, &ended) {
			return ended, p.messages.String()
		}
		for _, path := range outputs {
			os.Remove(path)
		}
	}
	t.Fatal("the program was through twenty times before it could be ended")
	return nil, ""
}

// A run that was killed or interrupted and then resumed gives the same bytes as one without
// interruption, and in between only its partial file exists.
func TestSweepResumes(t *testing.T) {
	path := sweepFile(t, longSweep)
	whole := filepath.Join(t.TempDir(), "whole")
	good(t, "", "sweep", path, "-q", "-o", whole+".csv", "-o", whole+".parquet")
	for _, c := range []struct {
		signal os.Signal
		tear   func(data []byte) []byte
	}{
		{os.Kill, func(data []byte) []byte { return data }},
		{os.Kill, func(data []byte) []byte { return data[:len(data)-20] }},
		{os.Kill, func(data []byte) []byte { return append(data, "5999,12.3,4"...) }},
		{os.Kill, func(data []byte) []byte { return data[:30] }},
		{os.Kill, func(data []byte) []byte { data[len(data)-3000] ^= 4; return data }},
		{os.Interrupt, func(data []byte) []byte { return data }},
	} {
		base := filepath.Join(t.TempDir(), "rows")
		partial := base + ".parquet.partial"
		arguments := []string{"sweep", path, "-q", "--jobs", "2", "-o", base + ".parquet", "-o", base + ".csv"}
		exit, messages := endedDuring(t, c.signal, partial, []string{base + ".parquet", base + ".csv"}, arguments...)
		if c.signal == os.Interrupt && exit.ExitCode() != exitInterrupted {
			t.Fatalf("%v: ended with %v\n%s", c.signal, exit, messages)
		}
		if c.signal == os.Interrupt && !strings.Contains(messages, "--resume continues") {
			t.Errorf("interrupted: %s", messages)
		}
		if entries, err := os.ReadDir(filepath.Dir(base)); err != nil || len(entries) != 1 {
			t.Errorf("%v left %v, %v", c.signal, entries, err)
		}
		write(t, partial, c.tear(contents(t, partial)))
		// A partial file is not replaced by mistake and not used for another sweep.
		refused(t, "continue with --resume", arguments...)
		if len(contents(t, partial)) > 1000 {
			other := append([]string{"--tolerance", "1e-4", "--resume"}, arguments...)
			refused(t, "another run", append([]string{"sweep"}, append(other[:3:3], other[4:]...)...)...)
		}
		good(t, "", append(arguments, "--resume", "--jobs", "1")...)
		for _, ending := range []string{".csv", ".parquet"} {
			if !bytes.Equal(contents(t, base+ending), contents(t, whole+ending)) {
				t.Errorf("%v: resumed run differs in %s", c.signal, ending)
			}
		}
		if _, err := os.Stat(partial); err == nil {
			t.Error("the partial file is left")
		}
	}
}

// Every changed byte of a part is noticed.
func TestDamageIsNoticed(t *testing.T) {
	path, folder := sweepFile(t, strings.Replace(longSweep, "6000", "30", 1)), t.TempDir()
	for _, shard := range []string{"0/2", "1/2"} {
		good(t, "", "sweep", path, "-q", "--shard", shard, "-o", folder)
	}
	part := filepath.Join(folder, rows.PartName(1, 2))
	sound := contents(t, part)
	for i := range sound {
		changed := bytes.Clone(sound)
		changed[i] ^= 1
		write(t, part, changed)
		out := filepath.Join(folder, "out.csv")
		if code, _, said := lanesim(t, "", "merge", folder, "-o", out); code != exitUsage || !strings.Contains(said, "part-0000") {
			t.Fatalf("byte %d changed from %q: exit code %d\n%s", i, sound[i], code, said)
		}
		if _, err := os.Stat(out); err == nil {
			t.Fatal("a file is left")
		}
	}
}

// A killed run leaves a temporary file, which the next run removes.
func TestLeftoversOfAKilledRunAreRemoved(t *testing.T) {
	folder := t.TempDir()
	out := filepath.Join(folder, "rows.csv")
	for _, name := range []string{".rows.csv.0123abcd.tmp", ".rows.csv.0123abcd.tmp.mine", ".other.csv.0123abcd.tmp"} {
		write(t, filepath.Join(folder, name), "x")
	}
	good(t, "", "sweep", filepath.Join(examples, "sweep-speed-revs.yaml"), "-q", "-o", out)
	entries := entriesOf(t, folder)
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if want := []string{".other.csv.0123abcd.tmp", ".rows.csv.0123abcd.tmp.mine", "rows.csv"}; !slices.Equal(names, want) {
		t.Errorf("left %v, want %v", names, want)
	}
}
