package studies

import (
	"lanesim/lane"
	"lanesim/physics"
	"math"
	"sort"
)

// BoardAt returns the board of a path at a distance x in m, by cubics through boards and headings of its
// points; NaN outside the path.
func BoardAt(path []physics.State, x float64) float64 {
	i := sort.Search(len(path), func(i int) bool { return path[i].Distance >= x })
	switch {
	case i == len(path) || i == 0 && path[0].Distance > x:
		return math.NaN()
	case path[i].Distance == x:
		return path[i].Board
	}
	p, q := path[i-1], path[i]
	h := q.Distance - p.Distance
	u := (x - p.Distance) / h
	slope := func(s physics.State) float64 { return h * math.Tan(s.Heading) / lane.BoardWidth }
	v := 1 - u
	return v*v*(1+2*u)*p.Board + u*u*(3-2*u)*q.Board + u*v*(v*slope(p)-u*slope(q))
}
