package studied

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/studies"
	"lanesim/studies/spread"
	"lanesim/studies/wear"
)

// Spread has the scatter of the deliveries of players.
type Spread struct {
	Title    string
	Warnings []string
	Players  []Player
	Study    spread.Study
	Result   spread.Result
	AtPins   *AtPins       // nil if not requested
	Paths    []SpreadPaths // of each player, if a picture is drawn
}

// SpreadPaths has shots of a player with their paths.
type SpreadPaths struct {
	Line  physics.Shot // without deviations
	Shots []physics.Shot
}

func (w *Spread) of(i int) *spread.SetupResult { return &w.Result.Setups[i] }

// scatterColumns returns the scatter of each player's deliveries.
func (w *Spread) scatterColumns() columns {
	player := func(i int) Player { return w.Players[i] }
	return slices.Concat(playerColumns(player),
		columns{report.Word("assumed_level", "assumed level", "Skill level that stands in for what the scenario does not say", func(i int) string { return player(i).Level })},
		lineColumns(func(i int) thrown.Shot { return player(i).line() }),
		releaseColumns(func(i int) physics.Release { return player(i).Setup.Release }).Pick("angle_deg"),
		columns{
			report.Number("line_entry_board", "entry board of the line", "Board at the pins without deviations", report.Board, func(i int) float64 { return w.of(i).Line.EntryBoard }),
			report.Count("shots", "deliveries", "Number of deliveries", func(int) int { return w.Result.Shots }),
		},
		countColumns("pocket", "pocket", "Share in the pocket", func(i int) studies.Count { return w.of(i).Pocket }),
		countColumns("good_angle", "good angle", "Share in the pocket at a good angle", func(i int) studies.Count { return w.of(i).GoodAngle }))
}

// partColumns returns further columns for JSON.
func (w *Spread) partColumns() columns {
	return slices.Concat(
		columns{
			report.Value("entry_board", "How the board at the pins is spread", func(i int) any { return distributionColumns(w.of(i).EntryBoard, report.Board).Members(0) }),
			report.Value("entry_angle_deg", "How the heading at the pins is spread", func(i int) any { return distributionColumns(w.of(i).EntryAngle, report.Degree).Members(0) }),
		},
		w.hitColumns(0), w.hitColumns(1),
		columns{
			report.Value("ends", "Deliveries by how they ended", func(i int) any { return w.of(i).Ends }),
			report.Value("sensitivity", "What each deviation costs", func(i int) any { return missesObject(w.of(i).Misses) }),
			report.Count("sobol_rows", "rows of Sobol indices", "Rows of deliveries that the Sobol indices are taken from", func(i int) int { return w.of(i).SobolRows }),
		})
}

// hitColumns returns the shares of deliveries with each hit or, for part 1, their intervals.
func (w *Spread) hitColumns(part int) (list columns) {
	for k, hit := range physics.AllHits() {
		c := countColumns("", string(hit), "Share that meets the pins there", func(i int) studies.Count { return w.Hits(i)[k] })[part]
		c.Object = []string{"hits", "hits_interval"}[part]
		c.Key = c.Object + "_" + string(hit)
		list = append(list, c)
	}
	return list
}

// distributionColumns returns the columns of a distribution.
func distributionColumns(d studies.Distribution, u report.Unit) columns {
	list := columns{
		report.Number("mean", "mean", "Mean", u.Finer(), func(int) float64 { return d.Mean }),
		report.Number("sd", "sd", "Standard deviation", u.Finer(), func(int) float64 { return d.SD }),
	}
	for i, share := range studies.Quantiles {
		percent := report.Fixed(100*share, 0)
		c := report.Number("quantiles_p"+percent, percent+" %", "Quantile", u.Finer(), func(int) float64 { return d.Quantiles[i] })
		c.Object = "quantiles"
		list = append(list, c)
	}
	return list
}

// missColumns returns the effects of deviations.
func missColumns(list []spread.Miss) columns {
	return columns{
		report.Number("minus_sigma_boards", "−σ, boards", "Boards by which the entry moves with this alone a standard deviation below nothing", report.Board, func(i int) float64 { return list[i].Minus }).Change(),
		report.Number("plus_sigma_boards", "+σ, boards", "Boards by which the entry moves with this alone a standard deviation above nothing", report.Board, func(i int) float64 { return list[i].Plus }).Change(),
		estimate("entry_board_explained", "of boards", "Share of the variance of the entry board that this alone explains", func(i int) spread.Estimate { return list[i].Board }),
		estimate("pocket_explained", "of the pocket", "Share of the variance of the pocket that this alone explains", func(i int) spread.Estimate { return list[i].Pocket }),
	}
}

