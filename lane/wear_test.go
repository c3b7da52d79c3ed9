package lane

import (
	"math"
	"math/rand/v2"
	"testing"

	"lanesim/units"

	"pgregory.net/rapid"
)

// Sums of some ten thousand volumes keep about 12 digits.
const volumeRounding = 1e-11

func wearable(t *rapid.T) Lane {
	l := Default()
	rows := rapid.IntRange(2, 12).Draw(t, "rows")
	distances, units := []float64{}, [][]float64{}
	x := 0.0
	film := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "film"), 1))
	for range rows {
		distances = append(distances, x)
		row := make([]float64, Boards)
		for j := range row {
			row[j] = 60 * film.Float64()
		}
		units = append(units, row)
		x += rapid.Float64Range(0.2, 1.6).Draw(t, "row spacing")
	}
	oil, err := NewBoardOilMap(distances, units)
	if err != nil {
		t.Fatal(err)
	}
	l.Oil = oil
	return l
}

func TestWearingStartsWithTheLanesOil(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := wearable(t)
		w, err := NewWearing(l, rapid.IntRange(1, 8).Draw(t, "columns per board")*2, rapid.Float64Range(0.05, 1).Draw(t, "rows"))
		if err != nil {
			t.Fatal(err)
		}
		want := l.Oil.Volume(0, l.Length)
		// The film falls to 0 within the jump, a micrometre.
		if got := w.Volume(); math.Abs(got-want) > want*2*Jump/l.Oil.Length()+volumeRounding*want {
			t.Errorf("%g m³, not %g", got, want)
		}
		if got := w.Map.Volume(0, l.Length); math.Abs(got-w.Volume()) > volumeRounding*want {
			t.Errorf("the map says %g m³, the areas %g", got, w.Volume())
		}
		for range 20 {
			x, y := rapid.Float64Range(0, l.Length).Draw(t, "x"), rapid.Float64Range(-Width/2, Width/2).Draw(t, "y")
			if x > l.Oil.Length() && x < l.Oil.Length()+Jump {
				continue
			}
			if got, want := w.Map.Thickness(x, y), l.Oil.Thickness(x, y); math.Abs(got-want) > 1e-9*60*units.OilUnit {
				t.Errorf("%g m at (%g, %g), not %g", got, x, y, want)
			}
		}
	})
}

func TestWearingKeepsTheOil(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, err := NewWearing(wearable(t), 4, 0.15)
		if err != nil {
			t.Fatal(err)
		}
		start := w.Volume()
		size, total := start, 0.0
		for range rapid.IntRange(1, 60).Draw(t, "exchanges") {
			v := rapid.Float64Range(-1e-9, 3e-9).Draw(t, "volume")
			w.Exchange(rapid.Float64Range(-0.1, 18.4).Draw(t, "x"), rapid.Float64Range(-0.55, 0.55).Draw(t, "y"),
				rapid.Float64Range(-0.1, 0.6).Draw(t, "length"), rapid.Float64Range(1e-3, 30e-3).Draw(t, "width"), v)
			total += v
			size += math.Abs(v)
			for _, f := range w.Map.Film {
				if !(f >= 0) {
					t.Fatalf("film of %g m", f)
				}
			}
		}
		if off := math.Abs(w.Volume() - w.Short() + total - start); off > volumeRounding*size {
			t.Errorf("%g m³ lost of %g", off, size)
		}
	})
}

// What is laid down in one place raises the film there and nowhere else.
func TestWearingLaysOilWhereTheBallIs(t *testing.T) {
	l := Default()
	units := [][]float64{make([]float64, Boards), make([]float64, Boards)}
	l.Oil, _ = NewBoardOilMap([]float64{0, 12}, units)
	w, err := NewWearing(l, 4, 0.15)
	if err != nil {
		t.Fatal(err)
	}
	const volume, width, length = 1e-9, 6.5e-3, 0.08
	x, y := 14.0, Lateral(12)
	w.Exchange(x, y, length, width, -volume)
	if got := w.Map.Volume(x-0.4, x+0.4); math.Abs(got-volume) > 1e-9*volume {
		t.Errorf("%g m³ near the place, not %g", got, volume)
	}
	if f := w.Map.Thickness(x, y); !(f > 0) {
		t.Error("no film where oil was laid down")
	}
	if f := w.Map.Thickness(x, y+0.05); f != 0 {
		t.Errorf("film of %g m beside it", f)
	}
}

func TestWearingNeedsOil(t *testing.T) {
	if _, err := NewWearing(Default(), 4, 0.15); err == nil {
		t.Error("a dry lane wears")
	}
}
