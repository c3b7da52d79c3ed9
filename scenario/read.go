package scenario

import (
	"cmp"
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"

	"lanesim/ball"
	"lanesim/internal/input"
	"lanesim/lane"
	"lanesim/physics"
)

// OpenFile returns the contents of a file named in a scenario: a pattern file, or one from
// which lanes, balls or bowlers are taken.
type OpenFile func(name string) ([]byte, error)

// Read reads a scenario file. The name is the file's, for error messages; names of files
// in it are relative to its folder. open reads those files; it may be nil if there are
// none.
//
// Each of the sets is "path=value" and replaces the file's value at the path, in order:
// "ball.rg=2.5 in", "balls[1].layout.pin_to_pap=3 in", "balls.Pin far.rg=2.5 in". A path
// without an index or a name is that of all balls, bowlers or lanes.
//
// All errors are returned together, as [Errors].
func Read(name string, data []byte, open OpenFile, sets []string) (*Scenario, error) {
	d, err := Open(name, data, open)
	if err != nil {
		return nil, err
	}
	return d.Read(sets)
}

// reader resolves decoded values to lanes, balls, bowlers and settings. It continues after
// a problem but never uses a bad value.
type reader struct {
	decoder
	folder    string
	open      OpenFile
	libraries map[string]*node // the files from which parts are taken, by name; nil for one that could not be read
	sweeps    bool             // whether the scenario is a sweep's, which finds only lines to the pocket
}

// newReader returns a reader for a file and the files named in it.
func newReader(p *problems, name string, open OpenFile) *reader {
	return &reader{decoder: decoder{problems: p}, folder: path.Dir(name), open: open}
}

// tree parses a file, nil if that fails.
func (p *problems) tree(name string, data []byte) *node {
	return p.parse(string(data), place{p.source(name, string(data)), 1, 1})
}

// beside returns a file's name relative to the folder of the present file.
func (r *reader) beside(name string) string {
	if path.IsAbs(name) {
		return name
	}
	return path.Join(r.folder, name)
}

// opened reads a file named in the present file; what describes it in the error.
func (r *reader) opened(name, what string) (file string, data []byte, err error) {
	file = r.beside(name)
	if r.open == nil {
		return file, nil, fmt.Errorf("%sfiles cannot be opened here", what)
	}
	if data, err = r.open(file); err != nil {
		return file, nil, fmt.Errorf("the %sfile cannot be read: %w", what, err)
	}
	return file, data, nil
}

// fill adds what is taken from other files and writes built-in bowlers as mappings.
func (r *reader) fill(root *node) {
	r.fillLibraries(root)
	nameBowlers(root)
}

// put sets values in a tree.
func (r *reader) put(root *node, sets []string) {
	for _, s := range sets {
		if root.kind == mapping {
			r.set(root, s)
			r.fill(root)
		}
	}
}

// scenario resolves a whole file.
func (r *reader) scenario(v *value) *Scenario {
	lanes, balls, bowlers, lines := v.several("lane"), v.several("ball"), v.several("bowler"), r.lines(v)
	s := &Scenario{Title: v.field("title").text, Lanes: make([]lane.Lane, len(lanes)), oils: make([]oil, len(lanes)),
		Balls: make([]ball.Specification, len(balls)), Grips: make([]ball.Grip, len(balls)), BallsWritten: make([]Written, len(balls)),
		Bowlers: make([]Bowler, len(bowlers)*len(lines)), BowlersWritten: make([]Written, len(bowlers)*len(lines))}
	r.parts(s, v, lines, func(*value) bool { return true })
	for i, name := range r.names("lane", lanes, func(i int) string { return s.Lanes[i].Name }) {
		s.Lanes[i].Name = name
	}
	ballNames := r.names("ball", balls, func(int) string { return "" })
	for i, name := range ballNames {
		s.Balls[i].Name = name
	}
	bowlerNames := r.bowlerNames(s, bowlers, lines)
	r.covers(s, lanes, balls)
	visibleNumbers(&s.Visible).read(v.field("settings").field("visible"))
	clearanceNumbers(&s.Clearances).read(v.field("settings").field("clearances"))
	s.Rack = rack(v.field("rack"))
	if v.has("session") {
		s.Session = r.session(v.field("session"), bowlerNames, ballNames)
	}
	r.drills(s, balls)
	return s
}

