package plots

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"

	"lanesim/internal/theme"
	"lanesim/physics"
	"lanesim/report/studied"
	"lanesim/report/thrown"
	"lanesim/studies/spread"
)

// MaxSpreadPanels is the largest number of bowlers, balls and lanes in a figure of spreads.
const MaxSpreadPanels = 12

// spreadView is the result of one bowler's deliveries.
type spreadView struct {
	*view
	studied.SpreadPaths
	share, detail string
	each          []spread.ShotResult
	bins          []float64 // % of the deliveries, upward
}

// DrawSpread draws, for each bowler, ball and lane, some of the paths over the oil with the line
// in their midst and, turned along the boards beside the pins, a histogram of the entry boards
// with the pocket, all to the same scales.
//
// It is an error if there is no panel, if there are more than [MaxSpreadPanels], or if
// one has no deliveries or a shot without a path.
func DrawSpread(w *studied.Spread, size Size) (*Drawing, error) {
	if n := len(w.Result.Setups); n == 0 || n > MaxSpreadPanels {
		return nil, fmt.Errorf("plots: %d panels of deliveries: a figure takes 1 to %d", n, MaxSpreadPanels)
	}
	f := Figure{Title: w.Title, Note: w.Note(), Pocket: thrown.Pocket(w.Study.Settings, w.Players[0].Setup.Release), Size: size}
	var panels []*spreadView
	for i, r := range w.Result.Setups {
		if len(r.Each) == 0 {
			return nil, errors.New("plots: no deliveries to draw")
		}
		for _, shot := range w.Paths[i].Shots {
			if len(shot.Path) < 2 {
				return nil, fmt.Errorf("plots: a delivery %w", errNoPath)
			}
		}
		setup := w.Players[i].Setup
		f.Lane, f.Series = setup.Lane, []Series{{Name: playerName(w.Players, i), Shot: w.Paths[i].Line, Hand: setup.Release.Hand}}
		v, err := newView(f)
		if err != nil {
			return nil, err
		}
		s := &spreadView{view: v, SpreadPaths: w.Paths[i], share: studied.PocketText(r), detail: studied.EntryText(r), each: r.Each}
		panels = append(panels, s)
	}
	p := panels[0].page()
	p.heading(panels[0].view)
	p.spreads(panels)
	return p.finish(), nil
}

// Measures of a spread's panel.
const (
	histogramShare = 0.20 // of the page's width
	histogramGap   = 22   // points, for the marks at the pins

	// narrowBin and narrowBar are the least width of a bar of the histogram, in boards and
	// in points.
	narrowBin, narrowBar = 0.5, 2.6

	histogramTicks = 2
	histogramSteps = 5 // of the axis, about
)

// spreads draws the panels, one below the other.
func (p *page) spreads(panels []*spreadView) {
	height := p.laneHeight
	switch n := len(panels); {
	case n == 2:
		height = (p.laneHeight + p.smallLane) / 2
	case n > 2:
		height = p.smallLane
	}
	first, mixed := panels[0], false
	var views []*view
	for _, s := range panels {
		views, mixed = append(views, s.view), mixed || s.side != first.side
	}
	unite(views)
	bin, highest := first.bin(height), 1.0
	for _, s := range panels {
		s.count(bin)
		highest = max(highest, slices.Max(s.bins))
	}
	shares := span{0, highest}.rounded(histogramSteps)
	right := p.width - p.margin - 0.5*p.small.width("100")
	middle := right - histogramShare*p.width
	x := scale{span{0, first.end}, p.margin + p.axisLeft, middle - histogramGap}
	across := scale{shares, middle, right}

	faintPath := p.bundleStroke()
	faintPath.color.A = 0xb0
	p.legendOf([]textLine{{fmt.Sprintf("the first %d deliveries", len(first.Shots)), p.small, ink}, {"the line without deviations", p.small, ink}}, []stroke{faintPath, p.lineStroke()})
	for i, s := range panels {
		if i == 0 || mixed {
			p.axisNotes(s.view, x.from, x.to, height)
		}
		p.spreadWords(s)
		p.spreadPanel(s, x, across, bin, height)
	}
	p.caption(fmt.Sprintf("distance from the foul line, ft; at the pins the bar marks the pocket, the ring the head pin; next to it entry boards, %% of the deliveries per %s, dark in the pocket", barWidth(bin)))
	p.lastScale(first.view)
}

