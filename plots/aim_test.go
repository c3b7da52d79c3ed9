package plots

import (
	"bytes"
	"math"
	"strings"
	"testing"
)

// inventedAim has maps with a ridge, the best line on it.
func inventedAim(maps int, size Size) aimFigure {
	f := aimFigure{Title: "The best line", Note: "Best line: from board 26.5 over board 18.1.", Size: size}
	rooms := []aimRoom{
		{Label: "boards at the arrows", Sides: [2]string{"left", "right"}, Decimals: 2, Unlimited: "any"},
		{Label: "speed, mph", Sides: [2]string{"slower", "faster"}, Decimals: 2, Unlimited: "any"},
		{Label: "rev rate, rpm", Sides: [2]string{"less", "more"}, Decimals: 1, Unlimited: "any"},
	}
	for n := range maps {
		m := aimMap{Label: "share in the pocket, %", Best: aimLine{24, 15}, Words: "24.0 over 15.0: 52%", Others: []aimLine{{20, 10}, {28, 20}, {24.5, 15.5}}}
		if maps > 1 {
			m.Name = strings.Repeat("A ball of a long name ", n+1)
		}
		for i := range 21 {
			m.Laydown = append(m.Laydown, 12+float64(i))
			var column []float64
			for j := range 41 {
				x, y := 12+float64(i), 2+0.5*float64(j)
				column = append(column, 0.52*math.Exp(-math.Pow(y-15-1.2*(x-24), 2)-math.Pow((x-24)/4, 2)))
			}
			m.Share = append(m.Share, column)
		}
		for j := range 41 {
			m.Arrows = append(m.Arrows, 2+0.5*float64(j))
		}
		f.Maps = append(f.Maps, m)
		for k := range rooms {
			misses := [2]float64{0.3 * float64(k+n), 1.25}
			if n == k {
				misses[1] = math.NaN()
			}
			rooms[k].Misses = append(rooms[k].Misses, misses)
		}
	}
	f.Rooms = rooms
	return f
}

func TestTextsOfMapsOfLinesDoNotCollide(t *testing.T) {
	for _, size := range []Size{Sheet, Phone} {
		for _, maps := range []int{1, 2, 3, MaxAims} {
			d, err := inventedAim(maps, size).draw()
			if err != nil {
				t.Fatal(err)
			}
			words := strings.Join(checkTexts(t, d), "\n")
			for _, want := range []string{"24.0 over 15.0: 52%", "share in the pocket, %", "board at the laydown", "slower", "any"} {
				if !strings.Contains(words, want) {
					t.Errorf("%d maps, size %d: %q is missing", maps, size, want)
				}
			}

		}
	}
}

func TestMapsOfLinesAreRepeatable(t *testing.T) {
	for _, format := range Formats() {
		var written [2]bytes.Buffer
		for i := range written {
			d, err := inventedAim(2, Sheet).draw()
			if err != nil {
				t.Fatal(err)
			}
			if err := d.Write(&written[i], "."+format); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(written[0].Bytes(), written[1].Bytes()) || written[0].Len() == 0 {
			t.Errorf("%s: %d and %d bytes that differ", format, written[0].Len(), written[1].Len())
		}
	}
}

func TestMapsOfLinesNeedTheirValues(t *testing.T) {
	for name, spoil := range map[string]func(*aimFigure){
		"no map":      func(f *aimFigure) { f.Maps = nil },
		"one laydown": func(f *aimFigure) { f.Maps[0].Laydown = f.Maps[0].Laydown[:1] },
		"no shares":   func(f *aimFigure) { f.Maps[0].Share = f.Maps[0].Share[:3] },
		"no misses":   func(f *aimFigure) { f.Rooms[1].Misses = nil },
	} {
		f := inventedAim(1, Sheet)
		spoil(&f)
		if _, err := f.draw(); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
