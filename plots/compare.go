package plots

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"lanesim/internal/input"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/studies"
	"lanesim/units"
)

// MaxCompared is the largest number of shots in a block of a comparison.
const MaxCompared = maxOverlay

// compareBlock is a set of shots of one bowler that are compared. The others are measured
// against the first.
type compareBlock struct {
	*view
	name   string    // may be empty if it is the only one
	widths []float64 // m, of the contacts on the balls' covers, one for each of the series
	graphs []graph
	last   graph // the last feet, enlarged
}

// newBlock is a block, with what is drawn of it. A difference of fewer than visible boards
// cannot be seen. It is an error if there are fewer than two shots or more than MaxCompared, or
// if one has no path.
func newBlock(f Figure, name string, widths []float64, visible float64) (*compareBlock, error) {
	if n := len(f.Series); n < 2 || n > MaxCompared || len(widths) != n {
		return nil, fmt.Errorf("plots: %d shots with %d widths of contact: a block takes 2 to %d of both", n, len(widths), MaxCompared)
	}
	v, err := newView(f)
	if err != nil {
		return nil, err
	}
	b := &compareBlock{view: v, name: name, widths: widths, last: v.enlarged()}
	b.graphs = append([]graph{b.apart(visible)}, b.trackGraphs()...)
	return b, nil
}

// DrawComparison draws a comparison, of whose shots the lanes are: a table if there are several
// pairs, and a block for each of the panels, which list shots, or several where one has more
// shots than a block takes. Each block begins with the panel's first shot.
func DrawComparison(c *thrown.Comparison, lanes []lane.Lane, panels [][]int, size Size) (*Drawing, error) {
	var lists [][]int
	for _, all := range panels {
		for rest := range slices.Chunk(all[1:], MaxCompared-1) {
			lists = append(lists, append([]int{all[0]}, rest...))
		}
	}
	if len(lists) > MaxSeries/MaxCompared {
		return nil, input.Wrong("%d sets of shots are too many for a picture, which shows up to %d", len(lists), MaxSeries/MaxCompared)
	}
	f := Figure{Title: c.Title, Note: c.Answer(), Pocket: c.Shots[0].Pocket, Size: size}
	if line := c.Shots[0].LineText(); len(lists) == 1 && !slices.ContainsFunc(c.Shots, func(s thrown.Shot) bool { return s.LineText() != line }) {
		f.Note += " The line: " + line + "."
	}
	if onSeveralLanes(c, lists) {
		f.Note += " The oil shown is that of the first lane."
	}
	var blocks []*compareBlock
	for _, shots := range lists {
		var widths []float64
		f.Lane, f.Series = lanes[shots[0]], nil
		for k, i := range shots {
			other := shots[0]
			if k == 0 {
				other = shots[1]
			}
			name, _ := c.Names(i, other)
			f.Series = append(f.Series, Series{Name: name, Shot: c.Result.Shots[i].Shot, Hand: c.Shots[i].Release.Hand, Line: c.Shots[i].LineText()})
			widths = append(widths, c.Result.Shots[i].ContactWidth)
		}
		b, err := newBlock(f, common(c, shots), widths, c.Result.Visible.Boards)
		if err != nil {
			return nil, err
		}
		blocks = append(blocks, b)
	}
	var pairs *tintedTable
	if len(c.Result.Pairs) > 1 {
		pairs = compareMatrix(c)
	}
	return drawBlocks(blocks, pairs)
}

// common names the bowler, line and lane that shots share and other shots do not.
func common(c *thrown.Comparison, shots []int) string {
	var names []string
	for _, of := range []func(thrown.Shot) string{
		func(s thrown.Shot) string { return s.Person }, func(s thrown.Shot) string { return s.Line }, func(s thrown.Shot) string { return s.Lane },
	} {
		name := of(c.Shots[shots[0]])
		same := !slices.ContainsFunc(shots, func(i int) bool { return of(c.Shots[i]) != name })
		alike := !slices.ContainsFunc(c.Shots, func(s thrown.Shot) bool { return of(s) != name })
		if same && name != "" && (!alike || len(names) == 0) {
			names = append(names, name)
		}
	}
	return strings.Join(names, ", ")
}

// compareMatrix is the table of the pairs.
func compareMatrix(c *thrown.Comparison) *tintedTable {
	m := &tintedTable{}
	var rows []string
	for p := range c.Pairs() {
		row, column := p.Place()
		k, i := slices.Index(m.Columns, column), slices.Index(rows, row)
		if k < 0 {
			k, m.Columns = len(m.Columns), append(m.Columns, column)
		}
		if i < 0 {
			i, rows, m.Rows = len(rows), append(rows, row), append(m.Rows, tintedRow{Name: row})
		}
		r := &m.Rows[i]
		for len(r.Cells) <= k {
			r.Cells = append(r.Cells, tintedCell{})
		}
		r.Cells[k] = tintedCell{Lines: p.PairText(), Boards: p.Difference.AtPins, Unseen: !p.Visible}
	}
	return m
}

