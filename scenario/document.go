package scenario

import (
	"fmt"
	"slices"
	"strconv"

	"lanesim/report"

	"gopkg.in/yaml.v3"
)

// Document is a parsed scenario file, which can be read with different values set
// without being parsed again. Make one with [Open]; it does not change.
type Document struct {
	name     string
	open     OpenFile
	root     *node
	problems problems // found so far
}

// Open parses a scenario file as [Read] does. [Document.Read] reports its errors; a text
// that cannot be parsed at all gives nil and its [Errors].
func Open(name string, data []byte, open OpenFile) (*Document, error) {
	d := &Document{name: name, open: open}
	r := d.reader(&d.problems)
	if d.root = r.tree(name, data); d.root == nil {
		return nil, d.problems.err()
	}
	r.fill(d.root)
	return d, nil
}

// reader returns a reader that adds to the problems.
func (d *Document) reader(p *problems) *reader { return newReader(p, d.name, d.open) }

// with returns the document with another tree.
func (d *Document) with(root *node) *Document {
	return &Document{name: d.name, open: d.open, root: root, problems: d.problems.clone()}
}

// Read reads the document with values set as in [Read].
func (d *Document) Read(sets []string) (*Scenario, error) {
	p := d.problems.clone()
	r := d.reader(&p)
	root := d.root.clone()
	r.put(root, sets)
	fillBowlers(root)
	v := r.decode(root, scenarioShape, "")
	s := r.scenario(v)
	if err := p.err(); err != nil {
		return nil, err
	}
	s.Warnings = r.warnings
	return s, nil
}

// Only returns a document with only one lane, one bowler and some of the balls, by index.
// Its keys are  lane,  bowler  and, always as a list,  balls.  A ball may be taken more
// than once; its name then gets a letter. Patterns from other files are written out, so
// that it needs no files. A session, which names bowlers and balls, is left out.
//
// The error is that of [Document.Read], or that there is no such lane, bowler or ball.
func (d *Document) Only(lane, bowler int, balls ...int) (*Document, error) {
	s, err := d.Read(nil)
	if err != nil {
		return nil, err
	}
	if lane < 0 || lane >= len(s.Lanes) || bowler < 0 || bowler >= len(s.Bowlers) {
		return nil, fmt.Errorf("scenario: there is no lane %d or bowler %d", lane, bowler)
	}
	root := d.root.clone()
	list := &node{kind: sequence, at: root.at}
	parts := partNodes(root, "ball")
	taken := map[string]bool{}
	for _, i := range balls {
		if i < 0 || i >= len(s.Balls) {
			return nil, fmt.Errorf("scenario: there is no ball %d", i)
		}
		b, name := parts[i].clone(), s.Balls[i].Name
		for letter := 'B'; taken[name]; letter++ {
			name = s.Balls[i].Name + " " + string(letter)
		}
		taken[name] = true
		b.put("name", textNode(name, b.at))
		list.items = append(list.items, b)
	}
	l := partNodes(root, "lane")[lane]
	if err := s.writeOut(l, lane); err != nil {
		return nil, err
	}
	w := bowlerNode(root, s, bowler)
	keep := root.entries[:0:0]
	for _, e := range root.entries {
		switch kind := partOf(e.key.text); {
		case kind == "ball":
			e = entry{textNode(plurals[kind], e.key.at), list}
		case kind != "":
			e = entry{textNode(kind, e.key.at), map[string]*node{"lane": l, "bowler": w}[kind]}
		case e.key.text == "session" || e.key.text == linesKey:
			continue
		}
		keep = append(keep, e)
	}
	root.entries = keep
	return &Document{name: d.name, root: root}, nil
}

// bowlerNode returns a bowler, on one of the lines if they are listed.
func bowlerNode(root *node, s *Scenario, i int) *node {
	list := root.entry(linesKey)
	if list == nil || len(list.items) == 0 {
		return partNodes(root, "bowler")[i]
	}
	w := partNodes(root, "bowler")[i/len(list.items)].clone()
	w.takeLine(list.items[i%len(list.items)])
	w.put("name", textNode(s.Bowlers[i].Name, w.at))
	return w
}

