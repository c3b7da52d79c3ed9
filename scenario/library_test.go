package scenario

import (
	"errors"
	"io/fs"
	"math"
	"strings"
	"testing"

	"lanesim/units"

	"github.com/google/go-cmp/cmp"
)

const (
	homeBalls = `# what I own
balls:
  - {name: Benchmark, rg: 2.52 in, differential: 0.040 in, roughness: 25 uin, layout: {drilling_angle: 60 deg, pin_to_pap: 4 1/2 in, val_angle: 45 deg}}
  - {name: Spare, cover: plastic}
bowlers:
  - {name: Me, speed: 17 mph, rev_rate: 300 rpm, axis_rotation: 45 deg, axis_tilt: 10 deg, laydown: 24, angle: 2 deg}
  - {name: Guest, like: low revs}
lanes:
  - {name: Centre, oil: centre.yaml, length: 60 ft}
`
	centreOil = "name: Centre oil\nkind: crown\nlength: 41 ft\nvolume: 25 mL\nratio: 4\n"
)

// opener returns a function that opens files given by name.
func opener(files map[string]string) OpenFile {
	return func(name string) ([]byte, error) {
		text, ok := files[name]
		if !ok {
			return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
		}
		return []byte(text), nil
	}
}

var homeFiles = opener(map[string]string{"league/home/own.yaml": homeBalls, "league/home/centre.yaml": centreOil, "league/list.yaml": "[1, 2]",
	"league/bad.yaml": "balls:\n  - {name: Wrong, rg: 9 in, differental: 0.04 in}\n  - {name: Third, from: home/own.yaml}\n"})

// A part from another file equals the same text written here, and keys written here replace
// its own.
func TestPartsFromAnotherFile(t *testing.T) {
	const text = `
lane: {from: home/own.yaml, name: Centre}
balls:
  - {from: home/own.yaml, name: Benchmark}
  - {from: home/own.yaml, name: Benchmark, as: Benchmark dull, finish: 1000 grit, rg: 2.5 in}
  - {from: home/own.yaml, name: Spare}
bowlers:
  - {from: home/own.yaml, name: Me}
  - {from: home/own.yaml, name: Me, as: Me inside, line: {feet: 35, arrows: 20}}
  - {from: home/own.yaml, name: Guest}
`
	const written = `
lane: {name: Centre, oil: home/centre.yaml, length: 60 ft}
balls:
  - {name: Benchmark, rg: 2.52 in, differential: 0.040 in, roughness: 25 uin, layout: {drilling_angle: 60 deg, pin_to_pap: 4 1/2 in, val_angle: 45 deg}}
  - {name: Benchmark dull, rg: 2.5 in, differential: 0.040 in, finish: 1000 grit, layout: {drilling_angle: 60 deg, pin_to_pap: 4 1/2 in, val_angle: 45 deg}}
  - {name: Spare, cover: plastic}
bowlers:
  - {name: Me, speed: 17 mph, rev_rate: 300 rpm, axis_rotation: 45 deg, axis_tilt: 10 deg, laydown: 24, angle: 2 deg}
  - {name: Me inside, speed: 17 mph, rev_rate: 300 rpm, axis_rotation: 45 deg, axis_tilt: 10 deg, line: {feet: 35, arrows: 20}}
  - {name: Guest, like: low revs}
`
	got := mustRead(t, "league/night.yaml", []byte(text), homeFiles)
	want := mustRead(t, "league/night.yaml", []byte(written), homeFiles)
	for _, pair := range [][2]any{{want.Lanes, got.Lanes}, {want.Balls, got.Balls}, {want.Bowlers, got.Bowlers}, {want.Grips, got.Grips}} {
		if diff := cmp.Diff(pair[0], pair[1], wholeOil); diff != "" {
			t.Errorf("differs (-written out +taken):\n%s", diff)
		}
	}
	if got.Lanes[0].Oil.Length() != 41*units.Foot {
		t.Errorf("oil ends at %v m", got.Lanes[0].Oil.Length())
	}
	set, err := Read("league/night.yaml", []byte(text), homeFiles, []string{"balls.Benchmark.rg=2.6 in", "ball={from: home/own.yaml, name: Spare}", "balls.Spare.weight=14 lb"})
	if err != nil || len(set.Balls) != 1 || math.Abs(set.Balls[0].Weight-14*0.45359237) > 1e-12 {
		t.Error(err)
	}
	sweep, err := ReadSweep("league/sweep.yaml", []byte("scenario: {lane: {oil: dry}, ball: {from: home/own.yaml, name: Benchmark}, bowler: {from: home/own.yaml, name: Me}}\nvary: {ball.rg: [2.5 in, 2.6 in]}\ncolumns: [flare_in]\n"), homeFiles, nil)
	if err != nil || sweep.Base.Balls[0].Name != "Benchmark" {
		t.Error(err)
	}
}

// Errors name the file in which they occur.
func TestPartsFromAnotherFileThatAreWrong(t *testing.T) {
	for text, want := range map[string][]string{
		"ball: {from: home/own.yaml, name: Benchmrk}":                                        {`league/night.yaml:3:35: ball.name: no ball in home/own.yaml has the name "Benchmrk"`, `did you mean "Benchmark"?`},
		"balls: [{from: home/own.yaml, name: Spare}, {from: home/own.yaml, name: Benchmrk}]": {`league/night.yaml:3:73: balls[1].name: no ball in home/own.yaml has the name "Benchmrk"`},
		"ball: {from: home/own.yaml}":                                                        {"league/night.yaml:3:7: ball.name: is missing: say which ball of home/own.yaml is meant", "there is Benchmark, Spare"},
		"ball: {from: home/non.yaml, name: A}":                                               {"league/night.yaml:3:14: ball.from: the file cannot be read: "},
		"ball: {from: [a], name: A}":                                                         {"league/night.yaml:3:14: ball.from: a list does not fit: give the name of a file"},
		"ball: {from: list.yaml, name: A}":                                                   {"league/list.yaml:1:1: a list does not fit: give balls, bowlers or lanes"},
		"ball: {from: bad.yaml, name: Wrong}":                                                {"league/bad.yaml:2:23: ball.rg: ", `league/bad.yaml:2:29: ball.differental: unknown key "differental"`},
		"ball: {from: bad.yaml, name: Third}":                                                {"league/bad.yaml:3:25: ball.from: is itself taken from another file"},
		"ball: {name: A, as: B}":                                                             {"league/night.yaml:3:7: ball.from: is missing"},
	} {
		_, err := Read("league/night.yaml", []byte("lane: {oil: dry}\nbowler: low revs\n"+text), homeFiles, nil)
		problems := Errors(nil)
		if !errors.As(err, &problems) {
			t.Errorf("%s: %v", text, err)
			continue
		}
		for _, w := range want {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("%s: want %q in\n%v", text, w, err)
			}
		}
		if len(problems) > 2 {
			t.Errorf("%s: %d problems:\n%v", text, len(problems), err)
		}
	}
	if _, err := Read("a.yaml", []byte("lane: {oil: dry}\nbowler: low revs\nball: {from: b.yaml, name: A}"), nil, nil); err == nil || !strings.Contains(err.Error(), "files cannot be opened here") {
		t.Error(err)
	}
}
