package studied

import (
	"fmt"
	"io"
	"iter"
	"slices"
	"strings"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/studies"
	"lanesim/studies/spread"
)

// Spread is how the deliveries of players scatter.
type Spread struct {
	Title    string
	Warnings []string
	Players  []Player
	Study    spread.Study
	Result   spread.Result
	AtPins   *AtPins       // nil if nobody asked
	Paths    []SpreadPaths // of each player, if a picture is drawn
}

// SpreadPaths are shots of a player with their paths.
type SpreadPaths struct {
	Line  physics.Shot // without deviations
	Shots []physics.Shot
}

func distribution(d studies.Distribution, u report.Unit) report.Object {
	var quantiles report.Object
	for i, p := range []string{"p5", "p25", "p50", "p75", "p95"} {
		quantiles = append(quantiles, report.ObjectOf(p, u.In(d.Quantiles[i]))...)
	}
	return report.ObjectOf("mean", u.In(d.Mean), "sd", u.In(d.SD), "quantiles", quantiles)
}

func estimate(e spread.Estimate) report.Object {
	return report.ObjectOf("value", e.Value, "standard_error", e.Error)
}

func missObject(m spread.Miss) report.Object {
	var gain, sobol report.Object
	if n := m.Without.Of(); n > 0 {
		gain = report.ObjectOf("shots", n, shareObject("pocket", shareOf(without(m.Without))), "gain", m.Without.Difference(), "gain_interval", ends(m.Without.Interval()))
	}
	if x := m.Indices; x != nil {
		sobol = report.ObjectOf("entry_board_first", estimate(x.BoardFirst), "entry_board_total", estimate(x.BoardTotal),
			"pocket_first", estimate(x.PocketFirst), "pocket_total", estimate(x.PocketTotal))
	}
	return report.ObjectOf(
		"minus_sigma_boards", m.Minus, "plus_sigma_boards", m.Plus,
		"entry_board_explained", estimate(m.Board), "pocket_explained", estimate(m.Pocket),
		"pocket_share_without", gain, "sobol", sobol,
	)
}

// without counts the hits in way b.
func without(p studies.Paired) studies.Count {
	return studies.Count{Hits: p.Both + p.OnlyB, Of: p.Of()}
}

func missesObject(list []spread.Miss) report.Object {
	var o report.Object
	for _, v := range studies.AllVaried() {
		o = o.With(v.String(), nil)
	}
	for _, m := range list {
		o[m.Of].Value = missObject(m)
	}
	return o
}

func (w *Spread) object(i int) report.Object {
	t, s := w.Players[i], w.Result.Setups[i]
	var level any
	if t.Level != "" {
		level = t.Level
	}
	var hits, within report.Object
	for k, share := range w.hits(i) {
		hit := string(physics.AllHits()[k])
		hits, within = hits.With(hit, share.Value), within.With(hit, ends(share.Interval))
	}
	return report.ObjectOf(
		t.object(), "assumed_level", level,
		"feet_board", t.Setup.Release.Laydown+t.FootToBall, "laydown", t.Setup.Release.Laydown, "arrows_board", studies.BoardAtArrows(t.Setup.Release), "angle_deg", report.Degree.In(t.Setup.Release.Angle), "line_entry_board", s.Line.EntryBoard,
		"shots", w.Result.Shots,
		"pocket_share", s.Pocket.Share(), "pocket_interval", ends(s.PocketInterval),
		"good_angle_share", s.GoodAngle.Share(), "good_angle_interval", ends(s.GoodAngleInterval),
		"entry_board", distribution(s.EntryBoard, report.Board), "entry_angle_deg", distribution(s.EntryAngle, report.Degree),
		"hits", hits, "hits_interval", within, "ends", s.Ends, "sensitivity", missesObject(s.Misses), "sobol_rows", s.SobolRows,
	)
}

// WriteJSON writes the spread as JSON.
func (w *Spread) WriteJSON(to io.Writer) error {
	deliveries := report.List{}
	for i := range w.Result.Setups {
		deliveries = append(deliveries, w.object(i))
	}
	differences := report.Each(w.Result.Differences, func(d spread.ShareDifference) report.Object {
		a, b := w.Players[d.A], w.Players[d.B]
		return report.ObjectOf(
			pairObject(a, b),
			"pocket_share_difference", d.Difference(), "difference_interval", ends(d.Interval()),
			"only_a", d.OnlyA, "only_b", d.OnlyB, "significant", d.Significant(),
		)
	})
	members := report.ObjectOf("seed", w.Study.Seed, "deliveries", deliveries, "differences", differences)
	if w.AtPins != nil {
		members = members.With("carry", w.AtPins.object(w))
	}
	return report.WriteResult(to, w.Warnings, members...)
}

