package main

import (
	"bytes"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"lanesim/internal/files"
)

// process is a run of the program in its own process.
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

// endedAndResumed runs a command line repeatedly, ends it at random moments and resumes it
// until it is finished. Then it compares the written files with want; the command line
// names the first of them. LANESIM_KILL=1 repeats this until runs have ended early twenty
// times.
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
			if _, err := os.Stat(out + files.PartialEnding); err == nil {
				more = append(more, "--resume")
			}
			begin := time.Now()
			p := startedProcess(t, append(append([]string{}, arguments...), more...)...)
			// Each run gets more time than the one before, so that a busy machine finishes,
			// too.
			after := time.Duration((0.02 + random.Float64()*max(longest, 0.5*float64(1+run))) * float64(time.Second))
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
					early = false // it had finished
				}
			}
			if !early {
				break
			}
			ended++
			longest = 1.2 * max(longest, 0.5) // so that a slow machine makes progress, too
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

// The same for a sweep.
func TestSweepResumesAtAnyMoment(t *testing.T) {
	path := sweepFile(t, longSweep)
	whole := filepath.Join(t.TempDir(), "whole.csv")
	good(t, "", "sweep", path, "-q", "-o", whole)
	endedAndResumed(t, []string{"sweep", path, "-q", "-o"}, map[string][]byte{"out.csv": contents(t, whole)})
}
