package plots

import (
	"bytes"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/pins"
)

// inventedSpares has n leaves, of one pin and of many, converted never, now and then and
// always, and one to which no line leads.
func inventedSpares(n int, hand ball.Hand) spareSheet {
	s := spareSheet{Name: "A bowler with a long name with a ball of a long name, too, on a lane", Hand: hand}
	for i := range n {
		r := spareRow{Leave: pins.Leave(1 + i*41%1023), Found: i%7 != 3, Feet: 38.5, Laydown: 31.5, Arrows: -10.5, Board: float64(i%45) - 2,
			Share: float64(i%6) / 5, Low: max(0, float64(i%6)/5-0.07), High: min(1, float64(i%6)/5+0.07), Stays: pins.Leave(i * 41 % 1023)}
		if i%3 > 0 {
			r.Window = physics.Window{Min: r.Board - 6, Max: r.Board + 1}
		}
		s.Rows = append(s.Rows, r)
	}
	return s
}

func TestTextsOfSparesDoNotCollide(t *testing.T) {
	for _, size := range []Size{Sheet, Phone} {
		for _, n := range []int{1, 2, MaxSpareSheets} {
			f := spareFigure{Title: "Spares", Note: "Lines at leaves.", Size: size}
			for i := range n {
				f.Sheets = append(f.Sheets, inventedSpares(25, ball.Hand(i%2)))
			}
			d, err := f.draw()
			if err != nil {
				t.Fatal(err)
			}
			words := strings.Join(checkTexts(t, d), "\n")
			for _, want := range []string{"A bowler with a long name", "feet", "converted", "38.5", "−10.5", "100 %", "Boards are counted"} {
				if !strings.Contains(words, want) {
					t.Errorf("%d sheets, size %d: %q is missing", n, size, want)
				}
			}
			var b bytes.Buffer
			if err := d.Write(&b, ".svg"); err != nil || strings.Contains(b.String(), "NaN") {
				t.Errorf("%v, or a place that is no number", err)
			}
		}
	}
	for _, f := range []spareFigure{{}, {Sheets: make([]spareSheet, 1)}, {Sheets: make([]spareSheet, MaxSpareSheets+1)}} {
		if _, err := f.draw(); err == nil {
			t.Errorf("%d sheets: no error", len(f.Sheets))
		}
	}
}

// The usual twenty-five leaves stand on one page of either paper, with what is said of
// them.
func TestSparesFitAPage(t *testing.T) {
	for _, paper := range Papers() {
		f := spareFigure{Title: "Spares", Note: "Lines at leaves.", Sheets: []spareSheet{inventedSpares(25, ball.Right), {}, inventedSpares(3, ball.Left)}}
		pages, err := f.pages(paper)
		if err != nil || len(pages) != 2 {
			t.Fatal(len(pages), err)
		}
		for _, d := range pages {
			if d.Width != paper.Width || d.Height != paper.Height {
				t.Errorf("a page of %g × %g points", d.Width, d.Height)
			}
			if words := strings.Join(checkTexts(t, d), "\n"); !strings.Contains(words, "Converted: share") {
				t.Error("the key is cut off")
			}
		}
		f.Sheets = []spareSheet{inventedSpares(120, ball.Right)}
		if _, err := f.pages(paper); err == nil {
			t.Error("a page of 120 leaves")
		}
	}
}