type scattered struct {
	player Player
	number int // from 1
	off    physics.Release
	spread.ShotResult
}

// scatteredColumns are those of the deliveries: the deviations from the line and what
// became of them.
func scatteredColumns() report.Columns[scattered] {
	return append(playerColumns(func(s scattered) Player { return s.player }),
		report.Count("delivery", "delivery", "Number of the delivery, from 1", func(s scattered) int { return s.number }),
		report.Number("laydown_off", "", "Laydown less that of the line", report.Board, func(s scattered) float64 { return s.off.Laydown }),
		report.Number("angle_off_deg", "", "Launch angle less that of the line", report.Degree, func(s scattered) float64 { return s.off.Angle }),
		report.Number("speed_off_mph", "", "Speed less that of the line", report.MPH, func(s scattered) float64 { return s.off.Speed }),
		report.Number("rev_rate_off_rpm", "", "Rev rate less that of the line", report.RPM, func(s scattered) float64 { return s.off.RevRate }),
		report.Number("axis_rotation_off_deg", "", "Axis rotation less that of the line", report.Degree, func(s scattered) float64 { return s.off.AxisRotation }),
		report.Number("axis_tilt_off_deg", "", "Axis tilt less that of the line", report.Degree, func(s scattered) float64 { return s.off.AxisTilt }),
		report.Number("phase_off_deg", "", "Phase less that of the line", report.Degree, func(s scattered) float64 { return s.off.Phase }),
		report.Text("status", "ended", "How the shot ended", func(s scattered) string { return string(s.Status()) }),
		report.Number("entry_board", "", "Board at the pins", report.Board, func(s scattered) float64 { return s.EntryBoard }),
		report.Number("entry_angle_deg", "", "Heading at the pins", report.Degree, func(s scattered) float64 { return s.EntryAngle }),
		report.Truth("pocket", "", "Whether the ball enters in the pocket", func(s scattered) bool { return s.Pocket }),
		report.Truth("good_angle", "", "Whether the entry angle is good", func(s scattered) bool { return s.GoodAngle }),
	)
}

// each are the deliveries of all players; why says why they end early.
func (w *Spread) each(why *error) iter.Seq[scattered] {
	return func(yield func(scattered) bool) {
		for i, s := range w.Result.Setups {
			line := w.Players[i].Setup.Release
			deliverer, err := w.Players[i].Setup.Repeatability.Deliverer(line)
			if err != nil {
				*why = err
				return
			}
			for k, one := range s.Each {
				r := deliverer.Delivery(studies.DrawDeviates(w.Study.Seed, uint64(k)))
				for _, v := range studies.AllVaried() {
					*v.Of(&r) -= *v.Of(&line)
				}
				if !yield(scattered{w.Players[i], k + 1, r, one}) {
					return
				}
			}
		}
	}
}

// Rows has a row for each delivery.
func (w *Spread) Rows() report.Rows {
	var why error
	r := report.RowsOf(scatteredColumns(), w.each(&why))
	each := r.Each
	r.Each = func(take func([]report.Cell) error) error {
		if err := each(take); err != nil {
			return err
		}
		return why
	}
	return r
}

// Document reports the spread for people.
func (w *Spread) Document() report.Document {
	doc := report.Document{Title: w.Title}
	doc.HeadOf("", "pocket share", " of "+w.deliveries())
	doc.Table(w.shareTable())
	doc.Head("at the pins")
	doc.Table(w.entryTable())
	doc.Head("where the ball meets the pins")
	shares, all := w.hitTable()
	doc.Table(shares)
	noteGoodTo(&doc, "shares", all)
	doc.SayWrapped(thrown.HitWords(w.Players, func(t Player) physics.Window { return thrown.Pocket(w.Study.Settings, t.Setup.Release) }))
	for i := range w.Result.Setups {
		if misses, varies := w.missTable(i); varies {
			doc.Head("what each miss costs: " + w.Players[i].Name(w.Players))
			doc.Table(misses)
			if words := w.missWords(i); words != "" {
				doc.Note(words)
			}
		}
	}
	if len(w.Result.Differences) > 0 {
		doc.Head("pocket shares of one bowler compared, over the same deliveries")
		doc.Table(w.differenceTable())
	}
	if w.AtPins != nil {
		doc.Add(w.AtPins.document(w))
	}
	return doc
}

