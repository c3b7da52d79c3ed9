package main

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"testing"

	"lanesim/report/studied"
	"lanesim/scenario/runs"
)

// Equal inputs give equal bytes, in every format.
func TestResultsAreRepeatable(t *testing.T) {
	file := filepath.Join(examples, "low-flare.yaml")
	for _, arguments := range [][]string{{"--json"}, {"--csv"}, nil} {
		arguments = append([]string{"throw", file}, arguments...)
		first, second := good(t, "", arguments...), good(t, "", arguments...)
		if first != second {
			t.Errorf("lanesim %s prints something else the second time", strings.Join(arguments, " "))
		}
	}
	folders := [2]string{t.TempDir(), t.TempDir()}
	endings := resultEndings()
	for _, folder := range folders {
		arguments := []string{"throw", file}
		for _, e := range endings {
			arguments = append(arguments, "-o", filepath.Join(folder, "shot"+e))
		}
		good(t, "", arguments...)
	}
	for _, e := range endings {
		var content [2][]byte
		for i, folder := range folders {
			var err error
			if content[i], err = os.ReadFile(filepath.Join(folder, "shot"+e)); err != nil {
				t.Fatal(err)
			}
		}
		if len(content[0]) == 0 || !bytes.Equal(content[0], content[1]) {
			t.Errorf("%s: %d and %d bytes that differ", e, len(content[0]), len(content[1]))
		}
	}
}

func TestFilesHoldWhatIsPrinted(t *testing.T) {
	file := filepath.Join(examples, "first-shot.yaml")
	for _, format := range []string{"json", "csv"} {
		path := filepath.Join(t.TempDir(), "shot."+strings.ToUpper(format))
		printed := good(t, "", "throw", file, "--"+format, "-o", path)
		written, err := os.ReadFile(path)
		if err != nil || string(written) != printed {
			t.Errorf("%s: %d bytes written, %d printed, %v", format, len(written), len(printed), err)
		}
	}
}

// interrupted runs a command line whose context is cancelled while it reads its input.
func interrupted(t *testing.T, arguments ...string) (code int, output, problems string) {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	reader, writer := io.Pipe()
	defer writer.Close()
	var out, errs bytes.Buffer
	p := &program{in: waitingReader{reader, cancel}, out: &out, err: &errs, environment: os.Getenv}
	code = p.run(ctx, arguments)
	return code, out.String(), errs.String()
}

func TestStudiesStopWhenInterrupted(t *testing.T) {
	for _, command := range []string{"carry", "compare", "spread"} {
		if code, output, _ := interrupted(t, command, "-"); code != exitInterrupted || output != "" {
			t.Errorf("%s: exit code %d, %q printed", command, code, output)
		}
	}
}

// waitingReader signals that it is being read, and then waits.
type waitingReader struct {
	io.Reader
	read func()
}

func (r waitingReader) Read(b []byte) (int, error) {
	r.read()
	return r.Reader.Read(b)
}

func TestAnInterruptEndsTheProgram(t *testing.T) {
	folder := t.TempDir()
	code, output, problems := interrupted(t, "throw", "-", "-o", filepath.Join(folder, "shot.json"))
	if code != exitInterrupted || output != "" || !strings.Contains(problems, "interrupted") {
		t.Errorf("exit code %d, %q, %q", code, output, problems)
	}
	if left, err := os.ReadDir(folder); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var out, errs bytes.Buffer
	p := &program{in: strings.NewReader(""), out: &out, err: &errs, environment: os.Getenv}
	if code := p.run(ctx, []string{"validate"}); code != exitInterrupted || out.Len() > 0 {
		t.Errorf("validate: exit code %d, %q", code, out.String())
	}
}

