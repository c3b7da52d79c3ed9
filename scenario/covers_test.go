package scenario

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"lanesim/ball"

	"github.com/google/go-cmp/cmp"
)

func TestCoversAreRead(t *testing.T) {
	never := math.Inf(1)
	for text, want := range map[string]struct {
		cover  ball.Cover
		soakIn float64 // of the ball when it is drilled
	}{
		"{}":                                             {ball.Reactive, ball.Reactive.SoakIn},
		"{cover: reactive}":                              {ball.Reactive, ball.Reactive.SoakIn},
		"{cover: urethane}":                              {ball.Urethane, 60},
		"{cover: plastic}":                               {ball.Plastic, never},
		"{cover: {}}":                                    {ball.Cover{Dry: 0.20, Film: 0.022, SoakIn: ball.Reactive.SoakIn}, ball.Reactive.SoakIn},
		"{cover: {dry: 0.15}}":                           {ball.Cover{Dry: 0.15, Film: 0.022, SoakIn: ball.Reactive.SoakIn}, ball.Reactive.SoakIn},
		"{cover: {soak_in: never}}":                      {ball.Cover{Dry: 0.20, Film: 0.022, SoakIn: never}, never},
		"{cover: {dry: 0, film: 0}}":                     {ball.Cover{SoakIn: ball.Reactive.SoakIn}, ball.Reactive.SoakIn},
		"{cover: plastic, rg: 2.6 in}":                   {ball.Plastic, never},
		"{cover: {soak_in: 1/2 min}}":                    {ball.Cover{Dry: 0.20, Film: 0.022, SoakIn: 30}, 30},
		"{film_memory: {soak_in: 5 s}}":                  {ball.Reactive, 5},
		"{film_memory: {soak_in: never}}":                {ball.Reactive, never},
		"{cover: plastic, film_memory: {soak_in: 60 s}}": {ball.Plastic, 60},
		"{cover: plastic, film_memory: {pick_up: 0.1}}":  {ball.Plastic, never},
	} {
		s := readText(t, "ball: "+text)
		if diff := cmp.Diff(want.cover, s.Balls[0].Cover); diff != "" {
			t.Errorf("%s (-want +got):\n%s", text, diff)
		}
		list := deliveriesOf(t, s)
		if b := list[0].Prepared; b.Cover != want.cover || b.Memory.SoakIn != want.soakIn {
			t.Errorf("%s: the ball has cover %+v and a soak-in time of %g s, want %g s", text, b.Cover, b.Memory.SoakIn, want.soakIn)
		}
	}
}

func TestFinishesInWords(t *testing.T) {
	last := 0.0
	for _, word := range ball.FinishWords() {
		s := readText(t, "ball: {cover: plastic, finish: "+word+"}")
		want, ok := ball.RoughnessOfFinish(word)
		if got := s.Balls[0].Roughness; !ok || got != want || !(got > last) {
			t.Errorf("%s: Ra of %g m after %g m, want %g m", word, got, last, want)
		}
		last = want
		if i := slices.IndexFunc(s.Warnings, func(w string) bool { return strings.HasPrefix(w, "ball.finish: "+word+" is taken as an Ra of ") }); i < 0 || !strings.Contains(s.Warnings[i], "assumed") {
			t.Errorf("%s: no warning that its Ra is assumed: %q", word, s.Warnings)
		}
	}
}