// deliveries says how many there were.
func (w *Spread) deliveries() string {
	if len(w.Players) == 1 {
		return report.Counting(w.Result.Shots, "delivery")
	}
	return report.Counting(w.Result.Shots, "delivery") + " each"
}

func (w *Spread) shareTable() report.Grid {
	t := report.Grid{Left: []bool{true}, Rows: [][]string{{"", "feet", "laydown", "arrows", "pocket", "95 % interval", "good angle", "95 % interval", "pocket missed", "not at the pins"}}}
	for i, s := range w.Result.Setups {
		row := []string{w.Players[i].Name(w.Players)}
		for _, c := range thrown.LineColumns() {
			row = append(row, c.Show(w.Players[i].line()))
		}
		t.Rows = append(t.Rows, append(row,
			report.Share(s.Pocket.Share()), Between(s.PocketInterval), report.Share(s.GoodAngle.Share()), Between(s.GoodAngleInterval), fmt.Sprint(s.Ends[physics.Pins]-s.Pocket.Hits), LostText(s)))
	}
	return t
}

// hits are the shares of deliveries that meet the pins in each way; a ball that does not get
// there has missed.
func (w *Spread) hits(i int) []studies.Mean {
	s := w.Result.Setups[i]
	pocket := thrown.Pocket(w.Study.Settings, w.Players[i].Setup.Release)
	counts := map[physics.Hit]int{}
	for _, one := range s.Each {
		hit := physics.Missed
		if one.Status() == physics.Pins {
			hit = physics.HitAt(one.EntryBoard, pocket)
		}
		counts[hit]++
	}
	var shares []studies.Mean
	for _, hit := range physics.AllHits() {
		shares = append(shares, shareOf(studies.Count{Hits: counts[hit], Of: len(s.Each)}))
	}
	return shares
}

// hitTable also returns its shares.
func (w *Spread) hitTable() (t report.Grid, all []studies.Mean) {
	t.Left = []bool{true}
	report.AddRow(&t, "", physics.AllHits(), func(hit physics.Hit) string { return string(hit) })
	for i := range w.Result.Setups {
		shares := w.hits(i)
		report.AddRow(&t, w.Players[i].Name(w.Players), shares, func(share studies.Mean) string { return report.Share(share.Value) })
		all = append(all, shares...)
	}
	return t, all
}

// LostText counts the deliveries that did not get to the pins, by how they ended.
func LostText(s spread.SetupResult) string {
	var parts []string
	for _, status := range []physics.Status{physics.Gutter, physics.FoulLine, physics.Stopped, physics.Lifted, physics.TimeLimit} {
		if n := s.Ends[status]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, status))
		}
	}
	if parts == nil {
		return "0"
	}
	return strings.Join(parts, ", ")
}

func (w *Spread) entryTable() report.Grid {
	t := report.Grid{Left: []bool{true}, Rows: [][]string{{"", "mean", "sd", "5 %", "25 %", "50 %", "75 %", "95 %"}}}
	row := func(name string, d studies.Distribution, u report.Unit) {
		report.AddRow(&t, name, append([]float64{d.Mean, d.SD}, d.Quantiles[:]...), u.Finer().Show)
	}
	for i, s := range w.Result.Setups {
		name := w.Players[i].Name(w.Players)
		row(name+": entry board", s.EntryBoard, report.Board)
		row(name+": entry angle, deg", s.EntryAngle, report.Degree)
	}
	return t
}