// An interrupt during the search for moves keeps the finished sessions.
func TestAnInterruptKeepsTheSessions(t *testing.T) {
	ctx, cancel := context.WithCancelCause(context.Background())
	defer cancel(nil)
	folder := t.TempDir()
	var out, errs bytes.Buffer
	p := &program{in: strings.NewReader(""), out: &out, err: &errs, environment: os.Getenv}
	s, err := p.readScenario(ctx, filepath.Join(examples, "wear-two-layouts.yaml"), scenarioFlags{})
	if err != nil {
		t.Fatal(err)
	}
	players, err := p.players(ctx, s, studyFlags{}, new([]string))
	if err != nil {
		t.Fatal(err)
	}
	// The finished part of the study remains when the context ends the search for moves.
	w := studied.Wear{Players: runs.Names(players)}
	w.Study.Lane, w.Study.Order, w.Study.Sessions, w.Study.Block, w.Study.Settings = s.Lanes[0], []int{0, 1}, 1, 1, s.Settings
	w.Study.Setups = runs.Setups(players)
	if w.Result, err = w.Study.Run(ctx); err != nil {
		t.Fatal(err)
	}
	cancel(endingSignal{os.Interrupt, exitInterrupted})
	if err := runs.FindMoves(ctx, &w, 1, p.progress("move")); err == nil || w.Result.Sessions != 1 {
		t.Errorf("%d sessions, %v", w.Result.Sessions, err)
	}
	if err := p.writeResults(context.Background(), outputFlags{paths: []string{filepath.Join(folder, "wear.json")}}, results{unfinished: true, json: w.WriteJSON, document: w.Document}); err != nil {
		t.Fatal(err)
	}
	if text := contents(t, filepath.Join(folder, "wear.partial.json")); len(text) == 0 {
		t.Error("nothing was kept")
	}
}

func TestColorFollowsFlagAndEnvironment(t *testing.T) {
	const escape = "\x1b["
	file := filepath.Join(examples, "first-shot.yaml")
	if got := good(t, "", "throw", file, "--color", "always"); !strings.Contains(got, escape) {
		t.Error("--color always has no color")
	}
	for _, choice := range []string{"never", "auto"} { // the test's output is not a terminal
		if got := good(t, "", "throw", file, "--color", choice); strings.Contains(got, escape) {
			t.Errorf("--color %s has color", choice)
		}
	}
	plain := good(t, "", "throw", file)
	colored := good(t, "", "throw", file, "--color", "always")
	for _, code := range []string{"\x1b[0m", "\x1b[1m", "\x1b[32m"} {
		colored = strings.ReplaceAll(colored, code, "")
	}
	if colored != plain {
		t.Error("color changes more than the color")
	}
}

// A file that is replaced keeps its permissions, and a link stays a link.
func TestReplacingAFileKeepsWhatItWas(t *testing.T) {
	folder := t.TempDir()
	real, link := filepath.Join(folder, "real.json"), filepath.Join(folder, "link.json")
	const mode = 0o600
	if err := os.WriteFile(real, []byte("old"), mode); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("real.json", link); err != nil {
		t.Skip(err)
	}
	good(t, "", "pattern", "house", "-o", link)
	content, err := os.ReadFile(real)
	if err != nil || !bytes.HasPrefix(content, []byte("{")) {
		t.Errorf("%.20s, %v", content, err)
	}
	info, err := os.Lstat(real)
	if err != nil || info.Mode() != mode {
		t.Errorf("mode %v, %v", info.Mode(), err)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is %v, %v", info.Mode(), err)
	}
}

func TestVersionTellsWhatIsKnown(t *testing.T) {
	info := &debug.BuildInfo{Settings: []debug.BuildSetting{
		{Key: "vcs.revision", Value: "abcdef"}, {Key: "vcs.time", Value: "2001-02-03T04:05:06Z"}, {Key: "vcs.modified", Value: "true"},
	}}
	info.Main.Version = "v1.2.3"
	text := versionText(info)
	for _, want := range []string{"lanesim v1.2.3\n", "revision abcdef, modified\n", "model 1\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
	if strings.Contains(text, "2001") {
		t.Errorf("there is a date in\n%s", text)
	}
	if text := versionText(nil); !strings.Contains(text, "lanesim (unknown)\n") {
		t.Errorf("without information:\n%s", text)
	}
}
