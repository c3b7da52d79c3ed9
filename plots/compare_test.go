package plots

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/physics"
)

// inventedTrack makes a track whose turns lie farther and farther apart and cross twice a
// turn.
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

// comparedBlock is a block of a picture.
type comparedBlock struct {
	name   string
	figure Figure
	widths []float64
}

func block(name string, series ...Series) comparedBlock {
	b := comparedBlock{name: name, figure: Figure{Lane: inventedLane(), Series: series}}
	for i := range series {
		series[i].Shot.Track = inventedTrack(0.004 * float64(i+1))
		b.widths = append(b.widths, 6.5e-3)
	}
	return b
}

// drawCompared draws blocks with a title.
func drawCompared(title string, visible float64, size Size, list ...comparedBlock) (*Drawing, error) {
	var blocks []*compareBlock
	for _, b := range list {
		b.figure.Title, b.figure.Size = title, size
		b.figure.Note = "No visible difference (below 1 ft and 0.5 board): Pin near reads the friction about 0.8 ft later than Pin far and ends 0.4 board farther right, on board 17.1, not 17.5."
		one, err := newBlock(b.figure, b.name, b.widths, visible)
		if err != nil {
			return nil, err
		}
		blocks = append(blocks, one)
	}
	return drawBlocks(blocks, nil)
}

// comparedFigures returns lists of blocks by the titles of their pictures.
func comparedFigures() map[string][]comparedBlock {
	lost := tooWide().series("Too far out")
	bare := block("", four()[:2]...)
	for i := range bare.figure.Series {
		bare.figure.Series[i].Shot.Track = nil
	}
	dry := block("On dry boards", four()[:2]...)
	dry.figure.Lane.Oil = nil
	long := four()[:2]
	long[0].Name, long[1].Name = "A ball with quite a long name, pin far", "A ball with quite a long name, pin near"
	return map[string][]comparedBlock{
		"two, visible":   {block("", four()[:2]...)},
		"four":           {block("", four()...)},
		"bare":           {bare},
		"long":           {block("", long...)},
		"lost":           {block("", usual().series("Good"), lost)},
		"three, visible": {block("Low revs", four()[:2]...), block("Medium revs", four()[:2]...), block("High revs, a bowler with a name that is far too long for a column", four()[:2]...)},
		"uneven":         {block("One", four()...), block("Other", usual().series("Good"), lost), dry},
	}
}

func TestComparedTextsDoNotCollide(t *testing.T) {
	for name, blocks := range comparedFigures() {
		for _, size := range sizes {
			t.Run(fmt.Sprintf("%s/%d", name, size), func(t *testing.T) {
				visible := 0.0
				words := []string{"boards inside "}
				if strings.HasSuffix(name, "visible") {
					visible, words = 0.5, append(words, "shaded: too few to see")
				}
				if name != "bare" {
					words = append(words, "shaded: contact, 0.26", "film that the ball brings, µm")
				}
				for _, b := range blocks {
					for i := range b.figure.Series {
						words = append(words, named(b.figure.Series, i)[:4])
					}
				}
				d := checkSays(t, words, func() (*Drawing, error) { return drawCompared(name, visible, size, blocks...) })
				if name == "bare" && strings.Contains(strings.Join(d.Texts(), " "), "film that") {
					t.Error("a panel of film without a track")
				}
			})
		}
	}
}

func TestComparedPicturesAreRepeatable(t *testing.T) {
	checkRepeatable(t, func() (*Drawing, error) { return drawCompared("Uneven", 0, Sheet, comparedFigures()["uneven"]...) })
}

func TestBlocksThatCannotBeComparedAreErrors(t *testing.T) {
	narrow := block("", four()[:2]...)
	narrow.widths = nil
	bare := block("", four()[:2]...)
	bare.figure.Series[1].Shot.Path = nil
	for name, blocks := range map[string][]comparedBlock{
		"nothing": nil, "one shot": {block("", four()[:1]...)}, "no widths": {narrow}, "no path": {bare},
		"five": {block("", append(four(), usual().series("Fifth"))...)},
	} {
		if _, err := drawCompared(name, 0, Sheet, blocks...); err == nil {
			t.Errorf("%s gives no error", name)
		}
	}
}

// The mean over a whole turn hardly varies if the spacing varies twice a turn: the mean of
// |sin| is 2/π.
func TestTurnMeansAreMeansOfATurn(t *testing.T) {
	means := turnMeans(inventedTrack(1))
	if len(means) < 200 {
		t.Fatal(len(means))
	}
	for _, m := range means[12 : len(means)-12] {
		turned := m.distance / 18.288 * 300 / 12 * math.Pi
		want := 2 / math.Pi * (1 + turned/100)
		// Sums over 24 points of a turn are below the integral of |sin| by (π/12)²/12, 0.6 %,
		// and the middle of the half-open turn is half a point late.
		const off = 0.01
		if math.Abs(m.spacing/want-1) > off {
			t.Errorf("after %.1f rad a mean of %g, not %g", turned, m.spacing, want)
		}
	}
}

// If both hands are drawn together, the axis does not say that boards count from the right.
func TestBoardsOfBothHandsAreNamed(t *testing.T) {
	left := block("Left", four()[:2]...)
	for i := range left.figure.Series {
		left.figure.Series[i].Hand = ball.Left
	}
	d := checkSays(t, []string{"board, from each bowler's own side"}, func() (*Drawing, error) {
		return drawCompared("Both hands", 0, Sheet, block("Right", four()[:2]...), left)
	})
	if strings.Contains(strings.Join(d.Texts(), "\n"), "from the right") {
		t.Error("boards of both hands count from the right")
	}
}
