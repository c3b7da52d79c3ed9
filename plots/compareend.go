package plots

import "lanesim/units"

// enlargedFeet is the length of the lane's end that a comparison draws enlarged.
const enlargedFeet = 20.0

// enlarged is the panel of the paths over the last feet before the pins.
func (v *view) enlarged() graph {
	g := graph{label: "last 20 ft enlarged, board", axis: emptySpan(), tall: true, from: max(0, v.end-enlargedFeet)}
	if v.side != rightForMixed && v.pins {
		g.shaded = &span{v.Pocket.Min, v.Pocket.Max}
		g.label += " (shaded: the pocket)"
		g.axis.join(*g.shaded)
	}
	for i, s := range v.Series {
		c := graphCurve{shot: i}
		for _, p := range s.Shot.Path {
			if p.Distance/units.Foot >= g.from {
				c.add(p.Distance, v.board(p.Lateral), &g.axis)
			}
		}
		g.curves = append(g.curves, c)
	}
	g.axis = g.axis.atLeast(leastEnlarged)
	return g
}

// leastEnlarged is the least height of the enlarged panel's axis, in boards.
const leastEnlarged = 4.0

// endGraph draws the enlarged panel with its own distances below.
func (p *page) endGraph(g graph, v *view, x scale, names []string) {
	x.min = g.from
	p.graph(g, v, x, names)
	p.y += 0.1 * p.small.size // clear of the lowest number beside the panel
	p.distances(x, 1.2*p.small.leading())
}
