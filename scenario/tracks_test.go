package scenario_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"lanesim/lane"
	"lanesim/scenario"
	"lanesim/units"
)

var oneOfEach = scenario.TracksFor{Balls: []string{"Ball"}, Bowlers: []string{"Bowler"}, From: []float64{0}, To: lane.HeadPin}

func TestReadTracks(t *testing.T) {
	of := scenario.TracksFor{Balls: []string{"Dull", "Shiny"}, Bowlers: []string{"Ann"}, From: []float64{0.3}, To: lane.HeadPin}
	for _, text := range []string{
		"shot,distance_ft,board,time_s,speed_mph,ball\na,10,20,0.5,17,Shiny\na,20,18.5,,,Shiny\nb,10,5,1,,Dull\nb,12,5.5,1.1,16.5,Dull\n",
		"\ufeffball, speed_mph, time_s, board, distance_ft, shot\r\n# rows of two shots by turns\r\nShiny,17,0.5,20,10,a\r\n\r\nDull,,1,5,1e1,b\r\n\"Shiny\",,,18.5,20,a\r\nDull,16.5,1.1,5.5,12,b\r\n",
	} {
		tracks, err := scenario.ReadTracks("night.csv", []byte(text), of)
		if err != nil {
			t.Fatal(err)
		}
		var said []string
		for _, k := range tracks {
			said = append(said, fmt.Sprintf("%s %d %d", k.Shot, k.Ball, k.Bowler))
			for _, p := range k.Points {
				said = append(said, fmt.Sprintf("%.4g ft %g, %g s, %.4g mph", p.Distance/units.Foot, p.Board, p.Time, p.Speed/units.MPH))
			}
		}
		want := []string{
			"a 1 0", "10 ft 20, 0.5 s, 17 mph", "20 ft 18.5, NaN s, NaN mph",
			"b 0 0", "10 ft 5, 1 s, NaN mph", "12 ft 5.5, 1.1 s, 16.5 mph",
		}
		if diff := cmp.Diff(want, said); diff != "" {
			t.Errorf("- want, + got:\n%s", diff)
		}
	}
}

// faultyTracks are files with all their errors.
var faultyTracks = []struct{ name, text, want string }{
	{"empty", "", "f:1:1: no header: the first line names the columns shot, distance_ft and board"},
	{"only a header", "shot,distance_ft,board\n", "f:1:1: no points below the header"},
	{"columns", "shot,distance,board,board,colour\n1,2,3,4,5\n", `
f:1:1: the header has no column distance_ft
f:1:6: unknown column "distance" (the columns are shot, distance_ft, board, time_s, speed_mph, ball and bowler)
f:1:21: board: the column is there twice
f:1:27: unknown column "colour" (the columns are shot, distance_ft, board, time_s, speed_mph, ball and bowler)`},
	{"near columns", "Shot,distanceft,bord\n", `
f:1:1: unknown column "Shot" (did you mean "shot"?)
f:1:1: the header has no column shot
f:1:1: the header has no column distance_ft
f:1:1: the header has no column board
f:1:6: unknown column "distanceft" (did you mean "distance_ft"?)
f:1:17: unknown column "bord" (did you mean "board"?)`},
	{"numbers", "shot,distance_ft,board,time_s,speed_mph\nä,ten,NaN,+Inf,0\nä,10,,1,101\n,70,40,2,-3\nä,-1,0,1,16\nä,20,10\nä,30,1e999,4,5\n", `
f:2:3: distance_ft: "ten" is not a number
f:2:7: board: "NaN" is not a finite number
f:2:11: time_s: "+Inf" is not a finite number
f:2:16: speed_mph: 0 mph is not above 0 and up to 100 mph
f:3:6: board: the cell is empty
f:3:9: speed_mph: 101 mph is not above 0 and up to 100 mph
f:4:1: shot: the cell is empty
f:4:2: distance_ft: 70 ft is not on the lane, from 0 to 60 ft
f:4:5: board: 40 is off the lane, whose boards go from 0.5 to 39.5
f:4:10: speed_mph: -3 mph is not above 0 and up to 100 mph
f:5:3: distance_ft: -1 ft is not on the lane, from 0 to 60 ft
f:5:6: board: 0 is off the lane, whose boards go from 0.5 to 39.5
f:5:8: time_s: 1 s is not later than the 1 s of shot "ä" on line 3
f:6:1: the line has 3 cells, the header 5
f:7:6: board: "1e999" is not a finite number`},
	{"other numerals", "shot,distance_ft,board,time_s\nä,1_0,0x1p3,1_2.5\n", `
f:2:1: shot: shot "ä" has only one point; two or more are needed
f:2:3: distance_ft: "1_0" is not a number
f:2:7: board: "0x1p3" is not a number
f:2:13: time_s: "1_2.5" is not a number`},
	{"order", "shot,distance_ft,board,time_s\na,20,5,1\na,20,5,2\nb,10,5,1\na,10,5,1.5\nb,30,7,3\n", `
f:3:3: distance_ft: 20 ft does not lie beyond the 20 ft of shot "a" on line 2 (the points of a shot stand in the order in which the ball passed them)
f:5:3: distance_ft: 10 ft does not lie beyond the 20 ft of shot "a" on line 3 (the points of a shot stand in the order in which the ball passed them)
f:5:8: time_s: 1.5 s is not later than the 2 s of shot "a" on line 3`},
	{"one point", "shot,distance_ft,board\na,20,5\nb,20,5\nb,21,5\n", `f:2:1: shot: shot "a" has only one point; two or more are needed`},
	{"quotes", "shot,distance_ft,board\na,2\"0,5\nb,20,5\nb,21,5\n", `f:2:4: bare " in non-quoted-field`},
	{"short rows", "shot,distance_ft,board,bowler\na,10,5,Bowler\na\nb,10\nb,20,5,Bowler\n", `
f:3:1: the line has 1 cells, the header 4
f:4:1: the line has 2 cells, the header 4`},
	{"unknown", "shot,distance_ft,board,ball,bowler\na,20,5,Bal,Bowler\na,30,5,Bal,\nb,20,5,,Xaver\nb,21,5,,Xaver\n", `
f:2:8: ball: the scenario has no ball "Bal"; it has "Ball" (did you mean "Ball"?)
f:3:12: bowler: "", but shot "a" has "Bowler" on line 2
f:4:9: bowler: the scenario has no bowler "Xaver"; it has "Bowler"`},
}

