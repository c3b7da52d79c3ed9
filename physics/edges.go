package physics

import (
	"math"

	"lanesim/lane"
)

// This file has the distances at which the rates jump and the smooth stretches between them.

// edge is a distance in m at which the rates jump.
type edge struct {
	x    float64
	kind edgeKind
}

type edgeKind uint8

const (
	stretchEnds edgeKind = iota
	filmJumps
	oilEnds
	headPin
)

// layEdges lists the edges and finds the stretch of the laydown.
func (t *Thrower) layEdges() {
	m := &t.m
	t.edges = t.edges[:0]
	for _, x := range m.law.edges() {
		t.edges = append(t.edges, edge{x, stretchEnds})
	}
	if m.oil != nil {
		m.patches = append(m.patches[:0], [2]float64{math.Inf(-1), math.Inf(1)})
		for d, i := m.oil.Distances, 1; i < len(d); i++ {
			if d[i]-d[i-1] <= lane.Jump {
				m.patches[len(m.patches)-1][1] = d[i-1]
				m.patches = append(m.patches, [2]float64{d[i], math.Inf(1)})
				t.edges = append(t.edges, edge{d[i], filmJumps})
			}
		}
		t.edges = append(t.edges, edge{m.oilEnd, oilEnds})
	}
	t.edges = append(t.edges, edge{t.lane.Length, headPin})
	// Insertion sort keeps equal distances in the order above.
	for i := range t.edges {
		for j := i; j > 0 && t.edges[j].x < t.edges[j-1].x; j-- {
			t.edges[j], t.edges[j-1] = t.edges[j-1], t.edges[j]
		}
	}
	t.edge, m.stretch, m.patch, m.oiled = 0, 0, 0, m.oil != nil
	t.passEdges(t.state[ix])
}

// passEdges passes all edges up to x and reports whether the head pin is among them.
func (t *Thrower) passEdges(x float64) bool {
	for ; t.edge < len(t.edges) && t.edges[t.edge].x <= x; t.pass(t.edges[t.edge].kind, 1) {
		if t.edges[t.edge].kind == headPin {
			return true
		}
	}
	return false
}

// pass moves to the next stretch (by = 1) or back to the previous one (by = −1).
func (t *Thrower) pass(kind edgeKind, by int) {
	t.edge += by
	switch kind {
	case oilEnds:
		t.m.oiled = by < 0
	case filmJumps:
		t.m.patch += by
	default:
		t.m.stretch += by
	}
}

// findStretch finds the ends of the present stretch. The ball may come back to the last edge, or to the foul line.
func (t *Thrower) findStretch() {
	t.edgeBehind, t.edgeAhead = 0, math.Inf(1)
	if t.edge > 0 {
		t.edgeBehind = t.edges[t.edge-1].x
	}
	if t.edge < len(t.edges) {
		t.edgeAhead = t.edges[t.edge].x
	}
}