// Which warnings covers cause, and which they do not.
func TestCoverWarnings(t *testing.T) {
	for _, c := range []struct {
		text string
		want []string // parts of the warnings about covers or soak-in times
	}{
		{"ball: {}", nil},
		{"ball: {cover: reactive}", nil},
		{"ball: {cover: {dry: 0.1, film: 0.02, soak_in: 20 s}}", nil},
		{"ball: {cover: plastic}", nil},
		{"ball: {cover: {film: 0.3}}", []string{"ball.cover: friction is higher on a full film (0.3) than dry (0.2)."}},
		{"ball: {cover: {soak_in: 20 s}, film_memory: {soak_in: 60 s}}", []string{"ball.film_memory.soak_in: 60 s is used, not the 20 s of ball.cover."}},
		{"ball: {cover: {soak_in: never}, film_memory: {soak_in: 60 s}}", []string{"60 s is used, not the never of ball.cover."}},
		{"ball: {cover: reactive, film_memory: {soak_in: never}}", []string{"never is used, not the " + soakInText(ball.Reactive.SoakIn) + " of ball.cover."}},
		{"ball: {cover: {soak_in: 60 s}, film_memory: {soak_in: 1 min}}", nil},
		{"ball: {cover: {soak_in: never}, film_memory: {soak_in: never}}", nil},
		{"ball: {cover: {dry: 0.1}, film_memory: {soak_in: 60 s}}", nil},
		{"ball: {film_memory: {soak_in: 60 s}}", nil},
		{"ball: {}\nlane: {friction: {law: constant, mu: 0.1}}", nil},
		{"ball: {cover: reactive}\nlane: {friction: {law: constant, mu: 0.1}}", []string{`ball.cover: has no effect on the friction of "dry", whose law is constant.`}},
		{"balls: [{}, {cover: {dry: 0.1}}]\nlanes: [{oil: dry}, {name: Two zones, friction: {law: zones, zones: [{mu: 0.1}]}}]",
			[]string{`balls[1].cover: has no effect on the friction of "Two zones", whose law is zones.`}},
	} {
		var got []string
		for _, w := range readText(t, c.text).Warnings {
			if strings.Contains(w, "cover") || strings.Contains(w, "soak_in") {
				got = append(got, w)
			}
		}
		if !slices.EqualFunc(got, c.want, strings.Contains) {
			t.Errorf("%s: warnings are %q, want %q", c.text, got, c.want)
		}
	}
}

// --set can change a part of a named cover and leaves the rest of it.
func TestCoverSetInPart(t *testing.T) {
	for _, c := range []struct {
		text, set string
		want      ball.Cover
	}{
		{"ball: {cover: plastic}", "ball.cover.dry=0.12", ball.Cover{Dry: 0.12, Film: 0.018, SoakIn: math.Inf(1)}},
		{"ball: {cover: plastic}", "ball.cover.soak_in=90 s", ball.Cover{Dry: 0.10, Film: 0.018, SoakIn: 90}},
		{"ball: {}", "ball.cover.dry=0.12", ball.Cover{Dry: 0.12, Film: 0.022, SoakIn: ball.Reactive.SoakIn}},
		{"ball: {cover: {dry: 0.12}}", "ball.cover=plastic", ball.Plastic},
	} {
		if got := readText(t, c.text, c.set).Balls[0].Cover; got != c.want {
			t.Errorf("%s with %s: %+v, want %+v", c.text, c.set, got, c.want)
		}
	}
}

// A cover that is written out reads back the same, without a new warning.
func TestCoverInputs(t *testing.T) {
	const constant = "\nlane: {friction: {law: constant, mu: 0.1}}"
	for text, want := range map[string]string{
		"ball: {}":                                                `"reactive"`,
		"ball: {}" + constant:                                     ``,
		"ball: {cover: reactive}" + constant:                      ``,
		"ball: {cover: plastic}" + constant:                       `"plastic"`,
		"ball: {cover: urethane}":                                 `"urethane"`,
		"ball: {cover: {dry: 0.10, film: 0.018, soak_in: never}}": `{"dry":0.1,"film":0.018,"soak_in":"never"}`,
		"ball: {cover: {dry: 0.17}}":                              `{"dry":0.17,"film":0.022,"soak_in":"` + soakInText(ball.Reactive.SoakIn) + `"}`,
		"ball: {cover: {dry: 0.17}, film_memory: {soak_in: 7 s}}": `{"dry":0.17,"film":0.022}`,
	} {
		s := readText(t, text)
		list := deliveriesOf(t, s)
		inputs := inputsOf(t, s, list[0], 0)
		var read struct {
			Ball struct{ Cover json.RawMessage }
		}
		if err := json.Unmarshal(inputs, &read); err != nil {
			t.Fatal(err)
		}
		var got bytes.Buffer
		if read.Ball.Cover != nil {
			if err := json.Compact(&got, read.Ball.Cover); err != nil {
				t.Fatal(err)
			}
		}
		if got.String() != want {
			t.Errorf("%s: cover is %s, want %s", text, &got, want)
		}
		again := mustRead(t, "inputs.json", inputs, nil)
		if diff := cmp.Diff(s.Balls[0], again.Balls[0]); diff != "" {
			t.Errorf("%s (-want +got):\n%s", text, diff)
		}
		for _, w := range again.Warnings {
			if !slices.Contains(s.Warnings, w) {
				t.Errorf("%s: a new warning: %s", text, w)
			}
		}
	}
}
