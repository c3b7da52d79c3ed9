package main

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// process is a run of the program as a process of its own.
type process struct {
	*exec.Cmd
	messages bytes.Buffer
	ended    chan error
}

func startedProcess(t *testing.T, arguments ...string) *process {
	t.Helper()
	p := &process{Cmd: exec.Command("lanesim", arguments...), ended: make(chan error, 1)}
	p.Stderr = &p.messages
	if err := p.Start(); err != nil {
		t.Fatal(err)
	}
	go func() { p.ended <- p.Wait() }()
	return p
}

func (p *process) kill() {
	p.Process.Kill()
	<-p.ended
}

// endedAndResumed runs a command line over and over, ending it at random moments and
// going on with it, until it is through, and compares what it then has written: files
// by name, of which the command line names the first. LANESIM_KILL=1 does so until
// runs have ended early twenty times.
func endedAndResumed(t *testing.T, arguments []string, want map[string][]byte) {
	t.Helper()
	times := 3
	if os.Getenv("LANESIM_KILL") != "" {
		times = 20
	}
	random := rand.New(rand.NewPCG(1, 2))
	name := ""
	for name = range want {
	}
	longest := 0.0
	for ended := 0; ended < times; {
		folder := t.TempDir()
		out := filepath.Join(folder, name)
		for run := 0; ; run++ {
			more := []string{out}
			if _, err := os.Stat(out + partialEnding); err == nil {
				more = append(more, "--resume")
			}
			begin := time.Now()
			p := startedProcess(t, append(append([]string{}, arguments...), more...)...)
			after := time.Duration((0.02 + random.Float64()*max(longest, 0.5)) * float64(time.Second))
			early := false
			select {
			case err := <-p.ended:
				if longest = max(longest, time.Since(begin).Seconds()); err != nil {
					t.Fatalf("%v\n%s", err, &p.messages)
				}
			case <-time.After(after):
				early = true
				signal := []os.Signal{os.Kill, os.Interrupt}[run%2]
				p.Process.Signal(signal)
				if <-p.ended == nil {
					early = false // it was through
				}
			}
			if !early {
				break
			}
			ended++
			if _, err := os.Stat(out); err == nil {
				t.Fatal("a run that was ended has written its result")
			}
		}
		for name, data := range want {
			if !bytes.Equal(contents(t, filepath.Join(folder, name)), data) {
				t.Fatalf("%s differs after runs that were ended", name)
			}
		}
		if entries, err := os.ReadDir(folder); err != nil || len(entries) != len(want) {
			t.Fatalf("left %v, %v", entries, err)
		}
	}
}

// The same of a sweep.
func TestSweepResumesAtAnyMoment(t *testing.T) {
	path := sweepFile(t, longSweep)
	whole := filepath.Join(t.TempDir(), "whole.csv")
	good(t, "", "sweep", path, "-q", "-o", whole)
	endedAndResumed(t, []string{"sweep", path, "-q", "-o"}, map[string][]byte{"out.csv": contents(t, whole)})
}

// Of a file that was damaged in any way, no more is taken than is sound, and what is
// not is told: fifty random damages for each size of block.
func TestRandomDamagesAreNoticed(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for _, block := range []int{1, 0} {
		h := rowsHeader{Columns: []rowColumn{{"row", countKind}, {"x", numberKind}}, Rows: 700, Fingerprint: "f", Of: 1, Block: block}
		path := filepath.Join(t.TempDir(), "rows")
		j, err := createJournal(path, h)
		if err != nil {
			t.Fatal(err)
		}
		var rows [][]byte
		for k := range h.Rows - 50 {
			rows = append(rows, fmt.Appendf(nil, "%d,%d\n", k, random.Uint64()))
			if err := j.row(rows[k]); err != nil {
				t.Fatal(err)
			}
		}
		if err := j.close(); err != nil {
			t.Fatal(err)
		}
		sound := contents(t, path)
		for n := range 50 {
			damaged := bytes.Clone(sound)
			at, length := random.IntN(len(damaged)), 1+random.IntN(40)
			end := min(at+length, len(damaged))
			what := []string{"a bit", "a byte", "bytes lost", "bytes more", "bytes repeated", "zeros", "an end"}[n%7]
			switch what {
			case "a bit":
				damaged[at] ^= 1 << random.IntN(8)
			case "a byte":
				damaged[at] += byte(1 + random.IntN(255))
			case "bytes lost":
				damaged = append(damaged[:at], damaged[end:]...)
			case "bytes more":
				damaged = append(damaged[:at], append([]byte("7,12345\n"), damaged[at:]...)...)
			case "bytes repeated":
				damaged = append(damaged[:end], append(bytes.Clone(damaged[at:end]), damaged[end:]...)...)
			case "zeros":
				clear(damaged[at:end])
			case "an end":
				damaged = damaged[:at]
			}
			if bytes.Equal(damaged, sound) {
				t.Fatal("nothing was damaged")
			}
			if err := os.WriteFile(path, damaged, 0o666); err != nil {
				t.Fatal(err)
			}
			var errs strings.Builder
			p := &program{out: io.Discard, err: &errs, environment: func(string) string { return "" }}
			j, err := p.openPartial(path, h, true)
			if err != nil {
				continue // refused as a whole
			}
			kept := 0
			keep := func(line []byte) error {
				if kept >= len(rows) || !bytes.Equal(line, rows[kept]) {
					t.Fatalf("%s at %d: row %d is %q", what, at, kept, line)
				}
				kept++
				return nil
			}
			if err := j.each(keep); err != nil {
				t.Fatal(err)
			}
			if j.in > 0 {
				j.mark("") // the rows of a block that was short
			}
			kept = 0
			if err := j.each(keep); err != nil || uint64(kept) != j.rows {
				t.Fatalf("%s at %d: %d of %d rows, %v", what, at, kept, j.rows, err)
			}
			j.file.Close()
			if cutAtMark := bytes.HasPrefix(sound, damaged) && damaged[len(damaged)-1] == '\n'; !cutAtMark && !strings.Contains(errs.String(), "computed anew") {
				t.Errorf("%s at %d of %d: nothing is said, %d rows are kept", what, at, len(sound), kept)
			}
		}
	}
}
