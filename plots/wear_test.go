package plots

import (
	"slices"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/units"
)

func wornFigure(t *testing.T, size Size) wearFigure {
	t.Helper()
	l := inventedLane()
	w, err := lane.NewWearing(l, 4, units.Foot/2)
	if err != nil {
		t.Fatal(err)
	}
	for k := range 40 {
		w.Exchange(float64(k)*0.3, 0.1, 0.3, 6.5e-3, 2e-9)
	}
	w.Exchange(14, 0, 2, 6.5e-3, -1e-9)
	return wearFigure{
		Title: "A session", Note: "Pocket shares over one session.", Lane: l, After: w.Map, Size: size,
		Shares: []SweepCurve{{Name: "First", X: []float64{10, 20, 30}, Y: []float64{60, 50, 20}}, {Name: "Second", X: []float64{10, 20, 30}, Y: []float64{40, 45, 41}}},
		Lines:  []wornLine{{Name: "First", Series: leftHanders(four(), "before shot 1", "before shot 20", "before shot 40", "before shot 60")}},
		Hands:  []ball.Hand{ball.Left},
	}
}

// leftHanders are the shots of left-handers, with other names.
func leftHanders(list []Series, names ...string) []Series {
	for i := range list {
		list[i].Hand, list[i].Name = ball.Left, names[i]
	}
	return list
}

func TestWearShowsBeforeAfterAndShares(t *testing.T) {
	for _, size := range []Size{Sheet, Phone} {
		d, err := wornFigure(t, size).draw()
		if err != nil {
			t.Fatal(err)
		}
		texts := checkTexts(t, d)
		for _, want := range []string{"oil before", "oil after", "taken and laid down", "last 20 ft, board, from the left (shaded: the pocket)", "board, from the left", "before shot 20", "pocket share of a block, %", "deliveries of the session"} {
			if !slices.Contains(texts, want) {
				t.Errorf("no %q among the texts", want)
			}
		}
	}
}

func TestWearNeedsOilAndShares(t *testing.T) {
	f := wornFigure(t, Sheet)
	f.Shares = nil
	if _, err := f.draw(); err == nil {
		t.Error("drawn without shares")
	}
	f = wornFigure(t, Sheet)
	f.After = nil
	if _, err := f.draw(); err == nil {
		t.Error("drawn without oil")
	}
}
