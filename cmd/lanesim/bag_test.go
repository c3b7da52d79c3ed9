package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"
)

// A run that is interrupted keeps its cells, and the next goes on from them to the
// same result.
func TestBagGoesOnFromWhatItKept(t *testing.T) {
	folder := t.TempDir()
	example, err := filepath.Abs("../../examples/bag-three-of-five.yaml")
	if err != nil {
		t.Fatal(err)
	}
	run := func(ctx context.Context, arguments ...string) int {
		var out, errs bytes.Buffer
		p := &program{in: bytes.NewReader(nil), out: &out, err: &errs, environment: func(string) string { return "" }}
		return p.run(ctx, append([]string{"bag", example, "--shots", "5", "--farthest", "1"}, arguments...))
	}
	whole, resumed := filepath.Join(folder, "whole.json"), filepath.Join(folder, "resumed.json")
	if code := run(context.Background(), "-o", whole); code != 0 {
		t.Fatalf("exit code %d", code)
	}
	// An interruption after some cells leaves the file that a run keeps.
	ctx, stop := context.WithCancel(context.Background())
	go func() {
		for {
			if data, _ := os.ReadFile(resumed + partialEnding); bytes.Count(data, []byte("\n")) > 3 {
				stop()
				return
			}
		}
	}()
	if code := run(ctx, "-o", resumed); code != 130 {
		t.Fatalf("exit code %d after an interruption", code)
	}
	kept, err := os.ReadFile(resumed + partialEnding)
	if err != nil {
		t.Fatal(err)
	}
	// A line that was cut off is left out.
	if err := os.WriteFile(resumed+partialEnding, append(kept, []byte(`{"Index":9,"Ce`)...), 0o666); err != nil {
		t.Fatal(err)
	}
	if code := run(context.Background(), "-o", resumed, "--resume"); code != 0 {
		t.Fatalf("exit code %d on going on", code)
	}
	a, _ := os.ReadFile(whole)
	b, _ := os.ReadFile(resumed)
	if len(a) == 0 || !bytes.Equal(a, b) {
		t.Error("the resumed result differs from the undisturbed one")
	}
	if _, err := os.Stat(resumed + partialEnding); err == nil {
		t.Error("the kept file is still there")
	}
}
