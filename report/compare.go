package report

import (
	"fmt"
	"io"
	"iter"
	"slices"
	"strings"

	"lanesim/physics"
	"lanesim/studies/compare"
)

// Comparison is a comparison of shots with their names.
type Comparison struct {
	Title    string
	Warnings []string
	Shots    []Shot
	Files    []string // of the shots
	Result   compare.Result
}

// Names tells two shots apart by what differs in them.
func (c *Comparison) Names(i, j int) (a, b string) {
	s, t := c.Shots[i], c.Shots[j]
	var first, second []string
	for _, n := range [][2]string{{s.Ball, t.Ball}, {s.Line, t.Line}, {s.Lane, t.Lane}, {s.Person, t.Person}} {
		if n[0] != n[1] {
			first, second = append(first, n[0]), append(second, n[1])
		}
	}
	if len(first) == 0 && c.Files[i] != c.Files[j] {
		return c.Files[i], c.Files[j]
	}
	if len(first) == 0 {
		return fmt.Sprintf("shot %d", i+1), fmt.Sprintf("shot %d", j+1)
	}
	return strings.Join(first, ", "), strings.Join(second, ", ")
}

// OneContrast returns the names of a and b if they are the same in all pairs.
func (c *Comparison) OneContrast() (a, b string, ok bool) {
	for k, p := range c.Result.Pairs {
		x, y := c.Names(p.A, p.B)
		if k > 0 && (x != a || y != b) {
			return "", "", false
		}
		a, b = x, y
	}
	return a, b, true
}

// Pair is a pair of shots that are compared.
type Pair struct {
	compare.Pair
	comparison   *Comparison
	nameA, nameB string
}

// PairOf is a pair of a result alone, by the names of its shots.
func PairOf(result compare.Result, number int, a, b string) Pair {
	return Pair{Pair: result.Pairs[number], comparison: &Comparison{Result: result}, nameA: a, nameB: b}
}

// Pairs are the pairs of a comparison.
func (c *Comparison) Pairs() iter.Seq[Pair] {
	return func(yield func(Pair) bool) {
		for k := range c.Result.Pairs {
			if !yield(c.pair(k)) {
				return
			}
		}
	}
}

func (c *Comparison) pair(k int) Pair {
	p := Pair{Pair: c.Result.Pairs[k], comparison: c}
	p.nameA, p.nameB = c.Names(p.A, p.B)
	return p
}

// traced are the shots as the comparison has them.
func (p Pair) traced() (a, b compare.Traced) {
	list := p.comparison.Result.Shots
	return list[p.A], list[p.B]
}

func (p Pair) shots() (a, b Shot) { return p.comparison.Shots[p.A], p.comparison.Shots[p.B] }

// common is what both shots have, "" if it differs.
func (p Pair) common(of func(Shot) string) string {
	a, b := p.shots()
	if of(a) != of(b) {
		return ""
	}
	return of(a)
}

// changeColumns are the numbers of a difference b − a, or of a cause's share of one.
var changeColumns = Columns[compare.Change]{
	change("at_pins_boards", "pins, boards", "at the pins", Board, func(c compare.Change) float64 { return c.AtPins }),
	change("friction_read_ft", "friction read", "of where the friction is read", Foot, func(c compare.Change) float64 { return c.FrictionRead }),
	change("breakpoint_ft", "breakpoint", "of the breakpoint's distance", Foot, func(c compare.Change) float64 { return c.Breakpoint }),
	change("hook_start_ft", "hook start", "of the hook start's distance", Foot, func(c compare.Change) float64 { return c.HookStart }),
	change("entry_angle_deg", "angle", "of the entry angle", Degree, func(c compare.Change) float64 { return c.EntryAngle }),
}

func change(key, label, meaning string, u Unit, of func(compare.Change) float64) Column[compare.Change] {
	return number(key, label, "Difference b − a "+meaning, u, of).change()
}

