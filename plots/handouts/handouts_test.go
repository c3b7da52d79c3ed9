package handouts

import (
	"bytes"
	"context"
	"slices"
	"strings"
	"testing"

	"lanesim/plots"
	"lanesim/report/handout"
	"lanesim/report/layouts"
	"lanesim/report/studied"
	"lanesim/report/thrown"
	"lanesim/scenario"
	"lanesim/scenario/runs"
	"lanesim/studies"
	"lanesim/studies/spread"
)

const twoBalls = `title: Two balls
balls:
  - {name: Dull, roughness: 40 uin, layout: {drilling_angle: 60 deg, pin_to_pap: 4.5 in, val_angle: 40 deg}}
  - {name: Shiny, roughness: 8 uin, layout: {drilling_angle: 60 deg, pin_to_pap: 4.5 in, val_angle: 40 deg}}
bowler: {name: Ann, speed: 17 mph, rev_rate: 300 rpm, axis_rotation: 50 deg, axis_tilt: 12 deg, laydown: 24, angle: 2.4 deg}
lane: {name: Crowned, oil: house}
settings: {tolerance: 1e-4}
`

func read(t *testing.T) *scenario.Scenario {
	t.Helper()
	s, err := scenario.Read("two.yaml", []byte(twoBalls), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// checkPage checks that a handout has what a reader needs: its title, an answer that names
// the balls, pictures with captions, what was assumed, the cautions, and the inputs.
func checkPage(t *testing.T, p handout.Page, err error, cautions ...string) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	if p.Kind == "" || p.Title != "Two balls" {
		t.Errorf("a %q of the title %q", p.Kind, p.Title)
	}
	for _, name := range []string{"Dull", "Shiny"} {
		if !strings.Contains(strings.Join(p.Answer, " "), name) {
			t.Errorf("the answer does not name %s: %q", name, p.Answer)
		}
	}
	if len(p.Pictures) == 0 {
		t.Error("no pictures")
	}
	for _, one := range p.Pictures {
		if !strings.HasPrefix(string(one.Wide), "<svg ") || one.Caption == "" || one.Title == "" {
			t.Errorf("a picture of %q with the caption %q", one.Title, one.Caption)
		}
	}
	if !slices.ContainsFunc(p.Assumed, func(s string) bool { return strings.Contains(s, "assumed") }) {
		t.Errorf("assumed values are %q", p.Assumed)
	}
	for _, want := range cautions {
		if !slices.Contains(p.Cautions, want) {
			t.Errorf("no caution %q among %q", want, p.Cautions)
		}
	}
	var headings []string
	for _, in := range p.Inputs {
		headings = append(headings, in.Heading)
	}
	for _, want := range []string{"Bowler: Ann", "Ball: Dull", "Ball: Shiny", "Lane: Crowned"} {
		if !slices.ContainsFunc(headings, func(s string) bool { return strings.HasPrefix(s, want) }) {
			t.Errorf("no inputs %q among %q", want, headings)
		}
	}
	var page bytes.Buffer
	if err := p.Write(&page); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"<h1>Two balls</h1>", "The answer", "<h2>Pictures</h2>", "<h2>Assumed values</h2>"} {
		if !strings.Contains(page.String(), want) {
			t.Errorf("no %q on the page", want)
		}
	}
}

func TestShotsAreHandedOnInMotion(t *testing.T) {
	s := read(t)
	s.Warnings = append(s.Warnings, "a caution")
	shots, err := runs.ThrowAll(context.Background(), s, true, layouts.TrackSpacing, studies.Work{}, func(string) {})
	if err != nil {
		t.Fatal(err)
	}
	p, err := Shots(s, shots, thrown.ShotColumns())
	checkPage(t, p, err, "a caution")
	if p.Playback == nil || len(p.Playback.Balls) != 2 || p.Playback.Caption == "" || p.Playback.OnWide == (handout.Stage{}) || p.Playback.OnNarrow == p.Playback.OnWide {
		t.Fatalf("playback: %+v", p.Playback)
	}
	for i, b := range p.Playback.Balls {
		if b.Name != s.Balls[i].Name || len(b.Path) < 10 || b.Track == nil || b.Color == "" {
			t.Errorf("%s rolls with %d states", b.Name, len(b.Path))
		}
	}
}

func TestLayoutsAreHandedOnWithTheirCautions(t *testing.T) {
	s := read(t)
	balls, err := runs.Layouts{Warn: func(string) {}}.Run(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	p, err := Layouts(s, balls)
	checkPage(t, p, err, layouts.LayoutCautions()...)
}

func TestScatterIsHandedOnWithWhatItLeavesOpen(t *testing.T) {
	s := read(t)
	players, assumed, err := runs.Players(context.Background(), s, "", studies.Work{})
	if err != nil {
		t.Fatal(err)
	}
	w := studied.Spread{Title: s.Heading(), Warnings: assumed, Players: runs.Names(players)}
	w.Study = spread.Study{Pairs: runs.SpreadPairs(players), Shots: 8, Settings: s.Settings, Setups: runs.Setups(players)}
	if w.Result, err = w.Study.Run(context.Background()); err != nil {
		t.Fatal(err)
	}
	if err := runs.ThrowSpreadPaths(&w); err != nil {
		t.Fatal(err)
	}
	p, err := Spread(&w, players, s)
	checkPage(t, p, err, assumed...)
	if len(assumed) == 0 || !slices.Contains(p.Sure, studied.ChanceOnly) {
		t.Errorf("of %d assumed levels; how sure: %q", len(assumed), p.Sure)
	}
}

// Pictures that would make a handout hard to send are left out, and it says so.
func TestManyPicturesAreLeftOut(t *testing.T) {
	s := read(t)
	shots, err := runs.ThrowAll(context.Background(), s, true, layouts.TrackSpacing, studies.Work{}, func(string) {})
	if err != nil {
		t.Fatal(err)
	}
	list, err := handedPictures(func(size plots.Size) ([]*plots.Drawing, error) {
		d, err := plots.Combined(ShotsFigure(s, shots, 0, size))
		return slices.Repeat([]*plots.Drawing{d}, 20), err
	})
	if err != nil {
		t.Fatal(err)
	}
	size := 0
	for _, one := range list {
		size += len(one.Wide) + len(one.Narrow)
	}
	if len(list) == 20 || size > mostOnce || !strings.Contains(list[len(list)-1].Caption, "more of these pictures are left out") {
		t.Errorf("%d pictures of %d bytes, the last %q", len(list), size, list[len(list)-1].Caption)
	}
}
