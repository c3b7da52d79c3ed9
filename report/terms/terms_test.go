package terms

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

// sentences splits a text after each full stop that a space or the end follows.
func sentences(text string) []string { return strings.SplitAfter(text, ". ") }

func TestEveryTermIsExplainedInTwoSentences(t *testing.T) {
	if n := len(All()); n < 150 {
		t.Fatalf("only %d terms", n)
	}
	for _, term := range All() {
		if n := len(sentences(term.Text)); n != 2 || !strings.HasSuffix(term.Text, ".") {
			t.Errorf("%s: %d sentences: %s", term.Name, n, term.Text)
		}
		if n := utf8.RuneCountInString(term.Text); n > 420 {
			t.Errorf("%s: %d characters", term.Name, n)
		}
		if term.From == "" || term.Topic == "" || strings.TrimSpace(term.Name) != term.Name {
			t.Errorf("%+v", term)
		}
	}
}

func TestEveryWordBelongsToOneTerm(t *testing.T) {
	owner := map[string]string{}
	for _, term := range All() {
		for _, word := range append([]string{term.Name}, term.Also...) {
			if before, taken := owner[fold(word)]; taken {
				t.Errorf("%q belongs to %s and to %s", word, before, term.Name)
			}
			owner[fold(word)] = term.Name
			if found, ok := Find(word); !ok || found.Name != term.Name {
				t.Errorf("%q finds %q, %v", word, found.Name, ok)
			}
		}
	}
}

func TestKeysAndHeadingsAreTakenApart(t *testing.T) {
	for _, c := range []struct {
		key   string
		terms []string
		rest  []string
	}{
		{"hook_start_speed_mph", []string{"hook start", "speed"}, nil},
		{"PAP", []string{"PAP"}, nil},
		{"rev rate at pins, rpm", []string{"rev rate", "pins"}, nil},
		{"at_pins_boards_sd", []string{"pins", "board", "deviation over phases"}, nil},
		{"entry_angle_deg", []string{"entry angle"}, nil},
		{"Pin-to-PAP", []string{"pin to PAP"}, nil},
		{"flare_oil_mm", []string{"flare in the oil"}, nil},
		{"nothing known, ft", nil, []string{"nothing", "known"}},
	} {
		found, rest := Explain(c.key)
		var names []string
		for _, f := range found {
			names = append(names, f.Name)
		}
		if !slices.Equal(names, c.terms) || !slices.Equal(rest, c.rest) {
			t.Errorf("%s: %q and %q", c.key, names, rest)
		}
	}
}

func TestMarkKeepsTheText(t *testing.T) {
	for text, want := range map[string][]string{
		"hook start, ft":                {"hook start"},
		"rev rate at pins, rpm":         {"rev rate", "pins"},
		"Breakpoint, board":             {"breakpoint", "board"},
		"± friction read":               {"uncertainty", "friction read"},
		"what nobody has a word for, µ": nil,
		"":                              nil,
	} {
		var got []string
		whole := ""
		for _, p := range Mark(text) {
			whole += p.Text
			if p.Term.Name != "" {
				got = append(got, p.Term.Name)
			}
		}
		if whole != text {
			t.Errorf("%q became %q", text, whole)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%q has %q, want %q", text, got, want)
		}
	}
}