// bin is the width in boards of the histogram's bars: a whole part of the pocket, so
// that bars lie either inside or outside of it.
func (v *view) bin(height float64) float64 {
	least := max(narrowBin, narrowBar*(v.high-v.low)/height)
	width := v.Pocket.Max - v.Pocket.Min
	if !(width > 0) {
		return least
	}
	// A width that divides the pocket into whole bars may be a little less than the least.
	const nearly = 0.75
	n := math.Floor(width / least)
	if n < 1 && width < nearly*least {
		return least
	}
	return width / max(n, 1)
}

// count fills the histogram.
func (s *spreadView) count(bin float64) {
	s.bins = make([]float64, 1+int((s.high-s.low)/bin))
	for _, one := range s.each {
		if i := s.binOf(one.EntryBoard, bin); i >= 0 && i < len(s.bins) {
			s.bins[i] += 100 / float64(len(s.each))
		}
	}
}

// lowest is the lower edge of the first bin: bins are counted from the pocket's edge.
func (s *spreadView) lowest(bin float64) float64 {
	return s.Pocket.Min - bin*math.Floor((s.Pocket.Min-s.low)/bin)
}

func (s *spreadView) binOf(board, bin float64) int {
	if !finite(board) {
		return -1
	}
	return int(math.Floor((board - s.lowest(bin)) / bin))
}

// bundleStroke is the stroke of a delivery among many.
func (t measures) bundleStroke() stroke {
	return stroke{color: theme.Delivery, width: 0.45 * t.pathWidth}
}

// lineStroke is the stroke of the line without deviations.
func (t measures) lineStroke() stroke { return t.shotStroke(2).times(0.9) }

// spreadWords writes what a panel shows above it.
func (p *page) spreadWords(s *spreadView) {
	name, share := s.Series[0].Name, p.label.width(s.share)
	if name != "" && p.label.width(name)+share+2*p.small.size <= p.inner() {
		p.text(name, p.label, p.margin, p.y, ink)
		p.text(s.share, p.label, p.width-p.margin-share, p.y, ink)
		p.y += p.label.leading()
	} else {
		p.paragraph(name, p.label, p.margin, p.inner(), 2, ink)
		p.paragraph(s.share, p.label, p.margin, p.inner(), 2, ink)
	}
	p.paragraph(s.detail, p.small, p.margin, p.inner(), 2, softInk)
	p.y += 0.4 * p.small.size
}

// spreadPanel draws a lane with its histogram and moves the page on.
func (p *page) spreadPanel(s *spreadView, x, across scale, bin, height float64) {
	l := p.lanePanel(s.view, x.from, x.to, p.y, height)
	boards := everyArrow
	if height < 2*p.smallLane-1 {
		boards = threeBoards
	}
	l.ground(boards)
	for _, shot := range s.Shots {
		l.line(l.path(shot), p.bundleStroke())
	}
	l.cased(l.path(s.Line), p.lineStroke(), 2)
	for _, shot := range append([]physics.Shot{s.Line}, s.Shots...) {
		last := shot.Path[len(shot.Path)-1]
		if at := l.point(last.Distance, last.Lateral); finite(at.x) && finite(at.y) && l.x.to-at.x > l.small.size {
			l.disc(at, 0.3*l.tick, ink)
		}
	}
	l.drawPins()

	l.rectangle(box{l.area.right + histogramGap/2 + 2, l.y.at(s.Pocket.Max), across.to, l.y.at(s.Pocket.Min)}, theme.Band)
	for i, b := range s.bins {
		from := s.lowest(bin) + float64(i)*bin
		to := from + bin
		fill := theme.Missed
		if middle := (from + to) / 2; middle > s.Pocket.Min && middle < s.Pocket.Max {
			fill = p.shotStroke(0).color
		}
		if b > 0 {
			top, bottom := l.y.at(min(to, s.high)), l.y.at(max(from, s.low))
			l.rectangle(box{across.from, top + 0.2, across.at(b), bottom - 0.2}, fill)
		}
	}
	p.bare(across, l.y.span, height).axes()
	p.y += height
	at, decimals := across.ticks(histogramTicks)
	p.numbersBelow(across, at, decimals)
	p.distances(x, 1.9*p.small.size)
}

// barWidth prints a width of bars without zeros at its end.
func barWidth(v float64) string {
	words := strconv.FormatFloat(math.Round(100*v)/100, 'f', -1, 64) + " board"
	if v > 1 {
		words += "s"
	}
	return words
}
