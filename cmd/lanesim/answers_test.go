package main

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lanesim/report"
)

var update = flag.Bool("update", false, "write the answers in the examples and "+bytesFile+" anew")

// answerMark begins the answer in the comment of an example, which extends to the end of
// the paragraph.
const answerMark = "# Answer: "

// Every example of a comparison gives in its comment the answer for its first pair: the
// headline and how certain it is.
func TestExamplesOfCompareStateTheirAnswers(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob(filepath.Join(examples, "compare-*.yaml"))
	if err != nil || len(files) < 3 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		pair := comparedJSON(t, file).Pairs[0]
		// Sentences end with a full stop and a space; numbers contain no space.
		sentences := strings.SplitAfter(pair.Explanation, ". ")
		want := answerMark + strings.TrimSpace(sentences[0]) + " " + sentences[len(sentences)-1]
		lines := report.Wrap(want, "", "", 78)
		for i := range lines[1:] {
			lines[i+1] = "# " + lines[i+1]
		}
		block := strings.Join(lines, "\n") + "\n"
		data := contents(t, file)
		before, after, found := strings.Cut(string(data), answerMark)
		if !found {
			t.Errorf("%s states no answer", file)
			continue
		}
		_, rest, _ := strings.Cut(after, "\n#\n")
		if text := before + block + "#\n" + rest; text != string(data) {
			if !*update {
				t.Errorf("%s: the answer is\n%s", file, block)
			} else if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
				t.Error(err)
			}
		}
	}
}
