package studied

import (
	"strings"
	"testing"

	"lanesim/studies/aim"
)

// Lines that did not follow the sets' values are reported to people and programs.
func TestTriedTellsLostLines(t *testing.T) {
	tried := Tried{Asked: 2, Of: 2, Conclusions: []Conclusion{{Claim: "a lasts longer than b", Holds: 2}}, Lines: &aim.LinesFollowed{Changed: 3, Lost: 1}}
	if words := tried.Words().String(); !strings.Contains(words, "3 ended and another took their place; 1 were lost") {
		t.Error(words)
	}
	found := false
	for _, f := range tried.object() {
		found = found || f.Key == "lines"
	}
	if !found {
		t.Error("no lines in the JSON")
	}
}