// missTable says what each deviation costs, and whether there is one.
func (w *Spread) missTable(i int) (report.Grid, bool) {
	s := w.Result.Setups[i]
	header := []string{"", "−σ, boards", "+σ, boards", "of boards", "± (s.e.)", "without it, points", "95 % interval"}
	if slices.ContainsFunc(s.Misses, func(m spread.Miss) bool { return m.Indices != nil }) {
		header = append(header, "board S", "board T", "pocket S", "pocket T")
	}
	t := report.Grid{Left: []bool{true}, Rows: [][]string{header}}
	for _, m := range s.Misses {
		if m.Without.Of() == 0 && m.Plus == 0 && m.Minus == 0 {
			continue // does not vary
		}
		row := []string{MissNames[m.Of], report.Signed(m.Minus, 2), report.Signed(m.Plus, 2), report.Share(max(0, m.Board.Value)), report.Share(m.Board.Error),
			report.Points(m.Without.Difference()), PointsBetween(m.Without.Interval())}
		if x := m.Indices; x != nil {
			for _, e := range []spread.Estimate{x.BoardFirst, x.BoardTotal, x.PocketFirst, x.PocketTotal} {
				row = append(row, fmt.Sprintf("%s ± %s", report.Fixed(e.Value, 2), report.Fixed(e.Error, 2)))
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t, len(t.Rows) > 1
}

// MissNames are what a bowler calls the deviations.
var MissNames = map[studies.Varied]string{
	studies.VariedLaydown: "laydown", studies.VariedAngle: "launch angle", studies.VariedSpeed: "speed",
	studies.VariedRevRate: "rev rate", studies.VariedAxisRotation: "axis rotation", studies.VariedAxisTilt: "axis tilt",
	studies.VariedPhase: "phase of the release",
}

// missWords names the deviation that costs most, if chance does not explain it.
func (w *Spread) missWords(i int) string {
	var best *spread.Miss
	several := 0
	list := w.Result.Setups[i].Misses
	for k := range list {
		m := &list[k]
		if m.Without.Of() == 0 {
			continue
		}
		several++
		if best == nil || m.Without.Difference() > best.Without.Difference() {
			best = m
		}
	}
	switch {
	case best == nil:
		return ""
	case !best.Without.SignificantAmong(several) || best.Without.Difference() <= 0:
		return fmt.Sprintf("no single miss costs more than chance explains over %s, as the largest of %d", report.Counting(best.Without.Of(), "delivery"), several)
	}
	p := best.Without
	return fmt.Sprintf("%s costs most: without it %s of the first %d deliveries end in the pocket rather than %s", MissNames[best.Of],
		CountText(without(p)), p.Of(), CountText(studies.Count{Hits: p.Both + p.OnlyA, Of: p.Of()}))
}

// sharedBy names what two players that are compared share, as far as others differ.
func (w *Spread) sharedBy(d spread.ShareDifference) string {
	a, b := w.Players[d.A], w.Players[d.B]
	parts := []string{a.Bowler}
	for _, of := range []func(Player) string{func(t Player) string { return t.Ball }, func(t Player) string { return t.Lane }} {
		if of(a) == of(b) && slices.ContainsFunc(w.Players, func(t Player) bool { return of(t) != of(a) }) {
			parts = append(parts, of(a))
		}
	}
	return strings.Join(parts, ", ")
}

func (w *Spread) differenceTable() report.Grid {
	t := report.Grid{Left: []bool{true, true, true, false, false, true}, Rows: [][]string{{"", "a", "b", "b − a, points", "95 % interval", ""}}}
	t.Tone = func(row, column int, _ string) report.Tone {
		if row > 0 && column == 5 {
			return report.NotableTone
		}
		return report.PlainTone
	}
	for _, d := range w.Result.Differences {
		a, b := Contrast(w.Players[d.A], w.Players[d.B])
		said := ""
		if !d.Significant() {
			said = "not significant"
		}
		t.Rows = append(t.Rows, []string{w.sharedBy(d), a, b, report.Points(d.Difference()), PointsBetween(d.Interval()), said})
	}
	return t
}

// Note is the sentence under a picture's title.
func (w *Spread) Note() string {
	of := "Each panel shows where " + fmt.Sprint(w.Result.Shots) + " deliveries end"
	if len(w.Players) == 1 {
		of = "Where " + w.deliveries() + " end"
		if words := w.missWords(0); words != "" {
			return of + "; " + words + "."
		}
	}
	if words := w.DifferenceWords(); words != "" {
		of += "; " + words
	}
	return of + "."
}

// DifferenceWords says how the pocket shares of two players differ, and whether chance
// explains it; empty for others than two.
func (w *Spread) DifferenceWords() string {
	if len(w.Result.Differences) != 1 {
		return ""
	}
	d := w.Result.Differences[0]
	a, b := Contrast(w.Players[d.A], w.Players[d.B])
	words := fmt.Sprintf("pocket share, %s less %s: %s points, 95 %% interval %s", b, a, report.Points(d.Difference()), PointsBetween(d.Interval()))
	if !d.Significant() {
		words += ", not significant"
	}
	return words
}

// PocketText describes the share of deliveries in the pocket.
func PocketText(s spread.SetupResult) string {
	return "pocket " + report.Share(s.Pocket.Share()) + ", 95 % interval " + Between(s.PocketInterval)
}

// Answer says where deliveries end, and how many of each player's in the pocket.
func (w *Spread) Answer() []string {
	list := []string{w.Note()}
	for i, s := range w.Result.Setups {
		list = append(list, w.Players[i].Name(w.Players)+": "+PocketText(s))
	}
	return list
}
