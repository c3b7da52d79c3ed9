//go:build unix

package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"lanesim/internal/files"
)

// signalled starts the program in a folder, sends it a signal after a time, and returns its
// exit code and its messages. If the program had not yet started to listen, it repeats with
// more time.
func signalled(t *testing.T, folder string, s os.Signal, after time.Duration, arguments ...string) (code int, said string) {
	t.Helper()
	// A child process ignores the signals that its parent ignores, as under nohup; for a
	// signal that the parent is notified of, it has the usual effect.
	heard := make(chan os.Signal, 1)
	signal.Notify(heard, s)
	defer signal.Stop(heard)
	for ; ; after *= 2 {
		c := exec.Command("lanesim", arguments...)
		c.Dir = folder
		c.Env = append(os.Environ(), "GOMAXPROCS=1") // other tests run at the same time
		var messages bytes.Buffer
		c.Stderr = &messages
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(after)
		if err := c.Process.Signal(s); err != nil {
			t.Fatal(err)
		}
		exit := (*exec.ExitError)(nil)
		if err := c.Wait(); err != nil && !errors.As(err, &exit) {
			t.Fatal(err)
		}
		if code, said = c.ProcessState.ExitCode(), messages.String(); code >= 0 || after > time.Minute {
			return code, said
		}
	}
}

