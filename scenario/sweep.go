package scenario

import (
	"cmp"
	"fmt"
	"path"
	"strconv"
	"strings"
	"sync"

	"lanesim/internal/input"
	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/studies/sweep"
)

// Sweep is a sweep file as read: a scenario, the fields that vary, a design, and the columns
// to keep. Make one with [ReadSweep].
type Sweep struct {
	Title      string
	Parameters []Parameter
	Design     sweep.Design

	// Columns are the columns to keep; ColumnNames are their names as in the file.
	Columns     report.Columns[thrown.Shot]
	ColumnNames []string

	// Base is the scenario with the first value of each parameter.
	Base *Scenario

	// Deliveries is the number of deliveries at each point of the design.
	Deliveries int

	// Warnings are those of [Scenario], for all ends and values tried.
	Warnings []string

	sampler *sweep.Sampler
	file    sweepFile
	root    *node       // of the scenario, without what varies
	vary    *source     // of the values
	tried   []*Scenario // with which the values were tried, for [Sweep.Identity]
	lines   sync.Map    // of lanes and bowlers to *ownLine, made when they are needed
}

// sweepFile is the file of a sweep: its name, the folder in which its scenario's files are
// looked for, and what opens them.
type sweepFile struct {
	name, folder string
	open         OpenFile
}

// ReadSweep reads a sweep file. Name, open and sets are as for [Read]; the sets
// apply to the scenario, before what varies.
//
// All errors are returned together, as [Errors]: those of the file, of the scenario, and of
// every value that varies, each tried with the first values of the other fields. Of the
// design, up to a few thousand points are tried.
func ReadSweep(name string, data []byte, open OpenFile, sets []string) (*Sweep, error) {
	var p problems
	root := p.tree(name, data)
	if root == nil {
		return nil, p.err()
	}
	return sweepOf(name, root, &p, open, sets)
}

// sweepOf reads the tree of a sweep file.
func sweepOf(name string, root *node, p *problems, open OpenFile, sets []string) (*Sweep, error) {
	d := decoder{problems: p}
	s := &Sweep{file: sweepFile{name, path.Dir(name), remembering(open)}}
	// Values that vary are set as on the command line, so that setting one never removes
	// another. A source of their own has their places.
	s.vary = &source{name: SetName, lines: root.at.source.lines, order: root.at.source.order}
	scenarioNode, varyNode := root.entry("scenario"), root.entry("vary")
	v := d.decode(standIns(root), sweepShape, "")
	if scenarioNode == nil && root.kind == mapping && !misspelt(root, []string{"scenario"}) {
		p.add(root.at, "scenario", "is missing: give a scenario file, or a scenario as a mapping", "")
	}
	if varyNode == nil && root.kind == mapping && !misspelt(root, []string{"vary"}) {
		p.add(root.at, "vary", "is missing: say what varies, for example  vary: {bowler.speed: [17 mph, 18 mph]}", "")
	}
	s.root = s.readScenario(p, scenarioNode, sets)
	s.readVary(&d, varyNode)
	s.readColumns(&d, v)
	s.readDesign(&d, v)
	if err := s.errors(p); err != nil {
		return nil, s.check(err.(Errors))
	}
	if err := s.check(nil); err != nil {
		return nil, err
	}
	s.Title = cmp.Or(v.field("title").text, s.Base.Title)
	return s, nil
}

// remembering opens each file only once, so that a change of the file during a run does not
// change rows.
func remembering(open OpenFile) OpenFile {
	if open == nil {
		return nil
	}
	var known sync.Map // of names to the results of opening them
	return func(name string) ([]byte, error) {
		once, _ := known.LoadOrStore(name, sync.OnceValues(func() ([]byte, error) { return open(name) }))
		return once.(func() ([]byte, error))()
	}
}

// standIns returns the tree with placeholders for scenario and vary, which are read
// separately.
func standIns(root *node) *node {
	if root.kind != mapping {
		return root
	}
	c := *root
	c.entries = nil
	for _, e := range root.entries {
		switch at := e.value.at; {
		case e.value.kind == nothing:
		case e.key.text == "scenario":
			e.value = textNode(e.key.text, at)
		case e.key.text == "vary":
			e.value = &node{kind: mapping, at: at}
		}
		c.entries = append(c.entries, e)
	}
	return &c
}

