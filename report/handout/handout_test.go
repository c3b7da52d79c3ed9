package handout

import (
	"bytes"
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"testing"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/terms"
	"lanesim/units"
)

func written(t *testing.T, p Page) string {
	t.Helper()
	var b bytes.Buffer
	if err := p.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestWordsOfUsersAreShownAsWords(t *testing.T) {
	const bad = `</script><script>alert("x")</script>&amp;`
	var doc report.Document
	doc.Head(bad)
	doc.Say(bad)
	doc.Table(report.Grid{Rows: [][]string{{"", bad}, {bad, bad}}})
	inputs, err := json.Marshal(map[string]any{"name": bad, "speed": bad})
	if err != nil {
		t.Fatal(err)
	}
	page := written(t, Page{
		Kind: bad, Title: bad, Answer: []string{bad}, Sure: []string{bad}, Cautions: []string{bad}, Assumed: []string{bad},
		Document: doc, Inputs: []Inputs{{Heading: bad, JSON: inputs}}, Pictures: []Picture{{Caption: bad}},
		Playback: &Playback{Picture: Picture{Caption: bad}, Balls: []Ball{{Name: bad, Color: "#000", Path: []physics.State{{}, {Time: 1}}, Status: bad}}},
	})
	if strings.Contains(page, "<script>alert") || strings.Contains(page, "&amp;amp;") && !strings.Contains(page, "&amp;amp;</") {
		t.Error("words got into the markup")
	}
	if n := strings.Count(page, "alert("); n < 12 {
		t.Errorf("the words are there %d times only", n)
	}
}

func TestTermsHaveIdsOfTheirOwn(t *testing.T) {
	seen := map[string]string{}
	for _, term := range terms.All() {
		id := idOf(term)
		if other, twice := seen[id]; twice {
			t.Errorf("%s and %s are both %s", other, term.Name, id)
		}
		seen[id] = term.Name
	}
	if len(seen) == 0 {
		t.Error("there are no terms")
	}
}

func TestPlaybackHoldsThePath(t *testing.T) {
	var path []physics.State
	for i := range 240 {
		s := float64(i) / 239
		path = append(path, physics.State{Time: 2.4 * s, Distance: 18 * s, Lateral: 0.2 - 0.4*s*s, Board: 20 + 7*s*s, Speed: (18 - 3*s) * units.MPH})
	}
	v := Playback{Balls: []Ball{{Name: "a", Color: "#000", Path: path}}}.view(newMarker())
	lists := v.Data.Paths[0]
	states := thinned(path)
	if n := len(states); n > frames*5/2 || n < frames {
		t.Errorf("%d states", n)
	}
	if last := states[len(states)-1]; last != path[len(path)-1] || states[0] != path[0] {
		t.Error("the ends are gone")
	}
	for k, of := range []func(physics.State) float64{
		func(s physics.State) float64 { return s.Time }, func(s physics.State) float64 { return s.Distance }, func(s physics.State) float64 { return s.Lateral },
		func(s physics.State) float64 { return s.Board }, func(s physics.State) float64 { return s.Speed / units.MPH },
	} {
		sum := 0
		for i, word := range strings.Fields(lists[k]) {
			d, err := strconv.Atoi(word)
			if err != nil {
				t.Fatal(err)
			}
			sum += d
			if got, want := float64(sum)*packed[k], of(states[i]); math.Abs(got-want) > 0.51*packed[k] {
				t.Fatalf("list %d at %d: %v, want %v", k, i, got, want)
			}
		}
	}
}

func TestInputsAreReadable(t *testing.T) {
	const text = `{"name":"a_b","pin_to_pap":"4.5 in","tilt":"-0.5 in","roughness":"14 uin","angle":"2.702795768286444 deg","tolerance":1e-06,
		"layout":{"val_angle":"40 deg"},"offset":["0 mm","1 mm"],"units":[[1,2,3,4,5,6,7,8,9,10,11,12,13],[1,2,3,4,5,6,7,8,9,10,11,12,13]],"measured":[]}`
	var got []string
	for _, v := range valuesOf("", json.RawMessage(text)) {
		got = append(got, v.name+"="+v.text)
	}
	const want = "name=a_b pin to PAP=4.5 in tilt=−0.5 in roughness=14 µin angle=2.7028 deg tolerance=1e-06 layout: VAL angle=40 deg offset=0 mm, 1 mm units=2 rows of 13 values measured=none"
	if words := strings.Join(got, " "); words != want {
		t.Errorf("got\n%s\nwant\n%s", words, want)
	}
	if valuesOf("", json.RawMessage(`[1]`)) != nil || valuesOf("", json.RawMessage(`{"a":`)) != nil {
		t.Error("no object has values")
	}
}

func TestTableHasHeadings(t *testing.T) {
	m := newMarker()
	got := m.table(report.Grid{Left: []bool{true}, Heads: 2, Sections: map[int]bool{3: true}, Rows: [][]string{
		{"ball", "One", "Two"}, {"bowler", "A", "B"}, {""}, {"Flare"}, {"hook start, ft", "1", "2"}, {"", "3"},
	}})
	if len(got.Head) != 2 || got.Head[0][1].Scope != "col" || len(got.Groups) != 1 {
		t.Fatalf("%+v", got)
	}
	rows := got.Groups[0]
	if rows.Heading == nil || len(rows.Rows) != 2 || len(rows.Rows[1]) != 3 || rows.Rows[0][0].Scope != "row" || rows.Rows[1][0].Scope != "" {
		t.Errorf("%+v", rows)
	}
	if pieces := rows.Rows[0][0].Pieces; len(pieces) != 2 || pieces[0].ID != "term-hook-start" || m.found["term-hook-start"].Name != "hook start" {
		t.Errorf("%+v", pieces)
	}
}
