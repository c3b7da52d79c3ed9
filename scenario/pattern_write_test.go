package scenario

import (
	"errors"
	"strings"
	"testing"

	"lanesim/patterns"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// A pattern that is written reads back bit for bit, whatever its texts contain.
func TestPatternsReadBackExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.StringMatching(`[ -~äöüß→]{0,40}`), rapid.SampledFrom([]string{
			"null", "~", "on", "12", "{a: b}", "- list", "# no comment", "key: value", "*alias", "&anchor", "!tag", "'", `"`, "---", "a #b"}))
		p := Pattern{Name: strings.TrimSpace(text.Draw(t, "name")), About: strings.TrimSpace(text.Draw(t, "about"))}
		c := patterns.Crown{
			Length: rapid.Float64Range(1, 30).Draw(t, "length"), Volume: rapid.Float64Range(1e-6, 1e-4).Draw(t, "volume"),
			Ratio: rapid.Float64Range(0.5, 20).Draw(t, "ratio"), Plateau: rapid.Float64Range(6, 14).Draw(t, "plateau"),
			Shoulder: rapid.Float64Range(1, 5).Draw(t, "shoulder"), FrontToBack: rapid.Float64Range(0.5, 20).Draw(t, "front to back"),
			FallOff: rapid.Float64Range(0.2, 5).Draw(t, "fall off"), Sets: patterns.DefaultBoardSets(),
			Name: p.Name, About: p.About,
		}
		if rapid.Bool().Draw(t, "own boards") {
			c.Sets.Inside = patterns.BoardRange{From: 17, To: 23}
		}
		film, err := c.Build()
		if err != nil {
			t.Fatal(err)
		}
		p.Kind, p.Crown, p.Oil = kindCrown, &c, film
		if rapid.Bool().Draw(t, "grid") {
			grid, err := patterns.GridOf(film)
			if err != nil {
				t.Fatal(err)
			}
			grid.Name, grid.About = p.Name, p.About
			made, err := GridPattern(grid)
			if err != nil {
				t.Fatal(err)
			}
			p = *made
		}
		written := p.YAML()
		again, err := ReadPattern(".yaml", written) // a file name that is only an ending
		if err != nil {
			t.Fatalf("%v\nin\n%s", err, written)
		}
		if diff := cmp.Diff(&p, again, wholeOil); diff != "" {
			t.Fatalf("differs (-want +got):\n%s\nin\n%.600s", diff, written)
		}
	})
}

// Errors of a setting are placed in it; missing settings are placed in the whole.
func TestBuildPatternPlacesProblems(t *testing.T) {
	_, err := BuildPattern("flags", []Setting{
		{"--kind", "kind", "crown"}, {"--length", "length", "42 ftt"}, {"--ratio", "ratio", "-3"}, {"--name", "name", "a: b"}, {"--inside", "boards.inside", "[22, 18]"},
	})
	var problems Errors
	if !errors.As(err, &problems) {
		t.Fatal(err)
	}
	got := map[string]string{}
	for _, p := range problems {
		got[p.File] += p.Path + ": " + p.Message + p.Hint
	}
	for file, want := range map[string]string{"--length": `did you mean "ft"`, "--ratio": "ratio: -3 is not above 0", "flags": "volume: is missing", "--inside": "from low to high"} {
		if !strings.Contains(got[file], want) {
			t.Errorf("%s: %q lacks %q", file, got[file], want)
		}
		delete(got, file)
	}
	if len(got) > 0 {
		t.Errorf("more: %q", got)
	}
	p, err := BuildPattern("flags", []Setting{{"a", "kind", "crown"}, {"b", "length", "42ft"}, {"c", "volume", "27mL"}, {"d", "ratio", "3"}, {"e", "name", "a: b"}})
	if err != nil || p.Name != "a: b" {
		t.Errorf("%+v, %v", p, err)
	}
}

func TestParseBoards(t *testing.T) {
	for text, want := range map[string]patterns.BoardRange{"18-22": {From: 18, To: 22}, " 3 – 7 ": {From: 3, To: 7}, "20": {From: 20, To: 20}} {
		if got, err := ParseBoards(text); err != nil || got != want {
			t.Errorf("%q is %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "-", "18-", "a-b", "22-18", "0-3", "3-40", "3.5-4", "1-2-3", "1e9"} {
		if got, err := ParseBoards(text); err == nil {
			t.Errorf("%q is %v", text, got)
		}
	}
}
