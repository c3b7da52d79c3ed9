package thrown

import (
	"fmt"
	"io"
	"iter"
	"slices"
	"strings"

	"lanesim/physics"
	"lanesim/report"
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

// Names returns the shortest names that distinguish two shots.
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

// OneContrast returns the names of a and b if all pairs have the same names.
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

// Pair is a pair of shots of a comparison.
type Pair struct {
	compare.Pair
	comparison   *Comparison
	nameA, nameB string
}

// PairOf returns a pair of a result, given the names of its shots.
func PairOf(result compare.Result, number int, a, b string) Pair {
	return Pair{Pair: result.Pairs[number], comparison: &Comparison{Result: result}, nameA: a, nameB: b}
}

// Pairs returns the pairs of a comparison.
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

// traced returns the pair's shots in the result of the comparison.
func (p Pair) traced() (a, b compare.ShotResult) {
	list := p.comparison.Result.Shots
	return list[p.A], list[p.B]
}

func (p Pair) shots() (a, b Shot) { return p.comparison.Shots[p.A], p.comparison.Shots[p.B] }

// common returns a text of both shots, "" if it differs.
func (p Pair) common(of func(Shot) string) string {
	a, b := p.shots()
	if of(a) != of(b) {
		return ""
	}
	return of(a)
}

// changeColumns are the numbers of a difference b − a, or of a cause's share of it.
var changeColumns = report.Columns[compare.Change]{
	change("at_pins_boards", "pins, boards", "at the pins", report.Board, func(c compare.Change) float64 { return c.AtPins }),
	change("friction_read_ft", "friction read", "of where the friction is read", report.Foot, func(c compare.Change) float64 { return c.FrictionRead }),
	change("breakpoint_ft", "breakpoint", "of the breakpoint's distance", report.Foot, func(c compare.Change) float64 { return c.Breakpoint }),
	change("hook_start_ft", "hook start", "of the hook start's distance", report.Foot, func(c compare.Change) float64 { return c.HookStart }),
	change("entry_angle_deg", "entry angle", "of the entry angle", report.Degree, func(c compare.Change) float64 { return c.EntryAngle }),
}

func change(key, label, meaning string, u report.Unit, of func(compare.Change) float64) report.Column[compare.Change] {
	return report.Number(key, label, "Difference b − a "+meaning, u, of).Change()
}

// differenceColumns are the differences of a pair, deviationColumns their standard deviations over the
// phases.
var differenceColumns, deviationColumns = func() (differences, deviations report.Columns[Pair]) {
	for _, c := range changeColumns {
		differences = append(differences, report.Via(c, func(p Pair) (compare.Change, bool) { return p.Difference, true }))
		sd := report.Via(c, func(p Pair) (compare.Change, bool) { return p.Spread, true })
		sd.Key, sd.Label, sd.Meaning, sd.Signed = c.Key+"_sd", "± "+c.Label, "Its standard deviation over the phases of the release", false
		deviations = append(deviations, sd)
	}
	return differences, deviations
}()

// ChangeObject returns the numbers of a difference, or of a cause's share of it, for JSON.
func ChangeObject(c compare.Change) report.Object { return changeColumns.Members(c) }

// ChangeRow is one number of a difference for people, with its standard deviation over
// the phases: "−3.02 ± 0.21".
type ChangeRow struct{ Key, Label, Unit, Text string }

// ChangeRows returns the numbers of a difference for people, the most important first.
func ChangeRows(p compare.Pair) []ChangeRow {
	var rows []ChangeRow
	for _, c := range causeColumns() {
		row := ChangeRow{Key: c.Key, Label: c.Label, Unit: c.Shown.Symbol(), Text: c.Show(p.Difference)}
		if cell := c.Of(p.Difference); !cell.Absent {
			c.Signed = false
			row.Text += " ± " + c.Show(p.Spread)
		}
		rows = append(rows, row)
	}
	return rows
}

// causeColumns returns the numbers of a difference in their order for people.
func causeColumns() report.Columns[compare.Change] {
	return changeColumns.Pick("friction_read_ft", "at_pins_boards", "entry_angle_deg", "hook_start_ft", "breakpoint_ft")
}

// CauseLabel returns the name of a mechanism or an input for people: "oil on track".
func CauseLabel(name string) string {
	if rest, ok := strings.CutPrefix(name, "rg_"); ok {
		name = "RG " + rest
	}
	return strings.ReplaceAll(name, "_", " ")
}

// matrixColumns describe a pair in short.
var matrixColumns = report.Columns[Pair]{
	report.Word("bowler", "bowler", "Name of the bowler, if it is one", func(p Pair) string { return p.common(func(s Shot) string { return s.Person }) }),
	report.Word("lane", "lane", "Name of the lane, if it is one", func(p Pair) string { return p.common(func(s Shot) string { return s.Lane }) }),
	report.Word("line", "line", "Name of the line among those that the scenario lists, if it is one", func(p Pair) string { return p.common(func(s Shot) string { return s.Line }) }),
	report.Text("a", "a", "What tells the first shot from the second", func(p Pair) string { return p.nameA }),
	report.Text("b", "b", "What tells the second shot from the first", func(p Pair) string { return p.nameB }),
	report.Number("entry_board", "entry board of a", "Board at the pins of a, from the bowler's side", report.Board, func(p Pair) float64 { a, _ := p.shots(); return a.Shot.EntryBoard() }),
	report.Number("entry_board_b", "entry board of b", "Board at the pins of b, from the bowler's side", report.Board, func(p Pair) float64 { _, b := p.shots(); return b.Shot.EntryBoard() }),
	differenceColumns[0], deviationColumns[0], differenceColumns[1], deviationColumns[1], differenceColumns[4], deviationColumns[4],
	report.Word("hit_a", "hit of a", "Where a meets the pins", func(p Pair) string { a, _ := p.shots(); return a.Hit() }),
	report.Word("hit_b", "hit of b", "Where b meets the pins", func(p Pair) string { _, b := p.shots(); return b.Hit() }),
	report.Truth("visible", "visible", "Whether the difference is visible", func(p Pair) bool { return p.Visible }),
	lineOf("feet_board", "a"), lineOf("feet_board", "b"), lineOf("arrows_board", "a"), lineOf("arrows_board", "b"),
	report.Number("miss_range_a_boards", "entry of a, line missed by a board", missMeaning("a"), report.Board, func(p Pair) float64 { return p.comparison.missRange(p.A) }),
	report.Number("miss_range_b_boards", "entry of b, line missed by a board", missMeaning("b"), report.Board, func(p Pair) float64 { return p.comparison.missRange(p.B) }),
	report.Word("smoother", "smoother", "Which of the two enters on boards closer together when its line is missed by a board to either side; empty if the difference is not visible", func(p Pair) string {
		return [...]string{"b", "", "a"}[1+p.comparison.Result.Smoother(p.Pair)]
	}),
}

// lineOf returns a column of the line of shot a or b, as feet_board_a.
func lineOf(key, which string) report.Column[Pair] {
	c := report.Via(lineColumns.Pick(key)[0], func(p Pair) (Shot, bool) {
		a, b := p.shots()
		return map[string]Shot{"a": a, "b": b}[which], true
	})
	c.Key, c.Label = key+"_"+which, c.Label+" of "+which
	return c
}

// pairColumns are all columns of a pair, except the quantities of its shots.
var pairColumns = append(append(report.Columns[Pair]{}, matrixColumns...),
	differenceColumns[2], deviationColumns[2], differenceColumns[3], deviationColumns[3],
	report.Number("parting_ft", "a board apart from", "Distance from which the paths are farther apart than a board", report.Foot, func(p Pair) float64 { return p.Parting }),
	report.Word("holds", "holds", "In how many sets of assumed values the answers hold", func(p Pair) string { return p.Sure() }),
)

// OfBoth returns the columns of a pair for a column of a shot: of a, of b and, for a number, the difference b
// − a.
func OfBoth(c report.Column[Shot]) report.Columns[Pair] {
	ofA := report.Via(c, func(p Pair) (Shot, bool) { a, _ := p.shots(); return a, true })
	ofB := report.Via(c, func(p Pair) (Shot, bool) { _, b := p.shots(); return b, true })
	ofA.Key, ofA.Label = c.Key+"_a", c.Label+" of a"
	ofB.Key, ofB.Label = c.Key+"_b", c.Label+" of b"
	if c.Kind == report.TruthKind || c.Kind == report.TextKind {
		return report.Columns[Pair]{ofA, ofB}
	}
	difference := report.Difference(c, func(p Pair) (a, b Shot) { return p.shots() })
	difference.Key, difference.Label, difference.Meaning = c.Key+"_difference", c.Label+", b − a", c.Meaning+", b − a"
	return report.Columns[Pair]{ofA, ofB, difference}
}

// Apart is the difference between the paths of a pair at a distance.
type Apart struct {
	Pair
	compare.BoardDifference
}

var apartColumns = report.Columns[Apart]{
	report.Number("distance_ft", "distance", "Distance from the foul line", report.Foot, func(a Apart) float64 { return a.Distance }),
	report.Number("boards", "boards apart", "Boards from a to b, + is inside", report.Board.Finer(), func(a Apart) float64 { return a.BoardDifference.Boards }),
}

// DistanceColumns returns the default columns of CSV: the boards between the paths.
func DistanceColumns() report.Columns[Apart] {
	return append(OfDistances(matrixColumns.Pick("bowler", "a", "b")), apartColumns...)
}

// OfDistances converts columns of pairs to columns of their distances.
func OfDistances(columns report.Columns[Pair]) report.Columns[Apart] {
	return report.AllVia(columns, func(a Apart) (Pair, bool) { return a.Pair, true })
}

// Distances returns the distances of all pairs.
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

var trackColumns = report.Columns[compare.ShotResult]{
	report.Number("spacing_in", "track per revolution in the oil", "Mean distance from the contact to the track of one turn ago, in the oil", report.Inch, func(t compare.ShotResult) float64 { return t.Spacing }),
	report.Number("contact_width_in", "width of the contact", "Width of the contact on the cover", report.Inch, func(t compare.ShotResult) float64 { return t.ContactWidth }),
	report.Number("meeting_share", "meets its track", "Share of the way in the oil on which the contact meets the track of one turn ago", report.Ratio, func(t compare.ShotResult) float64 { return t.Meeting }),
	report.Number("film_um", "film brought in the oil", "Mean film that the ball brings to the contact in the oil", report.Micrometre, func(t compare.ShotResult) float64 { return t.Film }),
	report.Number("film_on_dry_um", "film brought to the dry", "Mean film that the ball brings to the contact where the lane has none", report.Micrometre, func(t compare.ShotResult) float64 { return t.OnDry }),
}

func (c *Comparison) shotObject(i int, name string) report.Object {
	s, t := c.Shots[i], c.Result.Shots[i]
	return report.ObjectOf(
		"name", name, "lane", s.Lane, "ball", s.Ball, "bowler", s.Bowler,
		"status", s.Shot.Status,
		"inputs", s.Inputs,
		"events", eventsObject(s.Shot.Events),
		"marks", report.List(stateLines(s.Shot.Marks)),
		"summary", summaryColumns.Members(s),
		"track", trackColumns.Members(t),
		"missed", report.ObjectOf(missColumns.Members(t), "range_boards", c.missRange(i)),
		"aimed", aimedObject(t.Aimed),
		"phases", t.Phases, "lost", t.Lost, // phases of the mean shot, and lost ones of them
	)
}

// holdsObject returns the numbers of sets of assumed values in which conclusions are true: null if no sets
// were tried.
func holdsObject(h compare.AssumedResult) report.Object {
	if h.AtPins.Of == 0 {
		return nil
	}
	counts := func(v compare.SignCount, positive, negative string) report.Object {
		return report.ObjectOf("of", v.Of, positive, v.Positive, negative, v.Negative, "none", v.None)
	}
	pins := counts(h.AtPins, "inside", "outside")
	pins[1], pins[2] = pins[2], pins[1]
	return report.ObjectOf(
		"friction_read", counts(h.FrictionRead, "later", "earlier"),
		"at_pins", pins,
		"visible", report.ObjectOf("of", h.Seen.Of, "yes", h.Seen.Positive, "no", h.Seen.None),
		"lines", report.ObjectOf("of", h.Seen.Of, "followed", h.Seen.Of-h.Changed-h.Lost, "changed", h.Changed, "lost", h.Lost),
	)
}

func causeObject(c compare.Cause) report.Object {
	return report.ObjectOf("cause", c.Name, changeColumns.Members(c.Change))
}

func (c *Comparison) pairObject(p Pair) report.Object {
	o := report.ObjectOf(
		"a", c.shotObject(p.A, p.nameA),
		"b", c.shotObject(p.B, p.nameB),
		"difference_boards", report.Each(p.Boards, func(d compare.BoardDifference) report.Object {
			return apartColumns.Members(Apart{p, d})
		}),
		differenceColumns.Members(p), deviationColumns.Members(p),
		"parting_ft", report.Foot.In(p.Parting),
		"visible", p.Visible,
		"holds", holdsObject(p.Assumed),
		"mechanisms", report.Each(p.Mechanisms, causeObject),
		"inputs", report.Each(p.Inputs, causeObject),
	)
	if p.Error != (compare.Change{}) {
		o = o.With("numerical_error", changeColumns.Members(p.Error))
	}
	return report.ObjectOf(o, "explanation", p.Explain())
}

// WriteJSON writes the comparison as JSON, with a line for each pair.
func (c *Comparison) WriteJSON(to io.Writer) error {
	var matrix, pairs report.Lines
	for p := range c.Pairs() {
		matrix = append(matrix, report.ObjectOf(matrixColumns.Members(p), "holds", holdsObject(p.Assumed)))
		pairs = append(pairs, c.pairObject(p))
	}
	return report.WriteResult(to, c.Warnings, report.ObjectOf("answer", c.Answer(), "matrix", matrix, "pairs", pairs)...)
}

// Document returns the comparison for people: a line for each pair and the details of some.
func (c *Comparison) Document(detailed []int) report.Document {
	doc := report.Document{Title: c.Title}
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
	doc.SayWrapped(HitWords(c.Shots, func(s Shot) physics.Window { return s.Pocket }))
	if n := len(c.Result.Pairs); n > len(detailed) {
		doc.Say(fmt.Sprintf("Details of %d of %d pairs", len(detailed), n))
		doc.Hint(": --pair 'a, b' asks for others, --pair all for all.")
	}
	return doc
}

// matrix adds a table with a line for each pair, without columns that are the same for all.
func (c *Comparison) matrix(doc *report.Document) {
	a, z, contrast := c.OneContrast()
	columns := matrixColumns.Pick("bowler", "line", "lane", "a", "b")
	columns = slices.DeleteFunc(columns, func(q report.Column[Pair]) bool {
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
		both := report.Word(d.Key, d.Head(), d.Meaning, func(p Pair) string {
			if d.Of(p).Absent {
				return ""
			}
			return d.Show(p) + " ± " + sd.Show(p)
		})
		columns = append(columns, both.FlushRight())
	}
	smooth := report.Word("smoother", "entry if missed, boards", "How far apart each enters with its line missed", func(p Pair) string {
		a, b := p.comparison.missRange(p.A), p.comparison.missRange(p.B)
		return report.Fixed(a, 1) + ", " + report.Fixed(b, 1)
	})
	sure := ""
	if of := c.Result.Pairs[0].Assumed.AtPins.Of; of > 0 {
		sure = fmt.Sprintf("holds, of %d", of)
	}
	columns = append(columns, smooth.FlushRight(),
		report.Text("hits", "hits", "Where both meet the pins", func(p Pair) string { return p.hits(", ") }),
		report.Text("holds", sure, "In how many sets of assumed values the answers hold", func(p Pair) string { return p.Sure() }))
	heading := "b − a (boards: + is inside)"
	if contrast {
		heading += ": a = " + a + ", b = " + z
	}
	doc.Head(heading)
	doc.Table(report.TableOf(columns, c.Pairs()))
	doc.Join()
}

func (p Pair) causes() report.Grid {
	g := report.Grid{Left: []bool{true}}
	add := func(name string, show func(report.Column[compare.Change]) string) {
		report.AddRow(&g, name, causeColumns(), show)
	}
	share := func(name string, change compare.Change) {
		add(name, func(c report.Column[compare.Change]) string { return c.Show(change) })
	}
	add("b − a", report.Column[compare.Change].Head)
	share("difference", p.Difference)
	add("  ± over phases", func(c report.Column[compare.Change]) string { c.Signed = false; return c.Show(p.Spread) })
	for _, m := range p.Mechanisms {
		share("  "+CauseLabel(m.Name), m.Change)
	}
	for _, i := range p.Inputs {
		share("  input: "+CauseLabel(i.Name), i.Change)
	}
	if p.Error != (compare.Change{}) {
		add("numerical error", func(c report.Column[compare.Change]) string {
			if cell := c.Of(p.Error); !cell.Absent {
				return report.Figure(cell.Number)
			}
			return report.Absent
		})
	}
	return g
}
