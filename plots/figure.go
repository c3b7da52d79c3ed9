package plots

import (
	"errors"
	"fmt"
	"image/color"
	"math"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/units"
)

// MaxSeries is the largest number of shots in a figure. Up to four share a panel; more get
// panels of their own.
const MaxSeries = 48

// Series is one shot of a figure.
type Series struct {
	Name string // labels the shot; may be empty if it is the only one
	Shot physics.Shot
	Hand ball.Hand

	// Line is the bowler's line in words, such as "feet 29.0, arrows 14.0"; it may be empty.
	Line string
}

// Figure is the input of a figure of shots.
type Figure struct {
	Title string
	Note  string // a sentence under the title; empty means [Describe]

	// Lane is the lane itself, not mirrored for left-handers; its oil is drawn and its
	// length is the place of the pins.
	Lane lane.Lane

	Series []Series

	// Pocket is the window of boards at the pins that is marked as the
	// pocket; zero means [physics.DefaultPocket].
	Pocket physics.Window

	Size Size
}

// errNoPath is the error for a shot without a path.
var errNoPath = errors.New("has no path to draw")

// view is a figure with the scales that all its shots share.
type view struct {
	Figure
	measures measures

	side side
	end  float64 // distance in ft at the right edge
	pins bool    // whether the right edge is where the pins stand
	low  float64 // board at the lower edge
	high float64 // board at the upper edge

	fullScale float64 // units at the full end of the oil's ramp, if it is set
}

// side is how boards are counted in a figure.
type side int

const (
	fromRight     side = iota // all right-handers
	fromLeft                  // all left-handers
	rightForMixed             // from the right although a left-hander is among them
)

func sideOf(all []Series) side {
	left := 0
	for _, s := range all {
		if s.Hand == ball.Left {
			left++
		}
	}
	switch left {
	case 0:
		return fromRight
	case len(all):
		return fromLeft
	}
	return rightForMixed
}

// unite gives views the same scales.
func unite(views []*view) {
	all := *views[0]
	for _, v := range views {
		all.end, all.low, all.high = max(all.end, v.end), min(all.low, v.low), max(all.high, v.high)
		all.fullScale = max(all.fullScale, v.oilFullScale())
	}
	for _, v := range views {
		v.end, v.low, v.high, v.fullScale = all.end, all.low, all.high, all.fullScale
	}
}

// gutterBoards is the width in boards of what is drawn of each gutter.
const gutterBoards = 2

func newView(f Figure) (*view, error) {
	if len(f.Series) > MaxSeries {
		return nil, fmt.Errorf("plots: %d shots: one figure takes %d", len(f.Series), MaxSeries)
	}
	v := &view{Figure: f, measures: f.Size.measures()}
	if v.Pocket == (physics.Window{}) {
		v.Pocket = physics.DefaultPocket
	}
	v.pins = finite(f.Lane.Length) && f.Lane.Length > 0
	switch {
	case v.pins:
		v.end = f.Lane.Length / units.Foot
	case len(f.Series) == 0:
		v.end = lane.HeadPin / units.Foot
	}
	v.low, v.high = 0.5, lane.Boards+0.5
	v.side = sideOf(f.Series)
	for i, s := range f.Series {
		drawn := 0
		for _, p := range s.Shot.Path {
			if !finite(p.Distance) || !finite(p.Lateral) {
				continue
			}
			drawn++
			v.end = max(v.end, p.Distance/units.Foot)
			v.low = min(v.low, v.board(p.Lateral))
			v.high = max(v.high, v.board(p.Lateral))
		}
		if drawn < 2 {
			return nil, fmt.Errorf("plots: shot %d (%s) %w", i+1, s.Name, errNoPath)
		}
	}
	v.low = min(v.low, 0.5-gutterBoards)
	v.high = max(v.high, lane.Boards+0.5+gutterBoards)
	return v, nil
}

// board returns the board of a lateral position, in m, in the figure's count.
func (v *view) board(lateral float64) float64 {
	b := lane.Board(lateral)
	if v.side == fromLeft {
		return lane.Boards + 1 - b
	}
	return b
}

