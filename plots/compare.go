package plots

import (
	"errors"
	"fmt"
	"math"

	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/units"
)

// MaxCompared is how many shots a block of a comparison takes.
const MaxCompared = maxOverlay

// compareFigure says what is to be drawn of a comparison.
type compareFigure struct {
	Title string
	Note  string // a sentence under the title

	// Matrix, if not nil, stands above the blocks.
	Matrix *tintedTable

	// Blocks are drawn as small multiples, all to the same scales.
	Blocks []comparedShots

	// Pocket is the window of boards at the pins that is marked as the
	// pocket; zero means [physics.DefaultPocket].
	Pocket physics.Window

	// Visible, if not 0, is the difference in boards below which none can be seen.
	Visible float64

	Size Size
}

// comparedShots is what is compared with each other: the shots of one bowler. The
// first shot is the one that the others are measured against.
type comparedShots struct {
	Name   string // may be empty if it is the only one
	Lane   lane.Lane
	Series []Series

	// ContactWidths are the widths in m of the contacts on the balls' covers,
	// one for each of the series.
	ContactWidths []float64
}

// draw draws the matrix and, for each block, the shots over the oil, the last 20 ft
// enlarged, the boards between them against distance, and what their tracks over the ball do: how far a
// turn's track lies from the last one's, against the width of the contact, and
// the film that the contact meets on the ball. Where no shot keeps a track those
// two panels are left out.
//
// It is an error if a block has fewer than two shots or more than MaxCompared,
// or if a shot has no path.
func (f compareFigure) draw() (*Drawing, error) {
	if len(f.Blocks) == 0 {
		return nil, errors.New("plots: nothing to compare")
	}
	var blocks []*compareBlock
	tracked := false
	for _, b := range f.Blocks {
		if n := len(b.Series); n < 2 || n > MaxCompared || len(b.ContactWidths) != n {
			return nil, fmt.Errorf("plots: %d shots with %d widths of contact: a block takes 2 to %d of both", n, len(b.ContactWidths), MaxCompared)
		}
		v, err := newView(Figure{Title: f.Title, Note: f.Note, Lane: b.Lane, Series: b.Series, Pocket: f.Pocket, Size: f.Size})
		if err != nil {
			return nil, err
		}
		graphs, known := b.graphs(f.Visible)
		tracked = tracked || known
		blocks = append(blocks, &compareBlock{comparedShots: b, view: v, graphs: graphs, end: b.enlarged(v)})
	}
	unite(blocks, tracked)
	p := blocks[0].view.page()
	p.heading(blocks[0].view)
	if f.Matrix != nil {
		p.matrix(f.Matrix)
	}
	if len(blocks) == 1 {
		p.oneBlock(blocks[0])
	} else {
		p.manyBlocks(blocks)
	}
	return p.finish(), nil
}

// compareBlock is a block with what is drawn of it.
type compareBlock struct {
	comparedShots
	view   *view
	graphs []graph
	end    graph
}

// mostDetailed is the number of blocks up to which the panels below the enlarged one
// are drawn.
const mostDetailed = 3

// unite gives all blocks the same scales. It takes the panels of tracks away if there
// are none, and all but the enlarged one if there are many blocks.
func unite(blocks []*compareBlock, tracked bool) {
	first := *blocks[0].view
	for _, b := range blocks {
		first.end, first.low, first.high = max(first.end, b.view.end), min(first.low, b.view.low), max(first.high, b.view.high)
		first.fullScale = max(first.fullScale, b.view.oilFullScale())
	}
	for _, b := range blocks {
		b.view.end, b.view.low, b.view.high, b.view.fullScale = first.end, first.low, first.high, first.fullScale
		switch {
		case len(blocks) > mostDetailed:
			b.graphs = nil
		case !tracked:
			b.graphs = b.graphs[:1]
		}
	}
	ends := emptySpan()
	for _, b := range blocks {
		ends.include(b.end.axis.min)
		ends.include(b.end.axis.max)
	}
	for _, b := range blocks {
		b.end.axis = span{math.Floor(ends.min), math.Ceil(ends.max)}
	}
	for i := range blocks[0].graphs {
		axis := emptySpan()
		for _, b := range blocks {
			axis.include(b.graphs[i].axis.min)
			axis.include(b.graphs[i].axis.max)
		}
		for _, b := range blocks {
			b.graphs[i].axis = axis.rounded(panelTicks)
		}
	}
}

