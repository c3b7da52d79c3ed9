package plots

// contour is a line of one level.
type contour struct {
	level  float64
	points []point
}

func (c contour) length() float64 {
	sum := 0.0
	for i := 1; i < len(c.points); i++ {
		sum += distance(c.points[i-1], c.points[i])
	}
	return sum
}

// edge is a side of a square of the fine map: from (i, j) to the right or, if
// up, upward.
type edge struct {
	i, j int
	up   bool
}

// contours follows the lines of each level through the squares of the map (marching
// squares); place turns shares of the map's width and height into points. At a saddle the
// mean of the corners decides.
func (f fineMap) contours(levels []float64, place func(u, w float64) point) []contour {
	var all []contour
	n := len(f.values) - 1
	for _, level := range levels {
		links := map[edge][]edge{}
		var order []edge
		link := func(a, b edge) {
			for _, e := range [2]edge{a, b} {
				if links[e] == nil {
					order = append(order, e)
				}
			}
			links[a], links[b] = append(links[a], b), append(links[b], a)
		}
		for i := range n {
			for j := range n {
				f.square(i, j, level, link)
			}
		}
		at := func(e edge) point {
			a := f.values[e.i][e.j]
			if e.up {
				t := (level - a) / (f.values[e.i][e.j+1] - a)
				return place(float64(e.i)/float64(n), (float64(e.j)+t)/float64(n))
			}
			t := (level - a) / (f.values[e.i+1][e.j] - a)
			return place((float64(e.i)+t)/float64(n), float64(e.j)/float64(n))
		}
		done := map[edge]bool{}
		follow := func(from edge) {
			c := contour{level: level}
			for e, more := from, true; more; {
				done[e] = true
				c.points = append(c.points, at(e))
				more = false
				for _, next := range links[e] {
					if !done[next] {
						e, more = next, true
						break
					}
				}
				if !more && len(c.points) > 2 {
					for _, next := range links[e] {
						if next == from {
							c.points = append(c.points, at(from)) // a closed line
						}
					}
				}
			}
			if len(c.points) > 1 {
				all = append(all, c)
			}
		}
		for _, e := range order {
			if len(links[e]) == 1 && !done[e] {
				follow(e)
			}
		}
		for _, e := range order {
			if !done[e] {
				follow(e)
			}
		}
	}
	return all
}

// square links the sides of a square that a level crosses.
func (f fineMap) square(i, j int, level float64, link func(a, b edge)) {
	v := [4]float64{f.values[i][j], f.values[i+1][j], f.values[i+1][j+1], f.values[i][j+1]}
	mean := 0.0
	var high [4]bool
	for k := range v {
		if !finite(v[k]) {
			return
		}
		mean += v[k] / 4
		high[k] = v[k] >= level
	}
	// Side k leads from corner k to the next.
	sides := [4]edge{{i, j, false}, {i + 1, j, true}, {i, j + 1, false}, {i, j, true}}
	var crossed []int
	for k := range sides {
		if high[k] != high[(k+1)%4] {
			crossed = append(crossed, k)
		}
	}
	switch {
	case len(crossed) == 2:
		link(sides[crossed[0]], sides[crossed[1]])
	case len(crossed) == 4 && (mean >= level) == high[0]:
		// Corners 0 and 2 are connected: the lines cut off 1 and 3.
		link(sides[0], sides[1])
		link(sides[2], sides[3])
	case len(crossed) == 4:
		link(sides[3], sides[0])
		link(sides[1], sides[2])
	}
}