// differenceColumns are those of a pair, and the standard deviations over the phases.
var differenceColumns, deviationColumns = func() (differences, deviations Columns[Pair]) {
	for _, c := range changeColumns {
		differences = append(differences, via(c, func(p Pair) (compare.Change, bool) { return p.Difference, true }))
		sd := via(c, func(p Pair) (compare.Change, bool) { return p.Spread, true })
		sd.Key, sd.Label, sd.Meaning, sd.signed = c.Key+"_sd", "± "+c.Label, "Its standard deviation over the phases of the release", false
		deviations = append(deviations, sd)
	}
	return differences, deviations
}()

// ChangeObject holds the numbers of a difference, or of a cause's share of one, as JSON
// has them.
func ChangeObject(c compare.Change) Object { return changeColumns.members(c) }

// ChangeRow is one number of a difference for people, with its standard deviation over
// the phases: "−3.02 ± 0.21".
type ChangeRow struct{ Key, Label, Unit, Text string }

// ChangeRows are the numbers of a difference, those first by which shots are told apart.
func ChangeRows(p compare.Pair) []ChangeRow {
	var rows []ChangeRow
	for _, c := range causeColumns() {
		row := ChangeRow{Key: c.Key, Label: c.Label, Unit: c.Shown.Symbol(), Text: c.Show(p.Difference)}
		if cell := c.Of(p.Difference); !cell.Absent {
			c.signed = false
			row.Text += " ± " + c.Show(p.Spread)
		}
		rows = append(rows, row)
	}
	return rows
}

// causeColumns are the numbers of a difference in the order in which people read them.
func causeColumns() Columns[compare.Change] {
	return changeColumns.pick("friction_read_ft", "at_pins_boards", "entry_angle_deg", "hook_start_ft", "breakpoint_ft")
}

// CauseLabel is the name of a mechanism or an input for people: "oil on track".
func CauseLabel(name string) string {
	if rest, ok := strings.CutPrefix(name, "rg_"); ok {
		name = "RG " + rest
	}
	return strings.ReplaceAll(name, "_", " ")
}

// matrixColumns tell a pair in short.
var matrixColumns = Columns[Pair]{
	word("bowler", "bowler", "Name of the bowler, if it is one", func(p Pair) string { return p.common(func(s Shot) string { return s.Person }) }),
	word("lane", "lane", "Name of the lane, if it is one", func(p Pair) string { return p.common(func(s Shot) string { return s.Lane }) }),
	word("line", "line", "Name of the line among those that the scenario lists, if it is one", func(p Pair) string { return p.common(func(s Shot) string { return s.Line }) }),
	text("a", "a", "What tells the first shot from the second", func(p Pair) string { return p.nameA }),
	text("b", "b", "What tells the second shot from the first", func(p Pair) string { return p.nameB }),
	optional("entry_board", "entry board of a", "Board at the pins of a, from the bowler's side", Board, func(p Pair) *float64 { a, _ := p.shots(); return a.Shot.Summary.EntryBoard }),
	optional("entry_board_b", "entry board of b", "Board at the pins of b, from the bowler's side", Board, func(p Pair) *float64 { _, b := p.shots(); return b.Shot.Summary.EntryBoard }),
	differenceColumns[0], deviationColumns[0], differenceColumns[1], deviationColumns[1], differenceColumns[4], deviationColumns[4],
	word("hit_a", "hit of a", "Where a meets the pins", func(p Pair) string { a, _ := p.shots(); return hitOf(a) }),
	word("hit_b", "hit of b", "Where b meets the pins", func(p Pair) string { _, b := p.shots(); return hitOf(b) }),
	truth("visible", "visible", "Whether the difference could be seen", func(p Pair) bool { return p.Visible }),
	lineOf("feet_board", "a"), lineOf("feet_board", "b"), lineOf("arrows_board", "a"), lineOf("arrows_board", "b"),
	number("miss_range_a_boards", "entry of a, line missed by a board", missMeaning("a"), Board, func(p Pair) float64 { return p.comparison.missRange(p.A) }),
	number("miss_range_b_boards", "entry of b, line missed by a board", missMeaning("b"), Board, func(p Pair) float64 { return p.comparison.missRange(p.B) }),
	word("smoother", "smoother", "Which of the two enters on boards closer together when its line is missed by a board to either side; empty if neither does by what could be seen", func(p Pair) string {
		return [...]string{"b", "", "a"}[1+p.comparison.Result.Smoother(p.Pair)]
	}),
}