func estimate(key, label, meaning string, of func(int) spread.Estimate) report.Column[int] {
	return report.Estimate(key, label, meaning, report.Ratio.Digits(2), func(i int) (v, e float64) { return of(i).Value, of(i).Error })
}

// gainColumns returns the gain in pocket share of the same deliveries without a deviation.
func gainColumns(list []spread.Miss) columns {
	return meanColumns("gain", "gain_interval", "without it", "By how much the share in the pocket is larger without the deviation", report.Point, func(i int) studies.Mean { return differenceOf(list[i].Without) })
}

// sobolColumns returns the Sobol indices of deviations.
func sobolColumns(list []spread.Miss) columns {
	return columns{
		estimate("entry_board_first", "board S", "Share of the variance of the entry board that this alone explains", func(i int) spread.Estimate { return list[i].Indices.BoardFirst }),
		estimate("entry_board_total", "board T", "Share of that variance in which this has a part", func(i int) spread.Estimate { return list[i].Indices.BoardTotal }),
		estimate("pocket_first", "pocket S", "Share of the variance of the pocket that this alone explains", func(i int) spread.Estimate { return list[i].Indices.PocketFirst }),
		estimate("pocket_total", "pocket T", "Share of that variance in which this has a part", func(i int) spread.Estimate { return list[i].Indices.PocketTotal }),
	}
}

func missesObject(list []spread.Miss) report.Object {
	var o report.Object
	for _, v := range studies.AllVaried() {
		o = o.With(v.String(), nil)
	}
	for i, m := range list {
		var gain, sobol report.Object
		if n := m.Without.Of(); n > 0 {
			gain = report.ObjectOf("shots", n, shareObject("pocket", shareOf(without(m.Without))), gainColumns(list).Members(i))
		}
		if m.Indices != nil {
			sobol = sobolColumns(list).Members(i)
		}
		o[m.Of].Value = report.ObjectOf(missColumns(list).Members(i), "pocket_share_without", gain, "sobol", sobol)
	}
	return o
}

// without counts the hits of b.
func without(p studies.Paired) studies.Count {
	return studies.Count{Hits: p.Both + p.OnlyB, Of: p.Of()}
}

// differenceColumns returns the differences of the pocket shares of players.
func (w *Spread) differenceColumns() columns {
	return meanColumns("pocket_share_difference", "difference_interval", "b − a", "Pocket share of b less that of a", report.Point, func(i int) studies.Mean { return differenceOf(w.Result.Differences[i].Paired) })
}

// WriteJSON writes the spread as JSON.
func (w *Spread) WriteJSON(to io.Writer) error {
	differences := report.Each(numbers(w.Result.Differences), func(i int) report.Object {
		d := w.Result.Differences[i]
		return report.ObjectOf(pairObject(w.Players[d.A], w.Players[d.B]), w.differenceColumns().Members(i), "only_a", d.OnlyA, "only_b", d.OnlyB, "significant", d.Significant())
	})
	members := report.ObjectOf("seed", w.Study.Seed, "deliveries", listOf(w.Result.Setups, w.scatterColumns(), w.partColumns()), "differences", differences)
	if w.AtPins != nil {
		members = members.With("carry", w.AtPins.object(w))
	}
	return report.WriteResult(to, w.Warnings, members...)
}

// scattered is a delivery of a player; its release has the deviations from the line's.
type scattered struct {
	player, number int
	wear.DeliveryResult
}

// scatteredColumns returns the columns of a delivery: its deviations from the line and its result.
func (w *Spread) scatteredColumns(of *scattered) columns {
	off := releaseColumns(func(int) physics.Release { return of.Release })
	for i, c := range off {
		key, _, _ := strings.Cut(c.Key, "_"+c.Unit.Name)
		off[i].Key, off[i].Meaning = key+"_off"+strings.TrimPrefix(c.Key, key), c.Meaning+" less that of the line"
	}
	return slices.Concat(playerColumns(func(int) Player { return w.Players[of.player] }),
		columns{report.Count("delivery", "delivery", "Number of the delivery, from 1", func(int) int { return of.number + 1 })},
		off, deliveryColumns(func(int) wear.DeliveryResult { return of.DeliveryResult }))
}

