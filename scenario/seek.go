package scenario

import (
	"lanesim/studies/seek"
	"lanesim/studies/sweep"
)

// wantKey is the key that a file for seek has besides a sweep's keys.
const wantKey = "want"

// wantShape is what a search looks for.
var wantShape = record("what is wanted", []field{
	{key: "friction_read", meaning: "Distance at which the ball reads the friction", shape: alongLane, note: "any"},
	{key: "breakpoint", meaning: "Board of the breakpoint", shape: anyBoard, note: "any"},
	{key: "breakpoint_distance", meaning: "Distance of the breakpoint", shape: alongLane, note: "any"},
	{key: "entry_board", meaning: "Board at the pins", shape: anyBoard, note: "any"},
	{key: "entry_angle", meaning: "Entry angle", shape: eitherQuarter, note: "any"},
})

// Seek is a file for seek: a scenario, the ranges of some of its fields, and what the shots
// should do.
type Seek struct {
	*Sweep
	Want seek.Want
}

// ReadSeek reads a file for seek. It has the keys of a sweep's file except design, points,
// seed and columns, and the key want. The errors are those of [ReadSweep].
func ReadSeek(name string, data []byte, open OpenFile, sets []string) (*Seek, error) {
	var p problems
	d := decoder{problems: &p}
	root := p.tree(name, data)
	if root == nil {
		return nil, p.err()
	}
	want := root.entry(wantKey)
	found := &Seek{Want: seek.None()}
	switch {
	case want == nil && root.kind == mapping:
		p.add(root.at, wantKey, "is missing: say what is wanted, for example  want: {friction_read: 38 ft, entry_board: 17.5}", "")
	case want != nil:
		v := d.decode(want, wantShape, wantKey)
		w := &found.Want
		for _, number := range (quantities{{"friction_read", &w.FrictionRead}, {"breakpoint", &w.Breakpoint},
			{"breakpoint_distance", &w.BreakpointDistance}, {"entry_board", &w.EntryBoard}, {"entry_angle", &w.EntryAngle}}) {
			if v.has(number.key) {
				*number.of = v.field(number.key).number
			}
		}
		if len(v.fields) == 0 && v.sound() {
			d.fail(v, "is empty: give one of friction_read, breakpoint, breakpoint_distance, entry_board and entry_angle", "")
		}
	}
	root.remove(wantKey)
	for _, key := range []string{"design", "points", "seed", "columns"} {
		if e := root.entry(key); e != nil {
			p.add(e.at, key, "is for sweeps: remove it, a search chooses its own points", "")
			root.remove(key)
		}
	}
	add := func(key string, value *node) {
		root.entries = append(root.entries, entry{textNode(key, root.at), value})
	}
	if root.kind == mapping {
		add("design", textNode(string(sweep.Halton), root.at))
		add("points", textNode("1", root.at))
		add("columns", &node{kind: sequence, at: root.at, items: []*node{textNode("entry_board", root.at)}})
	}
	var err error
	if found.Sweep, err = sweepOf(name, root, &p, open, sets); err != nil {
		return nil, err
	}
	return found, nil
}

// At returns the point at coordinates within the ranges. It is valid until the next call.
func (r *Resolver) At(at []sweep.Coordinate) (Point, error) {
	copy(r.coordinates, at)
	return r.resolve(r.coordinates, func(i int) levelValue { return r.sweep.Parameters[i].at(r.coordinates[i]) })
}

// Dimensions returns the dimensions of the ranges.
func (s *Sweep) Dimensions() []sweep.Dimension { return s.Design.Dimensions }