// lineOf is where one of the two stands or aims, as feet_board_a.
func lineOf(key, which string) Column[Pair] {
	c := via(lineColumns.pick(key)[0], func(p Pair) (Shot, bool) {
		a, b := p.shots()
		return map[string]Shot{"a": a, "b": b}[which], true
	})
	c.Key, c.Label = key+"_"+which, c.Label+" of "+which
	return c
}

// pairColumns are all that can be chosen of a pair, besides the quantities of its shots.
var pairColumns = append(append(Columns[Pair]{}, matrixColumns...),
	differenceColumns[2], deviationColumns[2], differenceColumns[3], deviationColumns[3],
	number("parting_ft", "a board apart from", "Distance from which the paths are farther apart than a board", Foot, func(p Pair) float64 { return p.Parting }),
	word("holds", "holds", "In how many sets of assumed values the answers hold", func(p Pair) string { return p.Sure() }),
)

// OfBoth makes a quantity of a shot three of a pair: that of a, of b and, of a number,
// the difference b − a.
func OfBoth(c Column[Shot]) Columns[Pair] {
	ofA := via(c, func(p Pair) (Shot, bool) { a, _ := p.shots(); return a, true })
	ofB := via(c, func(p Pair) (Shot, bool) { _, b := p.shots(); return b, true })
	ofA.Key, ofA.Label = c.Key+"_a", c.Label+" of a"
	ofB.Key, ofB.Label = c.Key+"_b", c.Label+" of b"
	if c.Kind == TruthKind || c.Kind == TextKind {
		return Columns[Pair]{ofA, ofB}
	}
	difference := difference(c, func(p Pair) (a, b Shot) { return p.shots() })
	difference.Key, difference.Label, difference.Meaning = c.Key+"_difference", c.Label+", b − a", c.Meaning+", b − a"
	return Columns[Pair]{ofA, ofB, difference}
}

// Apart is how far the paths of a pair are apart at a distance.
type Apart struct {
	Pair
	compare.BoardDifference
}

var apartColumns = Columns[Apart]{
	number("distance_ft", "distance", "Distance from the foul line", Foot, func(a Apart) float64 { return a.Distance }),
	number("boards", "boards apart", "Boards from a to b, + is inside", Board.Digits(2), func(a Apart) float64 { return a.BoardDifference.Boards }),
}

// DistanceColumns are those of CSV that were not chosen: the boards between the paths.
func DistanceColumns() Columns[Apart] {
	return append(OfDistances(matrixColumns.pick("bowler", "a", "b")), apartColumns...)
}

// OfDistances makes columns of pairs those of their distances.
func OfDistances(columns Columns[Pair]) Columns[Apart] {
	var list Columns[Apart]
	for _, c := range columns {
		list = append(list, via(c, func(a Apart) (Pair, bool) { return a.Pair, true }))
	}
	return list
}

// Distances are those of all pairs.
func (c *Comparison) Distances() iter.Seq[Apart] {
	return func(yield func(Apart) bool) {
		for p := range c.Pairs() {
			for _, d := range p.Boards {
				if !yield(Apart{p, d}) {
					return
				}
			}
		}
	}
}

