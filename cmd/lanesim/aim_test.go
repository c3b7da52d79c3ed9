package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const aimScenario = `
lane: {oil: house}
balls:
  - {name: A, weight: 15 lb, rg: 2.5 in, differential: 0.048 in, roughness: 14 uin, layout: {drilling_angle: 60 deg, pin_to_pap: 4 in, val_angle: 40 deg}}
  - {name: B, weight: 15 lb, rg: 2.5 in, differential: 0 in, roughness: 18 uin, film_memory: off}
bowler: {name: Somebody, speed: 18 mph, rev_rate: 325 rpm, axis_rotation: 60 deg, axis_tilt: 13 deg, laydown: 20, aim: pocket, repeatability: tournament}
`

var shortAim = []string{"aim", "-", "--laydown", "23:25", "--shots", "60"}

// endingWriter cancels a context when a certain text is written.
type endingWriter struct {
	bytes.Buffer
	at  string
	end context.CancelFunc
}

func (w *endingWriter) Write(b []byte) (int, error) {
	if strings.Contains(string(b), w.at) {
		w.end()
	}
	return w.Buffer.Write(b)
}

// An interrupt keeps the lines of the balls that are finished.
func TestAnInterruptKeepsTheLinesThatAreFound(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	var out bytes.Buffer
	path := filepath.Join(t.TempDir(), "aim.json")
	errs := &endingWriter{at: "A: ", end: cancel} // printed by --verbose when the first ball is finished
	p := &program{in: strings.NewReader(aimScenario), out: &out, err: errs, environment: os.Getenv}
	code := p.run(ctx, append(shortAim, "--json", "-v", "-o", path))
	if code != exitInterrupted || !strings.Contains(errs.String(), "interrupted: 1 of 2 are finished") {
		t.Fatalf("exit code %d, %s", code, errs.String())
	}
	var result struct{ Aims []struct{ Ball string } }
	if err := json.Unmarshal(out.Bytes(), &result); err != nil || len(result.Aims) != 1 || result.Aims[0].Ball != "A" {
		t.Errorf("%+v, %v", result, err)
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("an unfinished result has the name of a finished one")
	}
	if written, err := os.ReadFile(strings.TrimSuffix(path, ".json") + ".partial.json"); err != nil || !bytes.Equal(written, out.Bytes()) {
		t.Errorf("%d bytes written, %d printed, %v", len(written), out.Len(), err)
	}
	// Before the first line is found there is nothing to keep.
	cancelled, stop := context.WithCancel(context.Background())
	stop()
	out.Reset()
	p = &program{in: strings.NewReader(aimScenario), out: &out, err: &bytes.Buffer{}, environment: os.Getenv}
	if code := p.run(cancelled, shortAim); code != exitInterrupted || out.Len() > 0 {
		t.Errorf("exit code %d, %q", code, out.String())
	}
}
