package plots

import (
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/pins"
	"lanesim/report/studied"
	"lanesim/studies"
)

// inventedSpares makes a player for each number, with that many leaves: of one pin and of
// many; converted never, sometimes and always; and some that no line reaches.
func inventedSpares(counts ...int) *studied.Spares {
	w := &studied.Spares{Title: "Spares"}
	for k, n := range counts {
		player := studied.Player{Bowler: "A bowler with a long name", Ball: "a ball of a long name, too,", Lane: "a lane"}
		player.Setup.Release.Hand = ball.Hand(k % 2)
		var lines []studied.SpareLine
		for i := range n {
			l := studied.SpareLine{Found: i%7 != 3, Feet: 38.5}
			l.SpareResult.Leave = pins.Leave(1 + i*41%1023)
			l.Leave, l.Release.Laydown, l.Arrows, l.Entry.Board = l.SpareResult.Leave, 31.5, -10.5, float64(i%45)-2
			l.Converted, l.Outcomes = studies.Count{Hits: 40 * (i % 6), Of: 200}, []pins.Leave{pins.Leave(i * 41 % 1023)}
			if i%3 > 0 {
				l.Window = physics.Window{Min: l.Entry.Board - 6, Max: l.Entry.Board + 1}
			}
			lines = append(lines, l)
		}
		w.Players, w.Lines = append(w.Players, player), append(w.Lines, lines)
	}
	return w
}

func TestTextsOfSparesDoNotCollide(t *testing.T) {
	for _, size := range sizes {
		for _, w := range []*studied.Spares{inventedSpares(25), inventedSpares(25, 25), inventedSpares(25, 25, 25, 25, 25, 25)} {
			words := []string{"A bowler with a long name", "feet", "converted", "38.5", "−10.5", "100 %", "Boards are counted"}
			checkSays(t, words, func() (*Drawing, error) { return DrawSpares(w, size) })
		}
	}
	for _, w := range []*studied.Spares{inventedSpares(), inventedSpares(0), inventedSpares(1, 1, 1, 1, 1, 1, 1)} {
		if _, err := DrawSpares(w, Sheet); err == nil {
			t.Errorf("%d players: no error", len(w.Players))
		}
	}
}

// The usual twenty-five leaves fit on one page of either paper, with their notes.
func TestSparesFitAPage(t *testing.T) {
	for _, paper := range Papers() {
		pages, err := SparePages(inventedSpares(25, 0, 3), paper)
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
		if _, err := SparePages(inventedSpares(120), paper); err == nil {
			t.Error("a page of 120 leaves")
		}
	}
}