// trackFaults prints errors one a line, with their hints.
func trackFaults(t testing.TB, err error) string {
	t.Helper()
	var all scenario.Errors
	if !errors.As(err, &all) {
		t.Fatalf("error is a %T: %v", err, err)
	}
	var lines []string
	for _, e := range all {
		line := fmt.Sprintf("%s:%d:%d: ", e.File, e.Line, e.Column)
		if e.Path != "" {
			line += e.Path + ": "
		}
		line += e.Message
		if e.Hint != "" {
			line += " (" + e.Hint + ")"
		}
		lines = append(lines, line)
	}
	return strings.Join(lines, "\n")
}

func TestFaultsOfTracksHaveTheirPlaces(t *testing.T) {
	for _, test := range faultyTracks {
		_, err := scenario.ReadTracks("f", []byte(test.text), oneOfEach)
		if err == nil {
			t.Errorf("%s: no fault", test.name)
			continue
		}
		if diff := cmp.Diff(strings.TrimPrefix(test.want, "\n"), trackFaults(t, err)); diff != "" {
			t.Errorf("%s: - want, + got:\n%s", test.name, diff)
		}
	}
}

func TestTracksNameTheirBallsAndBowlers(t *testing.T) {
	two := scenario.TracksFor{Balls: []string{"A", "B"}, Bowlers: []string{"C", "D"}, From: []float64{0, 2 * units.Foot}, To: lane.HeadPin}
	for _, test := range []struct{ text, want string }{
		{"shot,distance_ft,board\n1,2,3\n1,4,5\n2,3,4\n2,4,5\n", `
f:1:1: the header has no column ball, but the scenario has 2: "A" and "B"
f:1:1: the header has no column bowler, but the scenario has 2: "C" and "D"`},
		{"shot,ball,bowler,distance_ft,board\n1,,C,2,3\n1,,C,4,5\n2,B,D,1,5\n2,A,D,9,5\n", `
f:2:3: ball: the cell is empty, but the scenario has 2: "A" and "B"
f:4:7: distance_ft: 1 ft is before the ball is laid down, at 2 ft
f:5:3: ball: "A", but shot "2" has "B" on line 4`},
	} {
		_, err := scenario.ReadTracks("f", []byte(test.text), two)
		if err == nil {
			t.Fatal("no fault")
		}
		if diff := cmp.Diff(strings.TrimPrefix(test.want, "\n"), trackFaults(t, err)); diff != "" {
			t.Errorf("- want, + got:\n%s", diff)
		}
	}
}

// Reading any text gives either tracks that can be fitted or errors with places in the
// text.
func FuzzReadTracks(f *testing.F) {
	f.Add([]byte("shot,distance_ft,board,time_s,speed_mph\na,10,20,0.5,17\na,20,18.5,1,16\n"))
	f.Add([]byte("\"sh\not\",distance_ft\n\"1\n2\",3,4\n"))
	for _, test := range faultyTracks {
		f.Add([]byte(test.text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		tracks, err := scenario.ReadTracks("f", text, oneOfEach)
		if err != nil {
			var all scenario.Errors
			if !errors.As(err, &all) || len(all) == 0 {
				t.Fatalf("error is a %T", err)
			}
			lines := strings.Count(string(text), "\n") + 1
			for _, e := range all {
				if e.Line < 1 || e.Line > lines || e.Column < 1 || e.Message == "" {
					t.Fatalf("%v is not in a text of %d lines", e, lines)
				}
			}
			return
		}
		if len(tracks) == 0 {
			t.Fatal("neither tracks nor faults")
		}
		for _, k := range tracks {
			distance, clock := math.Inf(-1), math.Inf(-1)
			for _, p := range k.Points {
				if !(p.Distance > distance && p.Distance >= 0 && p.Distance <= lane.HeadPin && p.Board >= 0.5 && p.Board <= 39.5) || p.Time <= clock || p.Speed <= 0 {
					t.Fatalf("shot %q: point %+v", k.Shot, p)
				}
				distance = p.Distance
				if !math.IsNaN(p.Time) {
					clock = p.Time
				}
			}
			if len(k.Points) < 2 || k.Ball != 0 || k.Bowler != 0 {
				t.Fatalf("shot %q has %d points, ball %d, bowler %d", k.Shot, len(k.Points), k.Ball, k.Bowler)
			}
		}
	})
}
