package plots

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"lanesim/lane"
	"lanesim/pins"
	"lanesim/report/studied"
	"lanesim/units"
)

// MaxDecks is the largest number of racks in a figure.
const MaxDecks = 8

// Measures of a deck, in m.
const (
	deckFrom   = -12 * units.Inch
	deckTo     = pins.DeckEnd + 4*units.Inch
	deckGutter = 9.25 * units.Inch
	pinRadius  = 4.766 / 2 * units.Inch
	pinBase    = 5.8 * units.Inch // below the mass centre
	pinHead    = 9.2 * units.Inch // above it
)

// DrawCarry draws the maps of strikes or, if there are none, a rack of each shot, one with its
// commonest outcome, from above: the pins on their spots, those that stand at the end
// filled, the ball's path with rings where it touched a pin, and the paths of the pins'
// mass centres with the pins as they are at the end.
//
// It is an error if there is no rack or more than [MaxDecks], or if one has no path.
func DrawCarry(w *studied.Carry, racks []pins.Result, size Size) (*Drawing, error) {
	if len(w.Maps) > 0 {
		return drawStrikes(w, size)
	}
	if n := len(w.Results); n == 0 || n > MaxDecks {
		return nil, fmt.Errorf("plots: %d racks: a figure takes 1 to %d", n, MaxDecks)
	}
	for _, r := range racks {
		if len(r.Path) < 2 {
			return nil, fmt.Errorf("plots: a rack %w", errNoPath)
		}
	}
	p := titledPage(w.Title, w.Note(), size)
	widest := math.Inf(1)
	if len(w.Results) == 1 {
		widest = 480
	}
	p.panels(len(w.Results), widest, 0.6*p.body.leading(), func(i int, left, right float64) {
		p.paragraph(playerName(w.Players, i), p.label, left, right-left, 2, ink)
		p.paragraph(w.RackText(i, racks[i].Standing), p.small, left, right-left, 3, ink)
		p.y += 0.4 * p.small.size
		p.deck(cmp.Or(w.Studies[i].Standing, pins.All), racks[i], w.Players[i].Setup.Ball.Radius, left, right)
	})
	p.caption("filled: standing at the end; open: fallen; thin lines: paths of the pins' mass centres; bars: pins over the deck at the end; thick line: path of the ball's middle, ringed where it is the first to hit a pin")
	return p.finish(), nil
}

// deck draws a rack of pins that stood between left and right and moves the page on.
func (p *page) deck(standing pins.Leave, rack pins.Result, radius, left, right float64) {
	const half = lane.Width/2 + deckGutter
	scale := (right - left) / (2 * half)
	area := box{left, p.y, right, p.y + scale*(deckTo-deckFrom)}
	at := func(x, y float64) point {
		if x < deckFrom || x > deckTo || math.Abs(y) > half {
			return point{math.NaN(), math.NaN()}
		}
		return point{left + scale*(half-y), area.bottom - scale*(x-deckFrom)}
	}
	p.rectangle(area, gutterFill)
	deck := box{left + scale*deckGutter, area.bottom - scale*(pins.DeckEnd-deckFrom), right - scale*deckGutter, area.bottom}
	p.rectangle(deck, paper)
	p.frame(deck, stroke{color: softInk, width: p.rule})
	ball := p.shotStroke(0)
	var ballPath []point
	for _, q := range rack.Path {
		ballPath = append(ballPath, at(q.X, q.Y))
	}
	for i := range pins.Count {
		var path []point
		for _, q := range rack.Pins[i] {
			path = append(path, at(q.X, q.Y))
		}
		p.line(path, stroke{color: faintMark, width: 1.2 * p.rule})
		if n := len(rack.Pins[i]); n > 0 && !rack.Standing.Has(i+1) {
			q := rack.Pins[i][n-1]
			if q.Z > 0 {
				base, head := at(q.X-pinBase*q.Axis[0], q.Y-pinBase*q.Axis[1]), at(q.X+pinHead*q.Axis[0], q.Y+pinHead*q.Axis[1])
				if finite(base.x) && finite(head.x) {
					p.line([]point{base, head}, stroke{color: faint, width: scale * pinRadius})
				}
			}
		}
	}
	p.line(ballPath, ball)
	for i, first := range rack.First {
		if first.By != pins.ByBall {
			continue
		}
		k, _ := slices.BinarySearchFunc(rack.Path, first.Time, func(q pins.PathPoint, time float64) int {
			if q.Time < time {
				return -1
			}
			return 1
		})
		if k = min(k, len(rack.Path)-1); standing.Has(i + 1) {
			p.circle(at(rack.Path[k].X, rack.Path[k].Y), scale*radius, stroke{color: ball.color, width: p.rule}, area)
		}
	}
	for i, spot := range pins.Spots {
		centre, size := at(spot[0], spot[1]), max(scale*pinRadius, 0.62*p.small.size)
		fill, words := paper, ink
		switch {
		case !standing.Has(i + 1):
			p.disc(centre, 2, faintMark)
			continue
		case rack.Standing.Has(i + 1):
			fill, words = ink, paper
		}
		p.disc(centre, size, ink)
		p.disc(centre, size-p.rule, fill)
		p.centred(strconv.Itoa(i+1), p.small, centre, words)
	}
	p.y = area.bottom
}

// circle draws a ring, as far as it lies within an area.
func (p *page) circle(centre point, radius float64, s stroke, within box) {
	round := ring(centre, radius, 48)
	for i, q := range round {
		if !within.holds(q) {
			round[i] = point{math.NaN(), math.NaN()}
		}
	}
	p.line(append(round, round[0]), s)
}
