package scenario

import (
	"lanesim/studies/seek"
	"lanesim/studies/sweep"
)

// wantKey is what a file of wishes has beside a sweep's keys.
const wantKey = "want"

// wantShape is what is wished for.
var wantShape = record("what is wanted", []field{
	{key: "friction_read", meaning: "Distance at which the friction is read", shape: alongLane, note: "not asked for"},
	{key: "breakpoint", meaning: "Board of the breakpoint", shape: anyBoard, note: "not asked for"},
	{key: "breakpoint_distance", meaning: "Distance of the breakpoint", shape: alongLane, note: "not asked for"},
	{key: "entry_board", meaning: "Board at the pins", shape: anyBoard, note: "not asked for"},
	{key: "entry_angle", meaning: "Entry angle", shape: eitherQuarter, note: "not asked for"},
})

// Seek is what a file of wishes says: a scenario, the ranges of some of its fields, and
// what is wanted of the shots.
type Seek struct {
	*Sweep
	Want seek.Want
}

// ReadSeek reads a file of wishes. It has the keys of a sweep's file but for design,
// points, seed and columns, and the key want. The errors are those of [ReadSweep].
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
		for _, one := range (quantities{{"friction_read", &w.FrictionRead}, {"breakpoint", &w.Breakpoint},
			{"breakpoint_distance", &w.BreakpointDistance}, {"entry_board", &w.EntryBoard}, {"entry_angle", &w.EntryAngle}}) {
			if v.has(one.key) {
				*one.of = v.field(one.key).number
			}
		}
		if len(v.fields) == 0 && v.sound() {
			d.fail(v, "asks for nothing: give one of friction_read, breakpoint, breakpoint_distance, entry_board and entry_angle", "")
		}
	}
	root.remove(wantKey)
	for _, key := range []string{"design", "points", "seed", "columns"} {
		if e := root.entry(key); e != nil {
			p.add(e.at, key, "belongs to sweeps: a search chooses its points by itself", "")
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

// At resolves a place in the ranges.
func (r *Resolver) At(at []sweep.Coordinate) (Point, error) {
	copy(r.coordinates, at)
	return r.resolve(r.coordinates, func(i int) levelValue { return r.sweep.Parameters[i].at(r.coordinates[i]) })
}

// Dimensions are those of the ranges.
func (s *Sweep) Dimensions() []sweep.Dimension { return s.Design.Dimensions }