// takeLine replaces a bowler's line by a line of the list.
func (n *node) takeLine(line *node) {
	has := func(n *node) func(string) bool { return func(key string) bool { return n.entry(key) != nil } }
	gone, aims := replaced(has(n), has(line))
	for _, key := range gone {
		n.remove(key)
	}
	if aims {
		n.put("aim", textNode(builtinLine, n.at))
	}
	for _, e := range line.entries {
		if e.key.text != "name" {
			n.put(e.key.text, e.value)
		}
	}
}

// Alone returns the whole document with values set, and with everything from other files
// written out, so that it needs no files.
func (d *Document) Alone(sets []string) (*Document, error) {
	s, err := d.Read(sets)
	if err != nil {
		return nil, err
	}
	p, root := d.problems.clone(), d.root.clone()
	d.reader(&p).put(root, sets)
	for i, l := range partNodes(root, "lane") {
		if err := s.writeOut(l, i); err != nil {
			return nil, err
		}
	}
	return &Document{name: d.name, root: root}, nil
}

// writeOut replaces the name of a lane's pattern file by the pattern.
func (s *Scenario) writeOut(l *node, i int) error {
	oil := l.entry("oil")
	if oil == nil || oil.kind != scalar || s.oils[i].word != "" {
		return nil
	}
	pattern, err := written(s.oils[i].inputs())
	if err == nil {
		l.put("oil", pattern)
	}
	return err
}

// lineParts are all keys of a bowler's line.
var lineParts = append([]string{"laydown", moveKey}, lineKeys...)

// WithLine returns the document of one bowler with the line replaced by a laydown, a
// board, and a launch angle in rad.
func (d *Document) WithLine(laydown, angle float64) *Document {
	root := d.root.clone()
	for _, b := range partNodes(root, "bowler") {
		for _, key := range lineParts {
			b.remove(key)
		}
		b.put("laydown", textNode(formatBare(laydown), b.at))
		b.put("angle", textNode(degrees(angle), b.at))
	}
	return d.with(root)
}

// HasLine reports whether a bowler's line is written with a key: "angle", "target",
// "line", "aim" or "move".
func (d *Document) HasLine(key string) bool {
	return slices.ContainsFunc(partNodes(d.root, "bowler"), func(b *node) bool { return b.entry(key) != nil })
}

// put sets the value of a key, which comes first if it is new.
func (n *node) put(key string, value *node) {
	for i := range n.entries {
		if n.entries[i].key.text == key {
			n.entries[i].value = value
			return
		}
	}
	n.entries = slices.Insert(n.entries, 0, entry{textNode(key, n.at), value})
}

// written returns the tree of a value written as JSON.
func written(v any) (*node, error) {
	text, err := report.JSON(v)
	if err != nil {
		return nil, err
	}
	var p problems
	return p.tree("", text), p.err()
}

// YAML returns the document as a file, without the comments of the original. Reading it
// gives the same scenario.
func (d *Document) YAML(sets []string) ([]byte, error) {
	p := d.problems.clone()
	root := d.root.clone()
	for _, s := range sets {
		p.set(root, s)
	}
	if err := p.err(); err != nil {
		return nil, err
	}
	return yaml.Marshal(root.yaml(0))
}

// shortItems is the number of values up to which a mapping of plain values is written on
// one line.
const shortItems = 5

// yaml returns the tree for the YAML writer. Deeper mappings of a few plain values are
// written on one line.
func (n *node) yaml(depth int) *yaml.Node {
	y := &yaml.Node{}
	plain := true
	switch n.kind {
	case mapping:
		y.Kind = yaml.MappingNode
		for _, e := range n.entries {
			plain = plain && e.value.kind == scalar
			y.Content = append(y.Content, e.key.yaml(depth+1), e.value.yaml(depth+1))
		}
		if plain && depth > 1 && len(n.entries) <= shortItems {
			y.Style = yaml.FlowStyle
		}
	case sequence:
		y.Kind = yaml.SequenceNode
		for _, item := range n.items {
			plain = plain && item.kind == scalar
			y.Content = append(y.Content, item.yaml(depth+1))
		}
		if plain {
			y.Style = yaml.FlowStyle
		}
	case nothing:
		y.Kind, y.Tag, y.Value = yaml.ScalarNode, "!!null", "null"
	default:
		if _, err := strconv.ParseFloat(n.text, 64); err == nil || spellings[n.text] != "" {
			y.Kind, y.Value = yaml.ScalarNode, n.text
		} else {
			y.SetString(n.text)
		}
	}
	return y
}