// differenceSpacing is that of points of the boards between paths, in m.
const differenceSpacing = 0.25 * units.Foot

// leastDifference is the least height of that panel's axis, in boards.
const leastDifference = 1.0

// graphs are the panels below the lane, and whether a track is known.
func (b comparedShots) graphs(visible float64) (list []graph, tracked bool) {
	apart := graph{
		label: "boards inside " + named(b.Series, 0),
		unit:  " boards", values: true, zero: true, axis: emptySpan(),
		band: visible, bothWays: true,
	}
	if visible > 0 {
		apart.label += " (shaded: too few to see)"
	}
	apart.axis.include(0)
	base := b.Series[0].Shot.Path
	for i, s := range b.Series {
		c := graphCurve{shot: i}
		for k := 0; i > 0; k++ {
			x := float64(k) * differenceSpacing
			if x > s.Shot.Path[len(s.Shot.Path)-1].Distance {
				break
			}
			c.add(x, studies.BoardAt(s.Shot.Path, x)-studies.BoardAt(base, x), &apart.axis)
		}
		if last := s.Shot.Path[len(s.Shot.Path)-1].Distance; i > 0 {
			c.add(last, studies.BoardAt(s.Shot.Path, last)-studies.BoardAt(base, last), &apart.axis)
			apart.curves = append(apart.curves, c)
		}
	}
	apart.axis = apart.axis.atLeast(leastDifference)

	spacing := graph{axis: emptySpan()}
	film := graph{label: "film that the ball brings, µm", axis: emptySpan()}
	spacing.axis.include(0)
	film.axis.include(0)
	film.axis.include(leastFilm)
	for i, s := range b.Series {
		width := b.ContactWidths[i] / units.Inch
		spacing.band = max(spacing.band, width)
		spacing.axis.include(1.5 * width)
		near, oil := graphCurve{shot: i}, graphCurve{shot: i}
		for _, m := range turnMeans(s.Shot.Track) {
			near.add(m.distance, m.spacing/units.Inch, &spacing.axis)
			oil.add(m.distance, m.film/units.Micrometre, &film.axis)
			tracked = true
		}
		spacing.curves = append(spacing.curves, near)
		film.curves = append(film.curves, oil)
	}
	spacing.label = "turn to turn on the ball, in (shaded: contact, " + decimal(spacing.band, 2) + ")"
	return []graph{apart, spacing, film}, tracked
}

// leastFilm is the least height of the axis of film, in um.
const leastFilm = 0.1

// turnMean is a mean over a turn of the ball.
type turnMean struct{ distance, spacing, film float64 }

// turnMeans smooths a track: where successive tracks cross, twice a turn, their
// distance falls to nothing, so the mean over the turn about a point says more
// than the point. It begins where a whole turn lies in the window, from half a turn
// to one and a half ago, in which the last pass is looked for.
func turnMeans(track []physics.TrackPoint) []turnMean {
	const begin = 3 * math.Pi
	var valid []physics.TrackPoint
	for _, p := range track {
		if p.Turned >= begin && finite(p.Spacing) && finite(p.Found) {
			valid = append(valid, p)
		}
	}
	if len(valid) < 2 || !(valid[1].Turned > valid[0].Turned) {
		return nil
	}
	// The points are evenly spaced in turning but for the last.
	half := max(1, int(math.Round(math.Pi/(valid[1].Turned-valid[0].Turned))))
	var means []turnMean
	for i, p := range valid {
		from, to := max(0, i-half), min(len(valid), i+half)
		m := turnMean{distance: p.Distance}
		for _, q := range valid[from:to] {
			m.spacing += q.Spacing / float64(to-from)
			m.film += q.Found / float64(to-from)
		}
		means = append(means, m)
	}
	return means
}