// Rows returns a row for each delivery.
func (w *Spread) Rows() report.Rows {
	var at scattered // one at a time, since there may be millions
	var why error
	r := report.RowsOf(w.scatteredColumns(&at), func(yield func(int) bool) {
		for i, s := range w.Result.Setups {
			line := w.Players[i].Setup.Release
			deliverer, err := w.Players[i].Setup.Repeatability.Deliverer(line)
			if err != nil {
				why = err
				return
			}
			for k, one := range s.Each {
				r := deliverer.Delivery(studies.DrawDeviates(w.Study.Seed, uint64(k)))
				for _, v := range studies.AllVaried() {
					*v.Of(&r) -= *v.Of(&line)
				}
				at = scattered{i, k, wear.DeliveryResult{Release: r, Status: one.Status(), EntryBoard: one.EntryBoard, EntryAngle: one.EntryAngle, Pocket: one.Pocket, GoodAngle: one.GoodAngle}}
				if !yield(k) {
					return
				}
			}
		}
	})
	each := r.Each
	r.Each = func(take func([]report.Cell) error) error {
		if err := each(take); err != nil {
			return err
		}
		return why
	}
	return r
}

// Document returns the spread for people.
func (w *Spread) Document() report.Document {
	doc := report.Document{Title: w.Title}
	doc.HeadOf("", "pocket share", " of "+w.deliveries())
	doc.Table(tableOf(w.Result.Setups, namesOf(w.Players),
		w.scatterColumns().Pick("feet_board", "laydown", "arrows_board", "pocket_share", "pocket_interval", "good_angle_share", "good_angle_interval"),
		columns{
			report.Count("pocket_missed", "pocket missed", "Deliveries that get to the pins beside the pocket", func(i int) int { return w.of(i).Ends[physics.Pins] - w.of(i).Pocket.Hits }),
			report.Text("lost", "not at the pins", "Deliveries that do not get there, by how they end", func(i int) string { return lostText(*w.of(i)) }).FlushRight(),
		}))
	doc.Head("at the pins")
	doc.Table(w.entryTable())
	doc.Head("where the ball meets the pins")
	doc.Table(tableOf(w.Result.Setups, namesOf(w.Players), w.hitColumns(0)))
	noteGoodTo(&doc, "shares", intervals(w.Result.Setups, w.hitColumns(1)))
	doc.SayWrapped(thrown.HitWords(w.Players, func(t Player) physics.Window { return thrown.Pocket(w.Study.Settings, t.Setup.Release) }))
	for i := range w.Result.Setups {
		misses := slices.DeleteFunc(slices.Clone(w.Result.Setups[i].Misses), costsUnknown)
		if len(misses) > 0 {
			doc.Head("what each miss costs: " + w.Players[i].Name(w.Players))
			doc.Table(missTable(misses))
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

// costsUnknown reports whether the effect of a deviation is unknown because it does not vary.
func costsUnknown(m spread.Miss) bool {
	return m.Without.Of() == 0 && !(math.Abs(m.Plus) > 0) && !(math.Abs(m.Minus) > 0) // a line in the gutter has no boards
}

// deliveries describes the number of deliveries.
func (w *Spread) deliveries() string {
	if len(w.Players) == 1 {
		return report.Counting(w.Result.Shots, "delivery")
	}
	return report.Counting(w.Result.Shots, "delivery") + " each"
}

// Hits counts the deliveries of a player with each hit, in the order of [physics.AllHits]; a ball that does
// not reach the pins has missed.
func (w *Spread) Hits(i int) []studies.Count {
	s := w.of(i)
	pocket := thrown.Pocket(w.Study.Settings, w.Players[i].Setup.Release)
	counts := map[physics.Hit]int{}
	for _, one := range s.Each {
		hit := physics.Missed
		if one.Status() == physics.Pins {
			hit = physics.HitAt(one.EntryBoard, pocket)
		}
		counts[hit]++
	}
	var list []studies.Count
	for _, hit := range physics.AllHits() {
		list = append(list, studies.Count{Hits: counts[hit], Of: len(s.Each)})
	}
	return list
}

// EntryText describes where deliveries enter, and how those ended that did not reach the pins.
func EntryText(s spread.SetupResult) string {
	board, angle := report.Board.Finer().Show, report.Degree.Finer().Show
	text := fmt.Sprintf("entry board %s ± %s (one sd), angle %s° ± %s°", board(s.EntryBoard.Mean), board(s.EntryBoard.SD), angle(s.EntryAngle.Mean), angle(s.EntryAngle.SD))
	if s.Pocket.Of > s.Ends[physics.Pins] {
		text += "; not at the pins: " + lostText(s)
	}
	return text
}

// lostText counts the deliveries that did not reach the pins, by status.
func lostText(s spread.SetupResult) string {
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
	t := report.Grid{Left: []bool{true}}
	row := func(name string, d studies.Distribution, u report.Unit, show func(report.Column[int]) string) {
		report.AddRow(&t, name, distributionColumns(d, u), show)
	}
	value := func(c report.Column[int]) string { return c.Show(0) }
	row("", studies.Distribution{}, report.Ratio, func(c report.Column[int]) string { return c.Head() })
	for i, s := range w.Result.Setups {
		name := w.Players[i].Name(w.Players)
		row(name+": entry board", s.EntryBoard, report.Board, value)
		row(name+": entry angle, deg", s.EntryAngle, report.Degree, value)
	}
	return t
}

// missTable returns the table of the effects of deviations.
func missTable(list []spread.Miss) report.Grid {
	parts := []columns{named(func(i int) string { return MissNames[list[i].Of] }), missColumns(list)[:2], {
		report.Number("explained", "of boards", "Share that is explained, none where its estimate is below", report.Ratio, func(i int) float64 { return max(0, list[i].Board.Value) }).ShownIn(report.Hundredth),
		report.Number("explained_error", "± (s.e.)", "Standard error of that share", report.Ratio, func(i int) float64 { return list[i].Board.Error }).ShownIn(report.Hundredth),
	}, gainColumns(list)}
	if slices.ContainsFunc(list, func(m spread.Miss) bool { return m.Indices != nil }) {
		parts = append(parts, report.AllVia(sobolColumns(list), func(i int) (int, bool) { return i, list[i].Indices != nil }))
	}
	return tableOf(list, parts...)
}

// MissNames are bowlers' names for the deviations.
var MissNames = map[studies.Varied]string{
	studies.VariedLaydown: "laydown", studies.VariedAngle: "launch angle", studies.VariedSpeed: "speed",
	studies.VariedRevRate: "rev rate", studies.VariedAxisRotation: "axis rotation", studies.VariedAxisTilt: "axis tilt",
	studies.VariedPhase: "phase of the release",
}

// missWords names the deviation that costs most, if its effect is significant.
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

// sharedBy names the parts that two compared players share and others do not.
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
	list := w.Result.Differences
	pair := func(i int) (a, b Player) { return w.Players[list[i].A], w.Players[list[i].B] }
	t := tableOf(list, named(func(i int) string { return w.sharedBy(list[i]) }),
		columns{
			report.Text("a", "a", "Name of a", func(i int) string { a, _ := Contrast(pair(i)); return a }),
			report.Text("b", "b", "Name of b", func(i int) string { _, b := Contrast(pair(i)); return b }),
		},
		w.differenceColumns(),
		columns{report.Text("verdict", "", "Whether chance explains it", func(i int) string {
			if list[i].Significant() {
				return ""
			}
			return "not significant"
		})})
	t.Tone = func(row, column int, _ string) report.Tone {
		if row > 0 && column == len(t.Left)-1 {
			return report.NotableTone
		}
		return report.PlainTone
	}
	return t
}

// Note returns the sentence under a picture's title.
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

// DifferenceWords describes the difference of the pocket shares of two players, and whether it is
// significant; empty for other numbers of players.
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
	return "pocket " + report.Share(s.Pocket.Share()) + ", 95 % interval " + Between(studies.WilsonInterval(s.Pocket))
}

// Answer describes where deliveries end, and each player's pocket share.
func (w *Spread) Answer() []string {
	list := []string{w.Note()}
	for i, s := range w.Result.Setups {
		list = append(list, w.Players[i].Name(w.Players)+": "+PocketText(s))
	}
	return list
}
