package handouts

import (
	"fmt"
	"slices"

	"lanesim/handout"
	"lanesim/physics"
	"lanesim/plots"
	"lanesim/report"
	"lanesim/report/layouts"
	"lanesim/report/studied"
	"lanesim/report/thrown"
	"lanesim/scenario"
	"lanesim/scenario/runs"
	"lanesim/studies/carry"
)

// Shots is the handout of throw: the first lane's shots in motion, and pictures.
func Shots(s *scenario.Scenario, shots []runs.Thrown, columns report.Columns[thrown.Shot]) (handout.Page, error) {
	page, err := handedThrow(s, shots)
	if err != nil {
		return page, err
	}
	page.Document = thrown.ShotDocument(s.Title, runs.MadeOf(shots), columns)
	for i, l := range s.Lanes {
		f := ShotsFigure(s, shots, i, plots.Sheet)
		words := plots.Describe(f)
		if len(s.Lanes) > 1 {
			words = l.Name + ": " + words
		}
		page.Answer = append(page.Answer, words)
		if i == 0 {
			if page.Playback, err = playback(l, s.Settings.Pocket, f.Series); err != nil {
				return page, err
			}
		}
	}
	page.Pictures, err = handedPictures(func(size plots.Size) ([]*plots.Drawing, error) {
		var list []*plots.Drawing
		for i := range s.Lanes {
			draw := plots.Combined
			f := ShotsFigure(s, shots, i, size)
			if i == 0 && len(f.Series) <= mostRolling {
				draw = plots.Motion // the lane is in the picture that moves
				f.Note = "Speed, rev rate, axis rotation, axis tilt, slip and friction on the way to the pins."
			}
			d, err := draw(f)
			if err != nil {
				return nil, err
			}
			list = append(list, d)
		}
		return list, nil
	})
	return page, err
}

// handedThrow is what handouts of thrown shots begin with.
func handedThrow(s *scenario.Scenario, shots []runs.Thrown) (handout.Page, error) {
	page := handout.Page{Kind: "Shots", Title: s.Heading(), Cautions: s.Warnings, Assumed: s.Defaults(),
		Sure: []string{"Each shot is one delivery, exactly as written: a bowler's own deliveries scatter about it"}}
	var inputs handedInputs
	for _, t := range shots {
		if err := inputs.add(s, t.At, t.Made.Release); err != nil {
			return page, err
		}
	}
	page.Inputs = inputs.sections()
	return page, nil
}

// Tracks is the handout of shots with measured tracks over them.
func Tracks(s *scenario.Scenario, shots []runs.Thrown, draw func(plots.Size) (*plots.Drawing, error)) (handout.Page, error) {
	page, err := handedThrow(s, shots)
	if err != nil {
		return page, err
	}
	page.Pictures, err = onePicture(draw)
	for _, one := range page.Pictures {
		page.Answer = append(page.Answer, one.Caption)
	}
	return page, err
}

// mostDetailed is how many pairs a handout gives the details of, unless they were chosen.
const mostDetailed = 3

// Comparison is the handout of a comparison: the shots of the first panel in motion.
func Comparison(c *runs.Comparison, detailed []int, draw func(plots.Size) (*plots.Drawing, error)) (handout.Page, error) {
	page := handout.Page{Kind: "Comparison, b − a", Title: c.Title, Cautions: c.Warnings}
	if len(detailed) == 1 && len(c.Result.Pairs) <= mostDetailed {
		detailed = nil
		for k := range c.Result.Pairs {
			detailed = append(detailed, k)
		}
	}
	page.Document = c.Document(detailed)
	page.Answer = []string{c.Answer()}
	phases := 0
	for _, t := range c.Result.Shots {
		phases = max(phases, t.Phases)
	}
	if phases > 1 {
		page.Sure = append(page.Sure, fmt.Sprintf("How the core points when the ball lands is not known: each number is a mean over %d phases of the release, with ± its standard deviation over them", phases))
	}
	if of := c.Result.Pairs[0].Holds.AtPins.Of; of > 0 {
		page.Sure = append(page.Sure, fmt.Sprintf("The answers were tried with %d sets of the values that are assumed: one that fewer than three quarters of them share is open", of))
	}
	said := map[string]bool{}
	var inputs handedInputs
	for i, t := range c.Shots {
		for _, text := range c.Scenarios[i].Defaults() {
			if !said[text] {
				said[text] = true
				page.Assumed = append(page.Assumed, text)
			}
		}
		if err := inputs.addJSON(t.Inputs, t.Ball+" on "+t.Lane); err != nil {
			return page, err
		}
	}
	page.Inputs = inputs.sections()
	var err error
	if page.Pictures, err = onePicture(draw); err != nil {
		return page, err
	}
	shots := c.Panels()[0]
	var series []plots.Series
	for k, i := range shots {
		other := shots[0]
		if k == 0 {
			other = shots[1]
		}
		name, _ := c.Names(i, other)
		shot := c.Result.Shots[i].Shot
		if c.Result.Shots[i].Phases > 1 {
			shot.Track = nil // how the ball turns has no mean
		}
		series = append(series, plots.Series{Name: name, Shot: shot, Hand: c.Shots[i].Release.Hand})
	}
	page.Playback, err = playback(c.Lanes()[shots[0]], c.Shots[0].Pocket, series)
	return page, err
}