// reader returns a reader of the sweep's scenario.
func (s *Sweep) reader(p *problems) *reader {
	return &reader{decoder: decoder{problems: p}, folder: s.file.folder, open: s.file.open, sweeps: true}
}

// readScenario reads the tree of the scenario, nil after a problem.
func (s *Sweep) readScenario(p *problems, n *node, sets []string) *node {
	if n == nil || n.kind == nothing || n.kind == refused {
		return nil
	}
	if n.kind == scalar {
		file, data, err := s.reader(p).opened(strings.TrimSpace(n.text), "scenario ")
		if err != nil {
			p.add(n.at, "scenario", err.Error(), "")
			return nil
		}
		s.file.folder = path.Dir(file)
		if n = p.tree(file, data); n == nil {
			return nil
		}
	}
	if n.kind != mapping {
		p.add(n.at, "scenario", n.describe()+" does not fit: give a scenario file, or a scenario as a mapping", "")
		return nil
	}
	r := s.reader(p)
	r.fill(n)
	r.put(n, sets)
	return n
}

// readColumns resolves the columns.
func (s *Sweep) readColumns(d *decoder, v *value) {
	first := map[string]string{}
	for _, item := range v.field("columns").items {
		if item.bad {
			continue
		}
		c, ok := thrown.FindShotColumn(item.text)
		if !ok {
			names := thrown.ShotColumns().Keys()
			d.fail(item, "there is no column "+strconv.Quote(item.text), cmp.Or(input.DidYouMean(item.text, names),
				"the columns are "+either(names[:usualColumns])+", and those of events such as breakpoint_distance_ft"))
			continue
		}
		if before, twice := first[c.Key]; twice {
			d.fail(item, "this column is already there, as "+before, "")
			continue
		}
		first[c.Key] = item.text
		s.Columns, s.ColumnNames = append(s.Columns, c), append(s.ColumnNames, item.text)
	}
}

// usualColumns is the number of columns that a hint lists: the first, which do not belong to
// an event.
const usualColumns = 15

// readDesign resolves the design.
func (s *Sweep) readDesign(d *decoder, v *value) {
	kind := v.field("design")
	if kind.bad {
		return
	}
	s.Design = sweep.Design{Kind: sweep.Kind(kind.word), Seed: uint64(v.field("seed").number)}
	grid := s.Design.Kind == sweep.Grid
	for _, key := range []string{"points", "seed"} {
		if f := v.field(key); grid && v.has(key) && f.given {
			d.add(f.at, key, "is for the designs latin and halton: remove it, a grid has all combinations of its values", "")
		}
	}
	switch {
	case grid:
	case v.has("points"):
		s.Design.Points = uint64(v.field("points").number)
	default:
		d.missing(v, "points", "a "+kind.word+" design needs the number of points")
	}
	if n := len(s.Parameters); n > sweep.MostDimensions {
		d.add(v.field("vary").at, "vary", fmt.Sprintf("%d fields vary, more than %d, the most allowed", n, sweep.MostDimensions), "")
	}
	for i := range s.Parameters {
		q := &s.Parameters[i]
		if grid && q.Levels == 0 {
			d.add(q.place, q.Path, "needs  steps  in a grid: the number of values from "+q.values[0].Text+" to "+q.last, "")
		}
		s.Design.Dimensions = append(s.Design.Dimensions, sweep.Dimension{Levels: q.Levels})
	}
	if d.err() != nil {
		return
	}
	if _, err := s.Design.Size(); err != nil {
		d.add(v.field("vary").at, "vary", "the grid has more than 2^40 points", "")
	}
}

// errors returns the problems, those of varied values with the name of the file.
func (s *Sweep) errors(p *problems) error {
	err := p.err()
	if err == nil {
		return nil
	}
	list := err.(Errors)
	for i, q := range p.list {
		if q.at.source == s.vary {
			list[i].File = s.file.name
		}
	}
	return list
}

// Points returns the number of points of the design.
func (s *Sweep) Points() uint64 { return s.sampler.Size() }

// Rows returns the number of rows: deliveries of all points.
func (s *Sweep) Rows() uint64 { return s.sampler.Size() * uint64(s.Deliveries) }
