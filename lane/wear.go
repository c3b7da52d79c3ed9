package lane

import (
	"errors"
	"math"
	"slices"
)

// Wearing is oil that changes under the balls: a map on a fine grid up to the
// lane's end, from which oil is taken and on which it is laid. An exchange at a
// point is distributed over the nodes around it by their hat functions, so that
// the volume of the bilinear film changes by exactly the volume exchanged.
type Wearing struct {
	Map *OilMap

	alongArea, acrossArea []float64 // m, integrals of the rows' and columns' hats
	short                 float64   // m³ still to be taken
	weights               []weight
}

// weight is a node's share of an exchange.
type weight struct {
	node  int
	share float64
}

// NewWearing returns the lane's oil with perBoard columns to a board and rows no
// farther apart than spacing in m. The film is unchanged: the new columns and
// distances include the old ones. At the pattern's end it jumps to 0; from there
// the lane is clean up to its end.
//
// It is an error if the lane has no oil or no end, or if its columns do not lie
// at board centres.
func NewWearing(l Lane, perBoard int, spacing float64) (*Wearing, error) {
	if l.Oil == nil {
		return nil, errors.New("lane: there is no oil to wear")
	}
	if math.IsInf(l.Length, 0) || perBoard < 1 || !(spacing > 0) {
		return nil, errors.New("lane: wear needs a lane with an end and a grid")
	}
	near := l.Oil.Length()
	distances := append([]float64{0, l.Length, near}, l.Oil.Distances...)
	slices.Sort(distances)
	distances = slices.Compact(distances)
	given := distances
	n := int(math.Ceil(l.Length / spacing))
	for i := range n {
		x := l.Length * float64(i) / float64(n)
		if at, _ := slices.BinarySearch(given, x-rowGap); at == len(given) || given[at] > x+rowGap {
			distances = append(distances, x)
		}
	}
	if near < l.Length {
		distances = append(distances, near+Jump)
	}
	slices.Sort(distances)
	columns := perBoard*Boards + 1
	if perBoard%2 == 1 {
		// Odd divisions put columns at board centres, half a column from the edges.
		columns = perBoard * Boards
	}
	step := Width / float64(perBoard*Boards)
	right := -step * float64(columns-1) / 2
	film := make([]float64, len(distances)*columns)
	for i, x := range distances {
		if x > near {
			break
		}
		for j := range columns {
			film[i*columns+j] = l.Oil.Extended(x, right+float64(j)*step)
		}
	}
	m, err := NewOilMap(distances, right, step, columns, film)
	if err != nil {
		return nil, err
	}
	w := &Wearing{Map: m, alongArea: make([]float64, len(distances)), acrossArea: make([]float64, columns)}
	for i := range distances {
		from, to := distances[max(i-1, 0)], distances[min(i+1, len(distances)-1)]
		w.alongArea[i] = (to - from) / 2
	}
	for j := range w.acrossArea {
		w.acrossArea[j] = step
	}
	edge := step/2 + (Width/2 + right) // half a hat, and what lies beyond the outer column
	w.acrossArea[0], w.acrossArea[columns-1] = edge, edge
	return w, nil
}

// rowGap is how near in m an evenly spaced row may lie to one of the pattern's.
const rowGap = 1e-3

// Exchange takes a volume in m³ off the lane, or lays it down if it is negative,
// along a piece of track about (x, y), with a length and a width in m. Oil is
// taken in proportion to the film that is there, and laid down evenly. If there is
// too little, the next exchange takes the rest.
func (w *Wearing) Exchange(x, y, length, width, volume float64) {
	w.weigh(x, y, length, width)
	if volume < 0 {
		for _, n := range w.weights {
			w.Map.Film[n.node] -= volume * n.share / w.area(n.node)
		}
		return
	}
	volume += w.short
	w.short = 0
	weighted := 0.0 // m, the mean film over the band
	for _, n := range w.weights {
		weighted += n.share * w.Map.Film[n.node]
	}
	if weighted == 0 {
		w.short = volume
		return
	}
	left := volume
	for _, n := range w.weights {
		film := &w.Map.Film[n.node]
		area := w.area(n.node)
		// The quotient first: a product of volume and a very thin film may underflow.
		take := volume * (n.share * *film / weighted)
		if most := *film * area; take >= most {
			take, *film = most, 0
		} else {
			*film = max(0, *film-take/area)
		}
		left -= take
	}
	w.short = left
}

// Short is the volume in m³ that balls took up and that is still to be taken off
// the lane.
func (w *Wearing) Short() float64 { return w.short }

// Volume is the oil in m³ on the lane.
func (w *Wearing) Volume() float64 {
	total := 0.0
	for i, along := range w.alongArea {
		row := 0.0
		for j, across := range w.acrossArea {
			row += across * w.Map.Film[i*w.Map.Columns+j]
		}
		total += along * row
	}
	return total
}

// Clone returns a copy with a film of its own.
func (w *Wearing) Clone() *Wearing {
	c := *w
	m := *w.Map
	m.Film = slices.Clone(w.Map.Film)
	c.Map, c.weights = &m, nil
	return &c
}

func (w *Wearing) area(node int) float64 {
	return w.alongArea[node/w.Map.Columns] * w.acrossArea[node%w.Map.Columns]
}

// weigh computes the weights of the nodes for a piece of track: the means of their
// hat functions over it, whose sum is 1. Along the lane the mean is taken at as
// many points as the piece has rows.
func (w *Wearing) weigh(x, y, length, width float64) {
	m := w.Map
	w.weights = w.weights[:0]
	step := m.Spacing
	// ∫ over the band of the hats left of a lateral position, in columns.
	first := (y - width/2 - m.Right) / step
	last := (y + width/2 - m.Right) / step
	from, to := int(math.Floor(first)), int(math.Ceil(last))
	points := 1
	if rows := math.Abs(length) / (m.Distances[len(m.Distances)-1] / float64(len(m.Distances)-1)); rows > 1 {
		points = int(math.Ceil(rows))
	}
	for k := range points {
		at := x + length*((float64(k)+0.5)/float64(points)-0.5)
		i, u := m.row(at)
		for j := from; j <= to; j++ {
			share := (hatIntegral(last-float64(j)) - hatIntegral(first-float64(j))) / ((last - first) * float64(points))
			if share == 0 {
				continue
			}
			column := min(max(j, 0), m.Columns-1)
			if u < 1 {
				w.include(i*m.Columns+column, share*(1-u))
			}
			if u > 0 {
				w.include((i+1)*m.Columns+column, share*u)
			}
		}
	}
}

// include adds a share to that of a node.
func (w *Wearing) include(node int, share float64) {
	for k := range w.weights {
		if w.weights[k].node == node {
			w.weights[k].share += share
			return
		}
	}
	w.weights = append(w.weights, weight{node, share})
}

// hatIntegral is ∫ of the hat function 1 − |t| from −1 to t.
func hatIntegral(t float64) float64 {
	switch {
	case t <= -1:
		return 0
	case t <= 0:
		return (t + 1) * (t + 1) / 2
	case t < 1:
		return 1 - (1-t)*(1-t)/2
	}
	return 1
}
