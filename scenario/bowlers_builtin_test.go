package scenario

import (
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/units"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

const aLane = "lane: {oil: house}\nball: {name: plain}\n"

func TestBuiltinBowlersByName(t *testing.T) {
	list := BuiltinBowlers()
	if len(list) != len(builtinBowlers) {
		t.Fatalf("%d bowlers", len(list))
	}
	for i, b := range list {
		if b.About == "" || !b.Bowler.AimAtPocket || b.Bowler.Name != b.Word || !(b.Bowler.Release.Speed > 0) {
			t.Errorf("%+v", b)
		}
		if i > 0 && b.Bowler.Release.RevRate < list[i-1].Bowler.Release.RevRate {
			t.Errorf("%s comes after %s", b.Word, list[i-1].Word)
		}
		for _, text := range []string{"bowler: " + b.Word, "bowlers: [" + b.Word + "]", "bowler: {like: " + b.Word + "}", `{"like": "` + b.Word + `"}`} {
			if strings.HasPrefix(text, "{") {
				text = "bowler: " + text
			}
			if diff := cmp.Diff([]Bowler{b.Bowler}, readText(t, aLane+text).Bowlers); diff != "" {
				t.Errorf("%s (-want +got):\n%s", text, diff)
			}
		}
	}
}

// The built-in bowlers have the published averages and are marked as published.
func TestBuiltinBowlersHaveThePublishedAverages(t *testing.T) {
	want := map[string][2]float64{"low revs": {19, 220}, "medium revs": {18, 325}, "high revs": {19, 520}}
	for _, b := range BuiltinBowlers() {
		w, published := want[b.Word]
		if published != b.Published {
			t.Errorf("%s is published: %v", b.Word, b.Published)
		}
		if r := b.Bowler.Release; published && (speed.format(r.Speed, "mph") != formatBare(w[0])+" mph" || rate.format(r.RevRate, "rpm") != formatBare(w[1])+" rpm") {
			t.Errorf("%s throws %s with %s", b.Word, speed.format(r.Speed, "mph"), rate.format(r.RevRate, "rpm"))
		}
	}
}

// What a file or --set gives replaces the values of the built-in bowler.
func TestBowlersLikeABuiltinOne(t *testing.T) {
	medium := readText(t, aLane+"bowler: medium revs").Bowlers[0]
	for _, c := range []struct {
		text   string
		sets   []string
		change func(*Bowler)
	}{
		{"bowler: {like: medium revs, laydown: 24}", nil, func(b *Bowler) { b.Release.Laydown = 24 }},
		{"bowler: medium revs", []string{"bowler.laydown=24"}, func(b *Bowler) { b.Release.Laydown = 24 }},
		{"bowlers: [medium revs]", []string{"bowlers.medium revs.laydown=24"}, func(b *Bowler) { b.Release.Laydown = 24 }},
		{"bowler: low revs", []string{"bowler.like=medium revs"}, func(*Bowler) {}},
		{"bowler: low revs", []string{"bowler=medium revs"}, func(*Bowler) {}},
		{"bowler: low revs", []string{"bowler=medium revs", "bowler.laydown=24"}, func(b *Bowler) { b.Release.Laydown = 24 }},
		{"bowler: low revs", []string{"bowler={like: medium revs, name: Own}"}, func(b *Bowler) { b.Name = "Own" }},
		{"bowler: {like: medium revs, name: Own, hand: left}", nil, func(b *Bowler) { b.Name, b.Release.Hand = "Own", ball.Left }},
		{"bowler: {like: medium revs, angle: 2 deg}", nil, func(b *Bowler) { b.AimAtPocket, b.Release.Angle = false, 2*units.Degree }},
		{"bowler: medium revs", []string{"bowler.angle=2 deg"}, func(b *Bowler) { b.AimAtPocket, b.Release.Angle = false, 2*units.Degree }},
		{"bowler: {like: medium revs, target: {board: 22, distance: 15 ft}}", nil, func(b *Bowler) { b.AimAtPocket = false }},
		{"bowler: {like: medium revs, pap: {over: 4 in, up: 1 in}}", nil, func(b *Bowler) { b.PAP = ball.PAP{Over: 4 * units.Inch, Up: units.Inch} }},
		{"bowler: {like: medium revs, rev_rate: 0 rpm}", nil, func(b *Bowler) { b.Release.RevRate = 0 }},
	} {
		want := medium
		c.change(&want)
		if diff := cmp.Diff([]Bowler{want}, readText(t, aLane+c.text, c.sets...).Bowlers); diff != "" {
			t.Errorf("%s %q (-want +got):\n%s", c.text, c.sets, diff)
		}
	}
	s := readText(t, aLane+"bowlers: [medium revs, {like: medium revs}, low revs, {name: low revs, like: high revs}]")
	var names []string
	for _, b := range s.Bowlers {
		names = append(names, b.Name)
	}
	if diff := cmp.Diff([]string{"medium revs", "medium revs (2)", "low revs (2)", "low revs"}, names); diff != "" {
		t.Errorf("names (-want +got):\n%s", diff)
	}
}

// A bowler that is written out reads back bit for bit, in YAML and in JSON. So do the
// inputs of a delivery of a built-in bowler.
func TestBowlersReadBackExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.SampledFrom(BuiltinBowlers()).Draw(t, "bowler").Bowler
		b.Name = rapid.SampledFrom([]string{"Own", "a: b", "12", "null", "Jo # 2", "Łódź"}).Draw(t, "name")
		b.PAP.Over = rapid.Float64Range(0.1, 0.15).Draw(t, "over")
		b.Release.Speed = rapid.Float64Range(5, 12).Draw(t, "speed")
		b.Release.RevRate = rapid.Float64Range(0, 70).Draw(t, "rev rate")
		if b.AimAtPocket = rapid.Bool().Draw(t, "aim"); !b.AimAtPocket {
			b.Release.Angle = rapid.Float64Range(-0.2, 0.2).Draw(t, "angle")
		}
		made, err := BowlerJSON(b)
		if err != nil {
			t.Fatal(err)
		}
		for _, text := range []string{string(BowlerYAML(b)), "bowler: " + string(made) + "\n"} {
			s := mustRead(t, "scenario.yaml", []byte(aLane+text), nil)
			if diff := cmp.Diff([]Bowler{b}, s.Bowlers); diff != "" {
				t.Fatalf("differs (-want +got):\n%s\nin\n%s", diff, text)
			}
		}
	})
	s := readText(t, aLane+"bowlers: [low revs, {like: high revs, laydown: 30, angle: 3 deg}]")
	list := deliveriesOf(t, s)
	for _, d := range list {
		text := inputsOf(t, s, d, 0.02)
		again := mustRead(t, "inputs.json", text, nil)
		want := s.Bowlers[d.Bowler]
		want.AimAtPocket, want.Release.Angle = false, 0.02
		if diff := cmp.Diff(want, again.Bowlers[0]); diff != "" {
			t.Errorf("inputs differ (-want +got):\n%s", diff)
		}
	}
}

func TestReferenceListsTheBuiltinBowlers(t *testing.T) {
	page, schema := Reference(), string(Schema())
	for _, b := range builtinBowlers {
		for _, want := range []string{"| `" + b.word + "` | " + b.speed + ", " + b.revRate + " ("} {
			if !strings.Contains(page, want) {
				t.Errorf("the reference lacks %q", want)
			}
		}
		if strings.Count(schema, `"`+b.word+`"`) < 2 {
			t.Errorf("the schema lacks %q", b.word)
		}
	}
}
