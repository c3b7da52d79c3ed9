package patterns

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lanesim/units"

	"github.com/google/go-cmp/cmp"
)

func TestFromReadings(t *testing.T) {
	g, err := FromReadings([]Reading{
		{12, 35, 4}, {12, 5, 2}, // the end, read first
		{3, 10, 30}, {3, 30, 10}, {3, 20, 40},
	})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]float64{3, 12}, g.Distances); diff != "" {
		t.Fatal(diff)
	}
	for _, test := range []struct {
		row, board int
		want       float64
	}{
		{0, 1, 30}, {0, 10, 30}, {0, 15, 35}, {0, 20, 40}, {0, 22, 34}, {0, 30, 10}, {0, 39, 10},
		{1, 5, 2}, {1, 20, 3}, {1, 39, 4},
	} {
		if got := g.Units[test.row][test.board-1]; !near(got, test.want, exact) {
			t.Errorf("row %d, board %d: %v units, want %v", test.row, test.board, got, test.want)
		}
	}
	build(t, g)
}

func TestFromReadingsErrors(t *testing.T) {
	for _, test := range []struct {
		name     string
		readings []Reading
		index    int // of the first fault
		want     string
	}{
		{"none", nil, -1, "tape readings: there are none"},
		{"board", []Reading{{3, 5, 1}, {3, 40, 1}, {3, 0, 1}}, 1,
			"tape reading 2: board: 40 is not a board from 1 to 39\ntape reading 3: board: 0 is not a board from 1 to 39"},
		{"units", []Reading{{3, 5, -1}, {3, 6, math.NaN()}, {3, 7, math.Inf(1)}}, 0,
			"tape reading 1: units: -1 is not 0 or more\ntape reading 2: units: NaN is not 0 or more\ntape reading 3: units: +Inf is not 0 or more"},
		{"distance", []Reading{{3, 5, 1}, {3, 6, 1}, {math.NaN(), 7, 1}, {-units.Foot, 7, 1}}, 2,
			"tape reading 3: distance_ft: NaN ft is not 0 or more\ntape reading 4: distance_ft: -1 ft is not 0 or more"},
		{"twice", []Reading{{10 * units.Foot, 5, 1}, {10 * units.Foot, 6, 1}, {10 * units.Foot, 5, 2}}, 2,
			"tape reading 3: board: board 5 at 10 ft is already there, in reading 1"},
		{"alone", []Reading{{3, 5, 1}, {3, 6, 1}, {20 * units.Foot, 5, 2}}, 2,
			"tape reading 3: distance_ft: 20 ft has only one reading; two or more are needed"},
		{"foul line", []Reading{{0, 5, 1}, {0, 6, 1}}, 0,
			"tape reading 1: distance_ft: all readings are at the foul line, where the oil would end"},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, err := FromReadings(test.readings)
			var reading *ReadingError
			if !errors.As(err, &reading) {
				t.Fatalf("error is %v", err)
			}
			if reading.Index != test.index || err.Error() != test.want {
				t.Errorf("error of reading %d is\n%v\nwant of %d\n%s", reading.Index, err, test.index, test.want)
			}
		})
	}
}

func TestReadTape(t *testing.T) {
	for _, text := range []string{
		"distance_ft,board,units\n8,5,10\n8,25,50\n40,5,1\n40,25,3\n",
		"\ufeffboard, units, distance_ft\r\n# heads\r\n5, 10, 8.0\r\n25, 50, 8\r\n\r\n25, 3, 40\r\n\"5\", 1, 4e1\r\n",
	} {
		g, err := ReadTape("night.csv", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		m := Measure(build(t, g), BoardSets{})
		if !near(m.Length, 40*units.Foot, exact) || !near(m.Sections[0].Units[14], 30, exact) || !near(m.Sections[3].Units[14], 2, exact) {
			t.Errorf("length %v m, board 15: %v units at 8 ft, %v at the end", m.Length, m.Sections[0].Units[14], m.Sections[3].Units[14])
		}
		if g.Name != "night.csv" || g.About != "Made from 4 tape readings at 2 distances." {
			t.Errorf("grid %q: %s", g.Name, g.About)
		}
	}
}

// Files with faults; next to each a file with all its errors.
func TestReadTapeErrors(t *testing.T) {
	for path, text := range tapeFiles(t) {
		name := filepath.Base(path)
		t.Run(name, func(t *testing.T) {
			want, err := os.ReadFile(strings.TrimSuffix(path, ".csv") + ".errors")
			if err != nil {
				t.Fatal(err)
			}
			_, err = ReadTape(name, text)
			if err == nil {
				t.Fatal("no error")
			}
			if diff := cmp.Diff(string(want), err.Error()+"\n"); diff != "" {
				t.Errorf("- want, + got:\n%s", diff)
			}
		})
	}
}

type fataler interface {
	Helper()
	Fatal(...any)
}

func tapeFiles(t fataler) map[string][]byte {
	t.Helper()
	paths, err := filepath.Glob("testdata/tape/*.csv")
	if err != nil || len(paths) == 0 {
		t.Fatal("no files of readings: ", err)
	}
	files := map[string][]byte{}
	for _, path := range paths {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		files[path] = text
	}
	return files
}

// Any text gives either a grid that builds or faults with places in the text.
func FuzzReadTape(f *testing.F) {
	f.Add([]byte("distance_ft,board,units\n8,5,10\n8,25,50\n40,5,1\n40,25,3\n"))
	f.Add([]byte("board,units,distance_ft\n1,0,0\n39,1e300,1e300\n2,0,1e300\n2,2,0\n"))
	f.Add([]byte("units,board,distance_ft\n\"1\n2\",3,4\n"))
	for _, text := range tapeFiles(f) {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		g, err := ReadTape("f", text)
		if err == nil {
			if _, err := g.Build(); err != nil {
				t.Fatalf("read without fault, but %v", err)
			}
			return
		}
		var joined interface{ Unwrap() []error }
		if !errors.As(err, &joined) {
			t.Fatalf("error is a %T", err)
		}
		lines := strings.Count(string(text), "\n") + 1
		for _, fault := range joined.Unwrap() {
			var tape *TapeError
			if !errors.As(fault, &tape) {
				t.Fatalf("fault is a %T: %v", fault, fault)
			}
			if tape.Line < 1 || tape.Line > lines || tape.Column < 1 || tape.Reason == "" {
				t.Fatalf("%v is not in a text of %d lines", tape, lines)
			}
		}
	})
}