// parts resolves again those lanes, balls, bowlers and settings for which anew is true. They
// keep their names. It reports whether the effect of covers may change. Unchanged oil is
// kept: building it takes far longer than a shot.
func (r *reader) parts(s *Scenario, v *value, lines []*value, anew func(*value) bool) (covers bool) {
	lanes := v.several("lane")
	lanesAnew := slices.ContainsFunc(lanes, anew)
	for i, l := range lanes {
		if anew(l) {
			var kept *oil
			if !anew(l.field("oil")) && !anew(l.field("length")) {
				kept = &s.oils[i]
			}
			name := s.Lanes[i].Name
			s.Lanes[i], s.oils[i] = r.lane(l, kept)
			s.Lanes[i].Name = cmp.Or(name, s.Lanes[i].Name)
		}
	}
	covers = lanesAnew
	for i, b := range v.several("ball") {
		covers = covers || anew(b.field(coverKey))
		if anew(b) {
			name := s.Balls[i].Name
			s.Balls[i], s.Grips[i] = r.ball(b)
			s.Balls[i].Name, s.BallsWritten[i] = name, b.written()
		}
	}
	for i, b := range v.several("bowler") {
		for k, line := range lines {
			if at := i*len(lines) + k; anew(b) {
				name := s.Bowlers[at].Name
				s.Bowlers[at] = r.bowler(b.onLine(line))
				s.Bowlers[at].Name, s.BowlersWritten[at] = name, b.written()
			}
		}
		if anew(b) || lanesAnew {
			r.fits(b, lanes)
		}
	}
	if settings := v.field("settings"); anew(settings) {
		s.Settings = r.settings(settings)
	}
	return covers
}

// several returns the values of a key or of its plural, such as lane or lanes.
func (v *value) several(key string) []*value {
	if v.has(key) {
		return []*value{v.field(key)}
	}
	return v.field(plurals[key]).items
}

// names returns a name for each of the values: the one written, else the suggested one,
// else "ball" or "ball 2".
func (r *reader) names(kind string, values []*value, suggested func(int) string) []string {
	names := make([]string, len(values))
	taken := map[string]bool{}
	for i, v := range values {
		n := v.field("name")
		if n.bad {
			continue
		}
		if taken[n.text] {
			r.fail(n, "another "+kind+" already has the name "+strconv.Quote(n.text), "")
		}
		names[i], taken[n.text] = n.text, true
	}
	for i := range values {
		if names[i] != "" {
			continue
		}
		name := suggested(i)
		if name == "" {
			name = kind
			if len(values) > 1 {
				name += " " + strconv.Itoa(i+1)
			}
		}
		unique := name
		for n := 2; taken[unique]; n++ {
			unique = name + " (" + strconv.Itoa(n) + ")"
		}
		names[i], taken[unique] = unique, true
	}
	return names
}

// settings resolves the settings.
func (r *reader) settings(v *value) physics.Settings {
	s := physics.Settings{Tolerance: v.field("tolerance").number, EvenNodes: true}
	if p := v.field("pocket"); p.sound() {
		if p.form != nil {
			board, half := p.field("board").number, p.field("half_width").number
			s.Pocket = physics.Window{Min: board - half, Max: board + half}
		} else {
			s.Pocket = r.window(p)
		}
	}
	if a := v.field("good_angle"); a.sound() {
		s.GoodAngle = r.window(a)
	}
	s.HookTurn = v.field("hook_turn").number
	return s
}

// window resolves a list of two values.
func (r *reader) window(v *value) physics.Window {
	w := physics.Window{Min: v.items[0].number, Max: v.items[1].number}
	if w.Max < w.Min {
		r.fail(v, v.items[1].text+" is less than "+v.items[0].text, "")
	}
	return w
}

// session resolves the order of turns.
func (r *reader) session(v *value, bowlers, balls []string) *Session {
	s := &Session{}
	for _, turn := range v.field("order").items {
		if turn.fields == nil {
			continue
		}
		s.Order = append(s.Order, Turn{
			Bowler:     r.named(turn, "bowler", bowlers),
			Ball:       r.named(turn, "ball", balls),
			Games:      int(turn.field("games").number),
			Deliveries: int(turn.field("deliveries").number),
		})
	}
	return s
}

// named returns the index of the bowler or ball of a turn.
func (r *reader) named(turn *value, key string, names []string) int {
	if !turn.has(key) {
		if len(names) > 1 {
			r.missing(turn, key, "the "+key+"s are "+strings.Join(names, ", "))
		}
		return 0
	}
	n := turn.field(key)
	i := slices.Index(names, n.text)
	if i < 0 && !n.bad && len(names) > 0 {
		r.fail(n, "no "+key+" has the name "+strconv.Quote(n.text), cmp.Or(input.DidYouMean(n.text, names), "there is "+strings.Join(names, ", ")))
	}
	return max(i, 0)
}
