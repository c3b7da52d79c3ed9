package plots

import (
	"bytes"
	"strings"
	"testing"

	"lanesim/physics"
	"lanesim/pins"
)

// inventedRack is a rack with straight paths.
func inventedRack() deckPanel {
	d := deckPanel{Name: "A bowler with a ball of a long name", Caption: "enters on board 17.5 at 5.00° (pocket), leaves 7-10: 12.0% of 1000 racks", Standing: pins.All, Radius: 0.109}
	r := &d.Result
	r.Standing = pins.Pins(7, 10)
	for i := range 40 {
		x := -0.25 + 0.03*float64(i)
		r.Path = append(r.Path, pins.PathPoint{Time: 0.004 * float64(i), X: x, Y: -0.06 + 0.05*x, Z: 0.109})
	}
	for i := range pins.Count {
		r.First[i].By = 1
		for k := range 30 {
			s := 0.02 * float64(k)
			r.Pins[i] = append(r.Pins[i], pins.PinPoint{Time: s, X: pins.Spots[i][0] + s, Y: pins.Spots[i][1] + s*float64(i-5)/5, Z: 0.06, Axis: [3]float64{0.6, 0.8, 0}})
		}
	}
	r.First[0] = pins.Touch{By: pins.ByBall, Time: 0.02}
	return d
}

func TestTextsOfRacksDoNotCollide(t *testing.T) {
	for _, size := range []Size{Sheet, Phone} {
		for _, n := range []int{1, 2, 3, MaxDecks} {
			f := deckFigure{Title: "Racks", Note: "One rack of each shot.", Size: size}
			for range n {
				f.Panels = append(f.Panels, inventedRack())
			}
			d, err := f.draw()
			if err != nil {
				t.Fatal(err)
			}
			words := strings.Join(checkTexts(t, d), "\n")
			for _, want := range []string{"7", "10", "leaves 7-10", "filled: stands"} {
				if !strings.Contains(words, want) {
					t.Errorf("%d racks, size %d: %q is missing", n, size, want)
				}
			}
			var b bytes.Buffer
			if err := d.Write(&b, ".svg"); err != nil || strings.Contains(b.String(), "NaN") {
				t.Errorf("%v, or a place that is no number", err)
			}
		}
	}
	bare := inventedRack()
	bare.Result.Path = nil
	for _, f := range []deckFigure{{}, {Panels: []deckPanel{bare}}, {Panels: make([]deckPanel, MaxDecks+1)}} {
		if _, err := f.draw(); err == nil {
			t.Errorf("%d racks: no error", len(f.Panels))
		}
	}
}

func TestTextsOfStrikeMapsDoNotCollide(t *testing.T) {
	for _, size := range []Size{Sheet, Phone} {
		for _, n := range []int{1, 2, MaxSweepPanels} {
			f := strikeMapFigure{Title: "Strikes", Note: "Blurred.", Size: size}
			for range n {
				m := strikeMap{Name: "A bowler", Board: 17.2, Angle: 4.5, Words: "the line", Pocket: physics.DefaultPocket}
				for b := 13.0; b <= 27; b++ {
					m.Boards = append(m.Boards, b)
					var column []float64
					for a := range 11 {
						column = append(column, max(0, 0.9-0.1*(b-17.5)*(b-17.5)-0.01*float64((a-6)*(a-6))))
					}
					m.Share = append(m.Share, column)
				}
				for a := range 11 {
					m.Degrees = append(m.Degrees, float64(a))
				}
				f.Maps = append(f.Maps, m)
			}
			d, err := f.draw()
			if err != nil {
				t.Fatal(err)
			}
			words := strings.Join(checkTexts(t, d), "\n")
			for _, want := range []string{"the line", "light", "nose", "crossover", "assumed", "entry angle"} {
				if !strings.Contains(words, want) {
					t.Errorf("%d maps, size %d: %q is missing", n, size, want)
				}
			}
		}
	}
	if _, err := (strikeMapFigure{}).draw(); err == nil {
		t.Error("no maps: no error")
	}
}