// trackColumns are what a shot's track tells.
var trackColumns = Columns[compare.Traced]{
	number("spacing_in", "track per revolution in the oil", "", Inch, func(t compare.Traced) float64 { return t.Spacing }),
	number("contact_width_in", "width of the contact", "", Inch, func(t compare.Traced) float64 { return t.ContactWidth }),
	number("meeting_share", "", "", Ratio, func(t compare.Traced) float64 { return t.Meeting }),
	number("film_um", "", "", Micrometre, func(t compare.Traced) float64 { return t.Film }),
	number("film_on_dry_um", "film brought to the dry", "", Micrometre, func(t compare.Traced) float64 { return t.OnDry }),
}

func (c *Comparison) shotObject(i int, name string) Object {
	s, t := c.Shots[i], c.Result.Shots[i]
	return Object{
		{"name", name}, {"lane", s.Lane}, {"ball", s.Ball}, {"bowler", s.Bowler},
		{"status", s.Shot.Status},
		{"inputs", s.Inputs},
		{"events", eventsObject(s.Shot.Events)},
		{"marks", stateList(s.Shot.Marks)},
		{"summary", summaryColumns.members(s)},
		{"track", trackColumns.members(t)},
		{"missed", append(missColumns.members(t), Member{"range_boards", c.missRange(i)})},
		{"aimed", aimedObject(t.Aimed)},
		{"phases", t.Phases}, {"lost", t.Lost}, // of the phases over which the shot is a mean
	}
}

func stateList(list []physics.State) List { return List(stateLines(list)) }

// holdsObject tells in how many sets of assumed values conclusions hold: null where no
// sets were tried.
func holdsObject(h compare.Holds) Object {
	if h.AtPins.Of == 0 {
		return nil
	}
	counts := func(v compare.Held, positive, negative string) Object {
		return Object{{"of", v.Of}, {positive, v.Positive}, {negative, v.Negative}, {"none", v.None}}
	}
	pins := counts(h.AtPins, "inside", "outside")
	pins[1], pins[2] = pins[2], pins[1]
	return Object{
		{"friction_read", counts(h.FrictionRead, "later", "earlier")},
		{"at_pins", pins},
		{"visible", Object{{"of", h.Seen.Of}, {"yes", h.Seen.Positive}, {"no", h.Seen.None}}},
		{"lines", Object{{"of", h.Seen.Of}, {"followed", h.Seen.Of - h.Changed - h.Lost}, {"changed", h.Changed}, {"lost", h.Lost}}},
	}
}

func causeObject(c compare.Cause) Object {
	return append(Object{{"cause", c.Name}}, changeColumns.members(c.Change)...)
}

func (c *Comparison) pairObject(p Pair) Object {
	o := Object{
		{"a", c.shotObject(p.A, p.nameA)},
		{"b", c.shotObject(p.B, p.nameB)},
		{"difference_boards", Each(p.Boards, func(d compare.BoardDifference) Object {
			return apartColumns.members(Apart{p, d})
		})},
	}
	o = append(append(o, differenceColumns.members(p)...), deviationColumns.members(p)...)
	o = append(o,
		Member{"parting_ft", Foot.In(p.Parting)},
		Member{"visible", p.Visible},
		Member{"holds", holdsObject(p.Holds)},
		Member{"mechanisms", Each(p.Mechanisms, causeObject)},
		Member{"inputs", Each(p.Inputs, causeObject)})
	if p.Error != (compare.Change{}) {
		o = append(o, Member{"numerical_error", changeColumns.members(p.Error)})
	}
	return append(o, Member{"explanation", p.Explain()})
}

// WriteJSON writes the comparison as JSON, a pair on a line.
func (c *Comparison) WriteJSON(to io.Writer) error {
	var matrix, pairs Lines
	for p := range c.Pairs() {
		matrix = append(matrix, append(matrixColumns.members(p), Member{"holds", holdsObject(p.Holds)}))
		pairs = append(pairs, c.pairObject(p))
	}
	return WriteResult(to, c.Warnings, Member{"answer", c.Answer()}, Member{"matrix", matrix}, Member{"pairs", pairs})
}

