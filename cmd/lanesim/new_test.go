package main

import (
	"strings"
	"testing"

	starting "lanesim/examples"
)

// new suggests the command with which the gallery answers the question.
func TestNewNamesTheCommandOfTheGallery(t *testing.T) {
	commands := map[string]string{}
	for _, e := range starting.Starts() {
		commands[e.Name] = e.Command(e.Name, nil)
	}
	seen := 0
	for _, s := range gallery {
		want, _, _ := strings.Cut(s.command, " ")
		if s.file == "" || commands[s.file] == "" {
			continue
		}
		seen++
		if got, _, _ := strings.Cut(commands[s.file], " "); got != want {
			t.Errorf("%s: %q, but the gallery runs %q", s.file, commands[s.file], s.command)
		}
		delete(commands, s.file)
	}
	if len(commands) > 0 || seen < 30 {
		t.Errorf("%d in the gallery, not there: %v", seen, commands)
	}
}

// new also writes every file that an example needs.
func TestNewWritesWhatAnExampleNeeds(t *testing.T) {
	for name, want := range map[string]string{
		"spread-own-misses.yaml": "own-pattern.yaml", "sweep-any-release.yaml": "first-shot.yaml", "fit-friction.yaml": "friction-tracks.csv",
	} {
		e, err := findStart(name)
		if err != nil {
			t.Fatal(err)
		}
		with := starting.With(e)
		if len(with) != 2 || with[0].Name != name || with[1].Name != want {
			t.Errorf("%s comes with %d files, the last of which is %s", name, len(with), with[len(with)-1].Name)
		}
	}
}