// Aim is the handout of best lines: those of the first lane in motion.
func Aim(a *studied.Aim, players []runs.Player, s *scenario.Scenario) (handout.Page, error) {
	players = slices.Clone(players[:len(a.List)])
	var series []plots.Series
	thrower := physics.NewThrower()
	for i, t := range a.List {
		if t.None != nil {
			continue
		}
		players[i].Setup.Release = t.Best.Release
		if players[i].At.Lane != players[0].At.Lane || len(series) == mostRolling {
			continue
		}
		settings := s.Settings
		settings.ExchangeSpacing, settings.TrackSpacing = -1, layouts.TrackSpacing
		shot, err := thrower.Throw(t.Setup.Lane, t.Setup.Ball, t.Best.Release, settings)
		if err != nil {
			return handout.Page{}, err
		}
		one := plots.Series{Shot: shot, Hand: t.Best.Release.Hand}
		if len(a.List) > 1 {
			one.Name = t.Name(a.Players)
		}
		series = append(series, one)
	}
	page, err := handedOf("Best line", a.Title, s, players, a.Warnings)
	if err != nil || len(series) == 0 {
		return page, err
	}
	if page.Pictures, err = onePicture(func(size plots.Size) (*plots.Drawing, error) { return plots.DrawAim(a, size) }); err != nil {
		return page, err
	}
	page.Answer = []string{a.Note()}
	page.Playback, err = playback(players[0].Setup.Lane, s.Settings.Pocket, series)
	return page, err
}

// Bag is the handout of a choice of balls: those chosen roll on the first lane, each
// from its best line.
func Bag(w *runs.Bag, players []runs.Player, s *scenario.Scenario) (handout.Page, error) {
	page := handout.Page{Kind: "A bag of balls", Title: w.Title, Answer: []string{w.Answer()}, Cautions: w.Warnings, Assumed: s.Defaults(), Sure: []string{chanceOnly}}
	var inputs handedInputs
	for _, t := range players {
		if err := inputs.addUnaimed(s, t.At, t.Setup.Release); err != nil {
			return page, err
		}
	}
	page.Inputs = inputs.sections()
	var series []plots.Series
	thrower := physics.NewThrower()
	for _, i := range w.Choice.Chosen {
		cell := w.Choice.Cells[i][0]
		if !cell.Reaches {
			continue
		}
		settings, release := s.Settings, w.Study.Release
		settings.ExchangeSpacing, settings.TrackSpacing = -1, layouts.TrackSpacing
		release.Laydown, release.Angle = cell.Laydown, cell.Angle
		shot, err := thrower.Throw(w.Study.Lanes[0], w.Study.Balls[i], release, settings)
		if err != nil {
			return page, err
		}
		series = append(series, plots.Series{Name: w.Balls[i], Shot: shot, Hand: release.Hand})
	}
	var err error
	if page.Pictures, err = onePicture(func(size plots.Size) (*plots.Drawing, error) { return plots.DrawBag(&w.Bag, size) }); err != nil || len(series) == 0 {
		return page, err
	}
	page.Playback, err = playback(w.Study.Lanes[0], s.Settings.Pocket, series)
	return page, err
}

// chanceOnly says what an interval does not hold.
const chanceOnly = "The intervals show what chance leaves open, not what the assumed values do"

// Spread is the handout of a spread.
func Spread(w *studied.Spread, players []runs.Player, s *scenario.Scenario) (handout.Page, error) {
	page, err := handedOf("Scatter of deliveries", w.Title, s, players, w.Warnings)
	if err != nil {
		return page, err
	}
	page.Answer, page.Sure = w.Answer(), []string{chanceOnly}
	page.Pictures, err = onePicture(func(size plots.Size) (*plots.Drawing, error) { return plots.DrawSpread(w, size) })
	return page, err
}

// Wear is the handout of a session on a lane that wears.
func Wear(w *studied.Wear, players []runs.Player, s *scenario.Scenario) (handout.Page, error) {
	page, err := handedOf("A lane that wears", w.Title, s, players, w.Warnings)
	if err != nil {
		return page, err
	}
	page.Answer = []string{w.Note()}
	page.Pictures, err = onePicture(func(size plots.Size) (*plots.Drawing, error) { return plots.DrawWear(w, size) })
	return page, err
}

