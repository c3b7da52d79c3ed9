package plots

import (
	"image/color"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
)

// aimBand is the best line over the oil: its shot without deviations, and the shots that
// just still hit the pocket when the line is missed at the arrows to either side.
type aimBand struct {
	Lane                  lane.Lane
	Hand                  ball.Hand
	Line, Outside, Inside physics.Shot
	Words                 string // where the bowler stands and aims
	Pocket                physics.Window
}

// bandTint fills the room of a line, pale enough for the oil to show through.
var bandTint = color.NRGBA{0xd5, 0x5e, 0x00, 0x55}

// aimBand draws the lane with the band between left and right and moves the page on.
func (p *page) aimBand(b aimBand, left, right float64) error {
	v, err := newView(Figure{Lane: b.Lane, Pocket: b.Pocket, Series: []Series{
		{Shot: b.Line, Hand: b.Hand}, {Name: "outside", Shot: b.Outside, Hand: b.Hand}, {Name: "inside", Shot: b.Inside, Hand: b.Hand}}})
	if err != nil {
		return err
	}
	v.theme = p.theme
	p.paragraph("The best line with its room at the arrows: "+b.Words, p.small, left, right-left, 0, ink)
	p.y += 0.5 * p.small.size
	height := 1.25 * p.smallLane
	l := p.lanePanel(v, left+p.axisLeft, right-0.7*p.small.size-12, p.y, height)
	l.ground(everyArrow)
	outside, inside := l.path(b.Outside), l.path(b.Inside)
	area := append([]point{}, outside...)
	for i := len(inside) - 1; i >= 0; i-- {
		area = append(area, inside[i])
	}
	l.Drawing.area(area, bandTint)
	for _, edge := range [][]point{outside, inside} {
		l.line(edge, stroke{color: bestMark, width: p.rule})
	}
	l.cased(l.path(b.Line), stroke{color: bestMark, width: p.pathWidth}, 1.5)
	l.drawPins()
	p.y += height
	p.distances(l.x, p.small.leading())
	p.text(p.small.shorten("upward: "+v.boardsLabel()+"; across: distance from the foul line, ft", right-left), p.small, left, p.y, softInk)
	p.y += 1.8 * p.small.leading()
	return nil
}