// Document has a line for each pair and the details of some.
func (c *Comparison) Document(detailed []int) Document {
	doc := Document{Title: c.Title}
	if len(c.Result.Pairs) > 1 {
		doc.SayWrapped(c.Answer())
	}
	c.matrix(&doc)
	for _, k := range detailed {
		p := c.pair(k)
		who := p.common(func(s Shot) string { return s.Bowler })
		if who != "" {
			who += ": "
		}
		doc.HeadOf(who, "a = "+p.nameA+", b = "+p.nameB, "")
		doc.SayWrapped(p.Explain())
		doc.Table(p.details())
		if !p.Identical {
			doc.Table(p.causes())
		}
	}
	if n := len(c.Result.Pairs); n > len(detailed) {
		doc.Say(fmt.Sprintf("Details of %d of %d pairs", len(detailed), n))
		doc.Hint(": --pair 'a, b' asks for others, --pair all for all.")
	}
	return doc
}

// matrix has a line for each pair. What all pairs share is not repeated.
func (c *Comparison) matrix(doc *Document) {
	a, z, contrast := c.OneContrast()
	columns := matrixColumns.pick("bowler", "line", "lane", "a", "b")
	columns = slices.DeleteFunc(columns, func(q Column[Pair]) bool {
		if q.Key == "a" || q.Key == "b" {
			return contrast
		}
		seen := map[string]bool{}
		for p := range c.Pairs() {
			seen[q.Show(p)] = true
		}
		return len(seen) == 1
	})
	for _, k := range []int{1, 0, 4} {
		d, sd := differenceColumns[k], deviationColumns[k]
		both := word(d.Key, d.Head(), "", func(p Pair) string {
			if d.Of(p).Absent {
				return ""
			}
			return d.Show(p) + " ± " + sd.Show(p)
		})
		both.right = true
		columns = append(columns, both)
	}
	smooth := word("smoother", "entry if missed, boards", "", func(p Pair) string {
		a, b := p.comparison.missRange(p.A), p.comparison.missRange(p.B)
		return Fixed(a, 1) + ", " + Fixed(b, 1)
	})
	smooth.right = true
	columns = append(columns, smooth)
	sure := ""
	if of := c.Result.Pairs[0].Holds.AtPins.Of; of > 0 {
		sure = fmt.Sprintf("holds, of %d", of)
	}
	columns = append(columns,
		text("hits", "hits", "", func(p Pair) string { a, b := p.shots(); return hitOrLost(a) + ", " + hitOrLost(b) }),
		text("holds", sure, "", func(p Pair) string { return p.Sure() }))
	heading := "b − a (boards: + is inside)"
	if contrast {
		heading += ": a = " + a + ", b = " + z
	}
	doc.Head(heading)
	doc.Table(table(columns, c.Pairs()))
	doc.Join()
}

// causes shows the shares of the difference.
func (p Pair) causes() Grid {
	order := causeColumns()
	g := Grid{Left: []bool{true}, Rows: [][]string{{"b − a"}}}
	for _, c := range order {
		g.Rows[0] = append(g.Rows[0], c.Head())
	}
	add := func(name string, change compare.Change, signed bool) {
		row := []string{name}
		for _, c := range order {
			c.signed = signed
			row = append(row, c.Show(change))
		}
		g.Rows = append(g.Rows, row)
	}
	add("difference", p.Difference, true)
	add("  ± over phases", p.Spread, false)
	for _, m := range p.Mechanisms {
		add("  "+m.Name, m.Change, true)
	}
	for _, i := range p.Inputs {
		add("  input: "+i.Name, i.Change, true)
	}
	if p.Error != (compare.Change{}) {
		row := []string{"numerical error"}
		for _, c := range order {
			if cell := c.Of(p.Error); cell.Absent {
				row = append(row, Absent)
			} else {
				row = append(row, Figure(cell.Number))
			}
		}
		g.Rows = append(g.Rows, row)
	}
	return g
}
