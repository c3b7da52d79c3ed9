package pins

import (
	_ "embed"
	"encoding/binary"
	"errors"
	"math"
	"sync"

	"lanesim/lane"
)

// Table has the leaves of many full racks on a grid of deliveries that roll without spin
// about the vertical, for studies that have no time to compute racks. It rests on the
// defaults of [Settings], which are assumed.
//
// Each node has racks with boards and angles from all of its cell. So what is looked up
// is blurred by a quarter of a board and half a degree, less than the scatter of most
// bowlers, which removes the stripes of single boards. [StoredError] is its error.
type Table struct {
	axes  [4]axis // board, angle, mass, speed
	racks int     // of a node
	nodes []node
}

// The error of shares of strikes from the stored table against racks rolled for the same
// deliveries, with the scatter of a good bowler: mean, root mean square and largest over
// StoredPlaces entries. LANESIM_RACKS=1 go test ./pins -run TableAgainst measures it.
const (
	StoredPlaces    = 32
	StoredMean      = -0.011 // the table blurs the pocket's peak
	StoredError     = 0.019
	StoredErrorMost = 0.047
)

// The axes of a table.
const (
	boardAxis = iota
	angleAxis
	massAxis
	speedAxis
)

// axis holds ascending values.
type axis []float64

// node has the outcomes of the racks of one node.
type node struct {
	strikes float64 // share
	leaves  []leaveCount
}

// leaveCount is a leave with the number of racks up to and including it in the list.
type leaveCount struct {
	leave Leave
	upTo  int
}

// Entry is how a ball enters the pins.
type Entry struct {
	Board float64 // of the ball's centre at the head pin's distance, in the bowler's boards
	Angle float64 // rad, positive to the off side
	Mass  float64 // kg
	Speed float64 // m/s
}

//go:embed table.bin
var stored []byte

// Stored returns the table built into the program, made by
//
//	LANESIM_RACK_TABLE=1 go test ./pins -run MakeTable -timeout 2h
var Stored = sync.OnceValue(func() *Table {
	t, err := readTable(stored)
	if err != nil {
		panic(err) // it is built in and tested
	}
	return t
})

var errTable = errors.New("pins: this is no table of racks")

// readTable reads what [Table.write] wrote.
func readTable(data []byte) (*Table, error) {
	var err error
	number := func() int {
		v, n := binary.Uvarint(data)
		if n <= 0 {
			err = errTable
			return 0
		}
		data = data[n:]
		return int(v)
	}
	t := &Table{}
	size := 1
	for i := range t.axes {
		n := number()
		if err != nil || n < 1 || n > len(data)/8 {
			return nil, errTable
		}
		for range n {
			t.axes[i] = append(t.axes[i], math.Float64frombits(binary.LittleEndian.Uint64(data)))
			data = data[8:]
		}
		size *= n
	}
	t.racks = number()
	for range size {
		var n node
		leave, sum := 0, 0
		for k := number(); k > 0 && err == nil; k-- {
			leave += number()
			sum += number()
			n.leaves = append(n.leaves, leaveCount{Leave(leave), sum})
			if leave == 0 {
				n.strikes = float64(sum) / float64(t.racks)
			}
		}
		if err != nil || sum != t.racks || leave > int(All) {
			return nil, errTable
		}
		t.nodes = append(t.nodes, n)
	}
	return t, nil
}

// write returns the table as it is stored: the axes, the number of racks, and of each
// node its leaves with their counts; integers as variable-length, leaves as differences.
func (t *Table) write() []byte {
	var data []byte
	for _, a := range t.axes {
		data = binary.AppendUvarint(data, uint64(len(a)))
		for _, v := range a {
			data = binary.LittleEndian.AppendUint64(data, math.Float64bits(v))
		}
	}
	data = binary.AppendUvarint(data, uint64(t.racks))
	for _, n := range t.nodes {
		data = binary.AppendUvarint(data, uint64(len(n.leaves)))
		leave, sum := 0, 0
		for _, c := range n.leaves {
			data = binary.AppendUvarint(data, uint64(int(c.leave)-leave))
			data = binary.AppendUvarint(data, uint64(c.upTo-sum))
			leave, sum = int(c.leave), c.upTo
		}
	}
	return data
}

// find returns the cell that contains a value and the fraction of the way through it; a
// value beyond the ends is moved to the nearest end.
func (a axis) find(v float64) (int, float64) {
	last := len(a) - 1
	if last == 0 || !(v > a[0]) {
		return 0, 0
	}
	if v >= a[last] {
		return last - 1, 1
	}
	low, high := 0, last
	for high-low > 1 {
		if m := (low + high) / 2; a[m] <= v {
			low = m
		} else {
			high = m
		}
	}
	return low, (v - a[low]) / (a[high] - a[low])
}

// corners are the nodes around an entry with the weights of linear interpolation.
type corners [16]struct {
	node   int
	weight float64
}

func (t *Table) corners(e Entry) (c corners) {
	c[0].weight = 1
	count := 1
	for i, v := range [4]float64{e.Board, e.Angle, e.Mass, e.Speed} {
		a := t.axes[i]
		at, share := a.find(v)
		for k := range count {
			c[count+k] = c[k]
			c[k].node = c[k].node*len(a) + at
			c[k].weight *= 1 - share
			c[count+k].node = c[count+k].node*len(a) + min(at+1, len(a)-1)
			c[count+k].weight *= share
		}
		count *= 2
	}
	return c
}

// inTable returns the entry to look up, and whether it is the mirror image: the table has
// only balls that move to the off side. The leaves must then be mirrored back.
func (e Entry) inTable() (Entry, bool) {
	if e.Angle >= 0 {
		return e, false
	}
	e.Board, e.Angle = lane.Boards+1-e.Board, -e.Angle
	return e, true
}

// mirroredIf returns the mirror image of the leave if mirrored is set, else the leave.
func (l Leave) mirroredIf(mirrored bool) Leave {
	if mirrored {
		return l.Mirror()
	}
	return l
}

// Strikes returns the share of racks without a standing pin. Beyond the ends of the
// table it is that at the nearest end.
func (t *Table) Strikes(e Entry) float64 {
	sum := 0.0
	e, _ = e.inTable()
	c := t.corners(e)
	for i := range c {
		if c[i].weight > 0 {
			sum += c[i].weight * t.nodes[c[i].node].strikes
		}
	}
	return sum
}

// AddLeaves adds the share of racks with each leave, times a factor.
func (t *Table) AddLeaves(e Entry, factor float64, to *[All + 1]float64) {
	e, mirrored := e.inTable()
	c := t.corners(e)
	for i := range c {
		if c[i].weight == 0 {
			continue
		}
		part, before := factor*c[i].weight/float64(t.racks), 0
		for _, l := range t.nodes[c[i].node].leaves {
			to[l.leave.mirroredIf(mirrored)] += part * float64(l.upTo-before)
			before = l.upTo
		}
	}
}

// Draw returns a random leave with the probability of its share, from two uniform random
// numbers between 0 and 1, 1 excluded.
func (t *Table) Draw(e Entry, which, rack float64) Leave {
	e, mirrored := e.inTable()
	c := t.corners(e)
	n := &t.nodes[c[0].node]
	for i := range c {
		if c[i].weight == 0 {
			continue
		}
		n = &t.nodes[c[i].node]
		if which -= c[i].weight; which < 0 {
			break
		}
	}
	k := int(rack * float64(t.racks))
	for _, l := range n.leaves {
		if k < l.upTo {
			return l.leave.mirroredIf(mirrored)
		}
	}
	return n.leaves[len(n.leaves)-1].leave.mirroredIf(mirrored)
}