func onSeveralLanes(c *thrown.Comparison, blocks [][]int) bool {
	return slices.ContainsFunc(blocks, func(shots []int) bool {
		return slices.ContainsFunc(shots, func(i int) bool { return c.Shots[i].Lane != c.Shots[shots[0]].Lane })
	})
}

// drawBlocks draws the table and, for each block, the shots over the oil, the last 20 ft
// enlarged, the boards between them against distance, and what their tracks over the ball
// do: how far a turn's track lies from the last one's, against the width of the contact, and
// the film that the contact meets on the ball. Where no shot keeps a track those
// two panels are left out. It is an error if there is no block.
func drawBlocks(blocks []*compareBlock, pairs *tintedTable) (*Drawing, error) {
	if len(blocks) == 0 {
		return nil, errors.New("plots: nothing to compare")
	}
	uniteBlocks(blocks)
	p := blocks[0].page()
	p.heading(blocks[0].view)
	if pairs != nil {
		p.matrix(pairs)
	}
	if len(blocks) == 1 {
		p.oneBlock(blocks[0])
	} else {
		p.manyBlocks(blocks)
	}
	return p.finish(), nil
}

// mostDetailed is the number of blocks up to which the panels below the enlarged one
// are drawn.
const mostDetailed = 3

// uniteBlocks gives all blocks the same scales. It takes the panels of tracks away if there
// are none, and all but the enlarged one if there are many blocks.
func uniteBlocks(blocks []*compareBlock) {
	var views []*view
	ends, tracked := emptySpan(), false
	for _, b := range blocks {
		views = append(views, b.view)
		ends.join(b.last.axis)
		tracked = tracked || slices.ContainsFunc(b.graphs[1].curves, func(c graphCurve) bool { return len(c.x) > 0 })
	}
	unite(views)
	for _, b := range blocks {
		b.last.axis = span{math.Floor(ends.min), math.Ceil(ends.max)}
		switch {
		case len(blocks) > mostDetailed:
			b.graphs = nil
		case !tracked:
			b.graphs = b.graphs[:1]
		}
	}
	for i := range blocks[0].graphs {
		axis := emptySpan()
		for _, b := range blocks {
			axis.join(b.graphs[i].axis)
		}
		for _, b := range blocks {
			b.graphs[i].axis = axis.rounded(panelTicks)
		}
	}
}

// differenceSpacing is the spacing in m of the points at which the boards between paths are
// drawn.
const differenceSpacing = 0.25 * units.Foot

// leastDifference is the least height of the axis of the boards between paths, in boards.
const leastDifference = 1.0

// apart is the panel of the boards between the shots.
func (b *compareBlock) apart(visible float64) graph {
	g := graph{label: "boards inside " + named(b.Series, 0), unit: " boards", values: true, zero: true, band: visible, bothWays: true}
	if visible > 0 {
		g.label += " (shaded: too few to see)"
	}
	base := b.Series[0].Shot.Path
	for i, s := range b.Series[1:] {
		path := s.Shot.Path
		c := graphCurve{shot: i + 1}
		at := func(x float64) { c.add(x, studies.BoardAt(path, x)-studies.BoardAt(base, x), &g.axis) }
		last := path[len(path)-1].Distance
		for k := 0; float64(k)*differenceSpacing <= last; k++ {
			at(float64(k) * differenceSpacing)
		}
		at(last)
		g.curves = append(g.curves, c)
	}
	g.axis = g.axis.atLeast(leastDifference)
	return g
}

// trackGraphs returns the panels of the tracks' spacing and film.
func (b *compareBlock) trackGraphs() []graph {
	film := graph{label: "film that the ball brings, µm", axis: span{0, leastFilm}}
	spacing := graph{}
	for i, s := range b.Series {
		width := b.widths[i] / units.Inch
		spacing.band = max(spacing.band, width)
		spacing.axis.include(1.5 * width)
		near, oil := graphCurve{shot: i}, graphCurve{shot: i}
		for _, m := range turnMeans(s.Shot.Track) {
			near.add(m.distance, m.spacing/units.Inch, &spacing.axis)
			oil.add(m.distance, m.film/units.Micrometre, &film.axis)
		}
		spacing.curves, film.curves = append(spacing.curves, near), append(film.curves, oil)
	}
	spacing.label = "turn to turn on the ball, in (shaded: contact, " + report.Fixed(spacing.band, 2) + ")"
	return []graph{spacing, film}
}

// leastFilm is the least height of the axis of film, in um.
const leastFilm = 0.1

// turnMean is a mean over a turn of the ball.
type turnMean struct{ distance, spacing, film float64 }

// turnMeans smooths a track: where successive tracks cross, twice a turn, their distance
// falls to 0, so the mean over the turn about a point is more useful than the value at the
// point. It begins where a whole turn lies in the window, from half a turn to one and a
// half before, in which the last pass is found.
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
	// The points are evenly spaced in the angle of rotation, except the last.
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