// Any signal that ends a study leaves an older complete file as it is, keeps the finished
// part next to it, and leaves no other files.
func TestSignalsKeepWhatIsFinished(t *testing.T) {
	folder := t.TempDir()
	file, err := filepath.Abs(filepath.Join(examples, "spread-which-miss.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	const old = "an older result"
	for i, c := range []struct {
		signal syscall.Signal
		code   int
		study  []string
	}{
		{syscall.SIGINT, 130, []string{"spread", file, "--shots", "100000000"}},
		{syscall.SIGTERM, 143, []string{"wear", file, "--sessions", "100000000", "--shots", "2"}},
		{syscall.SIGHUP, 129, []string{"spread", file, "--shots", "100000000"}},
	} {
		write(t, filepath.Join(folder, "a.json"), old)
		arguments := append(c.study, "-o", "a.json", "-o", "a.svg")
		said := ""
		for after := 300 * time.Millisecond; !strings.Contains(said, "what is finished is in"); after *= 2 {
			code := 0
			if code, said = signalled(t, folder, c.signal, after, arguments...); code != c.code {
				t.Fatalf("%v: exit code %d, want %d\n%s", c.signal, code, c.code, said)
			}
			if after > time.Minute {
				t.Fatalf("%v: nothing was finished after %v\n%s", c.signal, after, said)
			}
		}
		if text := contents(t, filepath.Join(folder, "a.json")); string(text) != old {
			t.Errorf("%v: the old file is now %.40q", c.signal, text)
		}
		name := files.Numbered("a.partial.json", i) // the third time the second name is taken, too
		if !strings.Contains(said, name) {
			t.Errorf("%v: %s is not named:\n%s", c.signal, name, said)
		}
		var made struct{ Warnings []string }
		if err := json.Unmarshal(contents(t, filepath.Join(folder, name)), &made); err != nil || !strings.Contains(strings.Join(made.Warnings, " "), "interrupted") {
			t.Errorf("%v: %q, %v", c.signal, made.Warnings, err)
		}
		entries, err := os.ReadDir(folder)
		if err != nil || len(entries) != 3+2*i {
			t.Errorf("%v: left %v, %v", c.signal, entries, err)
		}
	}
}

// The sets of assumed values that a bag has finished are reported next to an older file,
// and the cells are kept for --resume.
func TestSignalsKeepTheSetsOfABag(t *testing.T) {
	folder := t.TempDir()
	file := filepath.Join(folder, "bag.yaml")
	text := "lane: {oil: flat}\nballs: [{name: A, rg: 2.5 in, film_memory: off}, {name: B, rg: 2.6 in, film_memory: off}]\nbowler: {like: medium revs, aim: pocket, repeatability: league}\n"
	write(t, file, text)
	for after := 300 * time.Millisecond; ; after *= 2 {
		os.Remove(filepath.Join(folder, "a.partial.json"))
		code, said := signalled(t, folder, syscall.SIGTERM, after,
			"bag", file, "--size", "1", "--shots", "4", "--farthest", "1", "--resume", "--assumed", "100000", "-o", "a.json")
		if code != exitTerminated || after > time.Minute {
			t.Fatalf("exit code %d\n%s", code, said)
		}
		if strings.Contains(said, "sets of assumed values are finished") && !strings.Contains(said, "interrupted: 0 of") {
			break
		}
	}
	var made struct {
		Warnings    []string
		AssumedSets struct{ Of int } `json:"assumed_sets"`
	}
	if err := json.Unmarshal(contents(t, filepath.Join(folder, "a.partial.json")), &made); err != nil || made.AssumedSets.Of == 0 ||
		!strings.Contains(strings.Join(made.Warnings, " "), "interrupted") {
		t.Errorf("%+v, %v", made, err)
	}
	if _, err := os.Stat(filepath.Join(folder, "a.json.partial")); err != nil {
		t.Error("the cells are not kept: ", err)
	}
}

// A program started to outlive its terminal does so.
func TestIgnoredSignalsStayIgnored(t *testing.T) {
	file, err := filepath.Abs(filepath.Join(examples, "spread-which-miss.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	for after := 300 * time.Millisecond; ; after *= 2 {
		c := exec.Command("sh", "-c", `trap "" HUP; exec lanesim spread "$0" --shots 100000000`, file)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(after)
		c.Process.Signal(syscall.SIGHUP)
		time.Sleep(after)
		c.Process.Signal(syscall.SIGTERM)
		c.Wait()
		switch code := c.ProcessState.ExitCode(); {
		case code == exitTerminated:
			return
		case code >= 0 || after > time.Minute:
			t.Fatalf("exit code %d", code)
		}
	}
}

// An interrupt ends the reading of a file, whichever argument names it.
func TestReadingIsInterrupted(t *testing.T) {
	folder := t.TempDir()
	for _, name := range []string{"fifo.yaml", "fifo.csv", "part.rows"} {
		if err := syscall.Mkfifo(filepath.Join(folder, name), 0o666); err != nil {
			t.Skip(err)
		}
	}
	for name, text := range map[string]string{
		"names.yaml": "lane: {oil: fifo.csv}\nball: {rg: 2.5 in, differential: 0 in}\nbowler: {like: medium revs, angle: 2 deg}\n",
		"sweep.yaml": "scenario: fifo.yaml\nvary: {bowler.speed: [17 mph, 18 mph]}\ncolumns: [entry_board]\n",
		"plain.yaml": "lane: {oil: flat}\nball: {rg: 2.5 in, differential: 0 in}\nbowler: {like: medium revs, angle: 2 deg}\n",
	} {
		write(t, filepath.Join(folder, name), text)
	}
	for _, arguments := range []string{
		"throw fifo.yaml", "throw names.yaml", "sweep sweep.yaml", "fit plain.yaml fifo.csv", "pattern fifo.csv", "bowler fifo.yaml",
		"pattern convert fifo.csv", "wear names.yaml",
	} {
		code, said := signalled(t, folder, syscall.SIGTERM, 300*time.Millisecond, strings.Fields(arguments)...)
		if code != exitTerminated || !strings.HasSuffix(said, "lanesim: interrupted\n") {
			t.Errorf("%s: exit code %d, %s", arguments, code, said)
		}
	}
	refused(t, "is not a regular file", "merge", folder)
}

// If the reader of a pipe closes it, the program leaves no files behind.
func TestBrokenPipeLeavesNothing(t *testing.T) {
	path, folder := sweepFile(t, longSweep), t.TempDir()
	c := exec.Command("lanesim", "sweep", path, "-q", "--csv", "-o", "rows.csv")
	c.Dir = folder
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	if _, err := io.ReadFull(out, make([]byte, 10)); err != nil {
		t.Fatal(err)
	}
	out.Close()
	c.Wait()
	if code := c.ProcessState.ExitCode(); code != exitBrokenPipe {
		t.Errorf("exit code %d", code)
	}
	entries, err := os.ReadDir(folder)
	if err != nil || len(entries) != 1 || entries[0].Name() != "rows.csv"+files.PartialEnding {
		t.Errorf("left %v, %v", entries, err)
	}
}
