package plots

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/physics"
)

// inventedTrack is a track that is no ball's: its turns lie farther and farther
// apart, with crossings twice a turn.
func inventedTrack(spacing float64) []physics.TrackPoint {
	var track []physics.TrackPoint
	for k := range 300 {
		turned := float64(k) * math.Pi / 12
		p := physics.TrackPoint{Turned: turned, Distance: turned / 300 * 12 / math.Pi * 18.288, Spacing: math.NaN()}
		if turned > math.Pi {
			p.Spacing = spacing * math.Abs(math.Sin(turned)) * (1 + turned/100)
			p.Found = 4e-7 * math.Exp(-turned/30)
		}
		track = append(track, p)
	}
	return track
}

func block(name string, series ...Series) comparedShots {
	b := comparedShots{Name: name, Lane: inventedLane(), Series: series}
	for i := range series {
		b.Series[i].Shot.Track = inventedTrack(0.004 * float64(i+1))
		b.ContactWidths = append(b.ContactWidths, 6.5e-3)
	}
	return b
}

func compareFigures() map[string]compareFigure {
	lost := tooWide().series("Too far out")
	bare := block("", four()[:2]...)
	for i := range bare.Series {
		bare.Series[i].Shot.Track = nil
	}
	dry := block("On dry boards", four()[:2]...)
	dry.Lane.Oil = nil
	long := four()[:2]
	long[0].Name, long[1].Name = "A ball with quite a long name, pin far", "A ball with quite a long name, pin near"
	note := "No difference that could be seen (below 1 ft and 0.5 board): Pin near reads the friction about 0.8 ft later than Pin far and ends 0.4 board farther right, on board 17.1, not 17.5."
	return map[string]compareFigure{
		"two":    {Title: "Two layouts", Note: note, Visible: 0.5, Blocks: []comparedShots{block("", four()[:2]...)}},
		"four":   {Title: "Four balls", Note: note, Blocks: []comparedShots{block("", four()...)}},
		"bare":   {Title: "Without tracks", Note: note, Blocks: []comparedShots{bare}},
		"long":   {Title: "Long names", Note: note, Blocks: []comparedShots{block("", long...)}},
		"lost":   {Title: "One lost", Note: note, Blocks: []comparedShots{block("", usual().series("Good"), lost)}},
		"three":  {Title: "Three bowlers", Note: note, Visible: 0.5, Blocks: []comparedShots{block("Low revs", four()[:2]...), block("Medium revs", four()[:2]...), block("High revs, a bowler with a name that is far too long for a column", four()[:2]...)}},
		"uneven": {Title: "Blocks that differ", Note: note, Blocks: []comparedShots{block("One", four()...), block("Other", usual().series("Good"), lost), dry}},
	}
}

func TestComparedTextsDoNotCollide(t *testing.T) {
	for name, f := range compareFigures() {
		for _, f.Size = range []Size{Sheet, Phone} {
			t.Run(fmt.Sprintf("%s/%d", name, f.Size), func(t *testing.T) {
				d, err := f.draw()
				if err != nil {
					t.Fatal(err)
				}
				texts := checkTexts(t, d)
				all := strings.Join(texts, " ")
				for _, b := range f.Blocks {
					for i := range b.Series {
						if head := named(b.Series, i)[:4]; !strings.Contains(all, head) {
							t.Errorf("shot %q is not named", b.Series[i].Name)
						}
					}
				}
				wants := []string{"boards inside "}
				if f.Visible > 0 {
					wants = append(wants, "shaded: too few to see")
				}
				if name != "bare" {
					wants = append(wants, "shaded: contact, 0.26", "film that the ball brings, µm")
				} else if strings.Contains(all, "film that") {
					t.Error("a panel of film without a track")
				}
				for _, want := range wants {
					if !strings.Contains(all, want) {
						t.Errorf("no %q", want)
					}
				}
			})
		}
	}
}

func TestComparedPicturesAreRepeatable(t *testing.T) {
	for _, format := range Formats() {
		var files [2]bytes.Buffer
		for i := range files {
			d, err := compareFigures()["uneven"].draw()
			if err != nil {
				t.Fatal(err)
			}
			if err := d.Write(&files[i], format); err != nil {
				t.Fatal(err)
			}
		}
		if files[0].Len() < 1000 || !bytes.Equal(files[0].Bytes(), files[1].Bytes()) {
			t.Errorf("%s: %d and %d bytes", format, files[0].Len(), files[1].Len())
		}
	}
}

func TestBlocksThatCannotBeComparedAreErrors(t *testing.T) {
	narrow := block("", four()[:2]...)
	narrow.ContactWidths = nil
	bare := block("", four()[:2]...)
	bare.Series[1].Shot.Path = nil
	five := block("", append(four(), usual().series("Fifth"))...)
	for name, f := range map[string]compareFigure{
		"nothing": {}, "one shot": {Blocks: []comparedShots{block("", four()[:1]...)}},
		"no widths": {Blocks: []comparedShots{narrow}}, "no path": {Blocks: []comparedShots{bare}}, "five": {Blocks: []comparedShots{five}},
	} {
		if _, err := f.draw(); err == nil {
			t.Errorf("%s gives no error", name)
		}
	}
}

// A mean over whole turns of a spacing that swings twice a turn hardly swings:
// the mean of |sin| is 2/π.
func TestTurnMeansAreMeansOfATurn(t *testing.T) {
	means := turnMeans(inventedTrack(1))
	if len(means) < 200 {
		t.Fatal(len(means))
	}
	for _, m := range means[12 : len(means)-12] {
		turned := m.distance / 18.288 * 300 / 12 * math.Pi
		want := 2 / math.Pi * (1 + turned/100)
		// Sums over 24 points of a turn fall short of |sin|'s integral by
		// (π/12)²/12 of it, 0.6 %, and the half-open turn's middle lies half a
		// point behind.
		const off = 0.01
		if math.Abs(m.spacing/want-1) > off {
			t.Errorf("after %.1f rad a mean of %g, not %g", turned, m.spacing, want)
		}
	}
}

// A left-hander's boards beside a right-hander's are not said to count from the right.
func TestBoardsOfBothHandsAreNamed(t *testing.T) {
	left := block("Left", four()[:2]...)
	for i := range left.Series {
		left.Series[i].Hand = ball.Left
	}
	d, err := (compareFigure{Title: "Both hands", Note: "None.", Blocks: []comparedShots{block("Right", four()[:2]...), left}}).draw()
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Join(d.Texts(), "\n")
	if !strings.Contains(text, "board, from each bowler's own side") || strings.Contains(text, "from the right") {
		t.Errorf("boards are named wrong:\n%s", text)
	}
}