// WearPlan is the handout of what bowlers do as lanes change.
func WearPlan(w *studied.WearPlan, players []runs.Player, s *scenario.Scenario) (handout.Page, error) {
	page, err := handedOf("A plan for lanes that wear", w.Title, s, players, w.Warnings)
	if err != nil {
		return page, err
	}
	page.Answer = []string{w.Note()}
	page.Pictures, err = onePicture(func(size plots.Size) (*plots.Drawing, error) { return plots.DrawWearPlan(w, size) })
	return page, err
}

// Seek is the handout of what was found for a wish: the inputs are those of the best.
func Seek(r *studied.Seek, s *scenario.Seek) (handout.Page, error) {
	page := handout.Page{Kind: "A wish", Title: r.Title, Answer: []string{r.Answer()}, Cautions: r.Warnings, Assumed: s.Base.Defaults()}
	point, err := s.Resolver().At(r.Found[0].At)
	if err != nil {
		return page, err
	}
	var inputs handedInputs
	if err := inputs.add(point.Scenario, point.Deliveries[0], r.Found[0].Setup.Release); err != nil {
		return page, err
	}
	page.Inputs = inputs.sections()
	page.Pictures, err = onePicture(func(size plots.Size) (*plots.Drawing, error) { return plots.DrawSeek(r, size) })
	return page, err
}

// Racks is the handout of racks. The players are those of several scenarios, one
// after the other.
func Racks(w *studied.Carry, list []*scenario.Scenario, players []runs.Player) (handout.Page, error) {
	page := handout.Page{Kind: "At the pins", Title: w.Title, Answer: w.Answer(), Cautions: w.Warnings, Assumed: list[0].Defaults(), Sure: []string{chanceOnly}}
	var inputs handedInputs
	each := len(players) / len(list)
	for i, t := range players {
		if err := inputs.add(list[i/each], t.At, t.Setup.Release); err != nil {
			return page, err
		}
	}
	page.Inputs = inputs.sections()
	racks, err := carry.Typical(w.Studies, w.Results)
	if err != nil {
		return page, err
	}
	page.Pictures, err = onePicture(func(size plots.Size) (*plots.Drawing, error) { return plots.DrawCarry(w, racks, size) })
	return page, err
}

// Spares is the handout of lines at leaves.
func Spares(w *studied.Spares, s *scenario.Scenario, players []runs.Player) (handout.Page, error) {
	page, err := handedOf("Lines at leaves", w.Title, s, players, w.Warnings)
	page.Answer, page.Assumed = w.Answer(), append(page.Assumed, w.Assumed...)
	if err != nil || len(w.Players) > plots.MaxSpareSheets {
		return page, err
	}
	page.Pictures, err = onePicture(func(size plots.Size) (*plots.Drawing, error) { return plots.DrawSpares(w, size) })
	return page, err
}

// layoutsAbreast is how many balls stand side by side in a table of a handout, which can be
// scrolled.
const layoutsAbreast = 6

// Layouts is the handout of layouts.
func Layouts(s *scenario.Scenario, balls []layouts.Layout) (handout.Page, error) {
	page := handout.Page{Kind: "Layout", Title: s.Heading(), Assumed: s.Defaults(), Document: layouts.LayoutsSideBySide(s.Title, balls, layoutsAbreast)}
	page.Cautions = append(append(page.Cautions, s.Warnings...), layouts.LayoutCautions()...)
	for _, l := range balls {
		page.Answer = append(page.Answer, layouts.LayoutAnswer(l))
		if words := layouts.ClearanceWarning(l); words != "" {
			page.Cautions = append(page.Cautions, words)
		}
	}
	deliveries, err := s.Deliveries()
	if err != nil {
		return page, err
	}
	var inputs handedInputs
	for _, d := range deliveries {
		if raw, err := s.Inputs(d, s.Bowlers[d.Bowler].Release.Angle); err == nil {
			if err := inputs.addJSON(raw, s.Balls[d.Ball].Name+" on "+s.Lanes[d.Lane].Name); err != nil {
				return page, err
			}
		}
	}
	page.Inputs = inputs.sections()
	page.Pictures, err = handedPictures(func(size plots.Size) ([]*plots.Drawing, error) { return drawBalls(s, balls, size, false) })
	return page, err
}

// drawBalls draws each ball with its tracks on each lane, with its numbers or without.
func drawBalls(s *scenario.Scenario, balls []layouts.Layout, size plots.Size, numbers bool) ([]*plots.Drawing, error) {
	var list []*plots.Drawing
	for _, l := range balls {
		for i := range l.Flares {
			const most = 4 // in a handout
			if !numbers && i > 0 && len(balls)*len(l.Flares) > most {
				continue // of many, each ball once; its flare on the other lanes is in the table
			}
			f := BallFigure(s, l, i, size)
			if !numbers {
				f.Sections, f.Cautions = nil, nil
				if len(s.Lanes) > 1 {
					f.Title += " on " + l.Flares[i].Lane
				}
			}
			d, err := plots.Ball(f)
			if err != nil {
				return nil, err
			}
			list = append(list, d)
		}
	}
	return list, nil
}