// lateral is the inverse of board.
func (v *view) lateral(board float64) float64 {
	if v.side == fromLeft {
		board = lane.Boards + 1 - board
	}
	return lane.Lateral(board)
}

// boardsLabel names the axis of boards.
func (v *view) boardsLabel() string {
	switch v.side {
	case fromLeft:
		return "board, from the left"
	case rightForMixed:
		return "board, from the right for both hands"
	}
	return "board, from the right"
}

// groups splits the shots into runs that share a panel, of sizes as equal as possible.
func groups(n, most int) [][2]int {
	if n == 0 {
		return nil
	}
	count := (n + most - 1) / most
	var all [][2]int
	for i := range count {
		all = append(all, [2]int{i * n / count, (i + 1) * n / count})
	}
	return all
}

// Lane draws the lane from above, lying on its side, with its oil and the
// shots' paths. More than four shots get a small lane each. A figure without
// shots shows the oil alone. It is an error if a shot has no path.
func Lane(f Figure) (*Drawing, error) {
	v, err := newView(f)
	if err != nil {
		return nil, err
	}
	p := v.page()
	p.heading(v)
	p.lanes(v)
	return p.finish(), nil
}

// Motion draws speed, rev rate, axis rotation, axis tilt, slip and friction
// against distance, in panels that share the axis of distance. More than four
// shots are split over several sets of panels with the same scales. It is an
// error if there is no shot or if one has no path.
func Motion(f Figure) (*Drawing, error) {
	return drawMotion(f, func(p *page, v *view) { p.motion(v, true) })
}

// drawMotion draws a figure that needs shots with paths.
func drawMotion(f Figure, fill func(*page, *view)) (*Drawing, error) {
	v, err := newView(f)
	if err != nil {
		return nil, err
	}
	if len(f.Series) == 0 {
		return nil, errors.New("plots: no shot whose motion could be drawn")
	}
	p := v.page()
	p.heading(v)
	fill(p, v)
	return p.finish(), nil
}

// Combined draws the lane with the panels of motion below it, over one axis of
// distance. The errors are those of [Motion].
func Combined(f Figure) (*Drawing, error) {
	return drawMotion(f, func(p *page, v *view) {
		p.lanes(v)
		p.y += p.body.leading()
		p.motion(v, false)
	})
}

// page is a drawing that grows downward.
type page struct {
	*Drawing
	measures
	y float64 // the position of the next element

	title, body, small, label lettering
}

func (v *view) page() *page {
	t := v.measures
	return &page{
		Drawing:  &Drawing{Width: t.width, resolution: t.resolution, title: v.Title},
		measures: t,
		y:        t.margin,
		title:    lettering{t.title, true},
		body:     lettering{t.body, false},
		small:    lettering{t.small, false},
		label:    lettering{t.small, true},
	}
}

// titledPage is a page with a title and a sentence under it.
func titledPage(title, note string, size Size) *page {
	v := &view{Figure: Figure{Title: title, Note: note, Size: size}, measures: size.measures()}
	p := v.page()
	p.heading(v)
	return p
}

func (p *page) finish() *Drawing {
	p.Height = math.Ceil(p.y + p.margin)
	return p.Drawing
}

// inner is the width between the margins.
func (p *page) inner() float64 { return p.width - 2*p.margin }

// paragraph writes a text in lines of a width, at most as many as most unless that is 0,
// and moves the page down.
func (p *page) paragraph(text string, l lettering, left, width float64, most int, c color.NRGBA) {
	for _, line := range l.wrap(text, width, most) {
		p.text(line, l, left, p.y, c)
		p.y += l.leading()
	}
}

// caption writes a text in small type between the margins.
func (p *page) caption(text string) { p.paragraph(text, p.small, p.margin, p.inner(), 0, softInk) }

// heading writes the title and the sentence under it.
func (p *page) heading(v *view) {
	p.paragraph(v.Title, p.title, p.margin, p.inner(), 0, ink)
	note := v.Note
	if note == "" {
		note = Describe(v.Figure)
	}
	p.y += 0.2 * p.body.size
	p.paragraph(glued(note), p.body, p.margin, p.inner(), 0, softInk)
	p.note, p.headElements, p.headEnd = note, len(p.elements), p.y
	p.y += 0.6 * p.body.size
}
