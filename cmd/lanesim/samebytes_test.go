package main

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// bytesFile has the hashes of outputs on amd64, which are the same in node.
const bytesFile = "testdata/bytes.golden"

const renewBits = "after a change of the model: go test ./physics ./cmd/lanesim -run SameB -update"

// studyRuns are one question for every study, with exact output.
var studyRuns = []string{
	"aim aim-house.yaml --laydown 25:26 --shots 40 --json",
	"carry carry-light-and-flush.yaml --racks 30 --map --json",
	"compare compare-flat.yaml --assumed 2 --json",
	"spread spread-house-and-flat.yaml --shots 60 --json",
	"wear wear-two-layouts.yaml --shots 6 --json",
	"fit fit-friction.yaml friction-tracks.csv --fit film,dry --bootstrap 4 --json",
	"bag compare-one-number.yaml --level league --size 1 --shots 10 --farthest 1 --json",
	"sweep sweep-speed-revs.yaml --json",
	"bowler measured-bowler.yaml --json",
	"layout layout-two-forms.yaml --json",
	"pattern house --json",
	"validate --json",
}

// fused reports whether the compiler fuses products and sums, as it does for arm64 and
// GOAMD64=v3.
//
//go:noinline
func fused(x, y, z float64) bool { return x*y+z != 0 }

// The program prints the same bytes on every machine: for one run of each study, and for
// the shots of all examples. .ci/run also runs this test in node.
//
// After a change of the model it is renewed as renewBits says.
func TestSameBytesEverywhere(t *testing.T) {
	if fused(1+0x1p-30, 1-0x1p-30, -1) {
		t.Skip("the compiler fuses products and sums: last digits differ; physics has a test of how much")
	}
	commands := studyRuns
	for _, file := range exampleFiles(t) {
		commands = append(commands, "throw "+filepath.Base(file)+" --json")
	}
	golden, err := os.ReadFile(bytesFile)
	if err != nil && !*update {
		t.Fatal(err)
	}
	var found bytes.Buffer
	for _, command := range commands {
		words := strings.Fields(command)
		for i, w := range words {
			if strings.HasSuffix(w, ".yaml") || strings.HasSuffix(w, ".csv") {
				words[i] = filepath.Join(examples, w)
			}
		}
		output := ""
		if words[0] == "throw" {
			output = thrownOnce(t, words[1]).json
		} else {
			output = goodOnce(t, append(words, "-q")...)
		}
		line := fmt.Sprintf("%x %s\n", sha256.Sum256([]byte(output)), command)
		found.WriteString(line)
		if !*update && !bytes.Contains(golden, []byte(line)) {
			t.Errorf("lanesim %s prints other bytes than those of %s (%d of them)", command, bytesFile, len(output))
		}
	}
	if t.Failed() {
		t.Log(renewBits)
	}
	if *update {
		write(t, bytesFile, found.Bytes())
	} else if bytes.Count(golden, []byte("\n")) != len(commands) {
		t.Errorf("%s is not about these %d commands", bytesFile, len(commands))
	}
}
