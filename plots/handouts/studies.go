package handouts

import (
	"encoding/json"
	"regexp"
	"slices"

	"lanesim/physics"
	"lanesim/pins"
	"lanesim/plots"
	"lanesim/report"
	"lanesim/report/handout"
	"lanesim/report/layouts"
	"lanesim/report/studied"
	"lanesim/report/thrown"
	"lanesim/scenario"
	"lanesim/scenario/runs"
)

// Shots returns the handout of thrown shots: the first lane's shots in motion, and pictures.
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
				draw = plots.Motion // the lane is in the moving picture
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

// handedThrow returns the beginning of a handout of thrown shots.
func handedThrow(s *scenario.Scenario, shots []runs.Thrown) (handout.Page, error) {
	inputs, err := gathered(shots, func(_ int, t runs.Thrown) (json.RawMessage, string, error) { return inputsOf(s, t.At, t.Made.Release) })
	return handout.Page{Kind: "Shots", Title: s.Heading(), Cautions: s.Warnings, Assumed: s.Defaults(), Inputs: inputs,
		Sure: []string{thrown.OneDelivery}}, err
}

// Tracks returns the handout of shots compared with measured tracks.
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

// mostDetailed is the default number of pairs with details in a handout.
const mostDetailed = 3

// Comparison returns the handout of a comparison, with the shots of the first panel in motion.
func Comparison(c *runs.Comparison, detailed []int, draw func(plots.Size) (*plots.Drawing, error)) (handout.Page, error) {
	page := handout.Page{Kind: "Comparison, b − a", Title: c.Title, Cautions: c.Warnings}
	if len(detailed) == 1 && len(c.Result.Pairs) <= mostDetailed {
		detailed = nil
		for k := range c.Result.Pairs {
			detailed = append(detailed, k)
		}
	}
	page.Document = c.Document(detailed)
	page.Answer, page.Sure = []string{c.Answer()}, c.HowSure()
	for i := range c.Shots {
		for _, text := range c.Scenarios[i].Defaults() {
			if !slices.Contains(page.Assumed, text) {
				page.Assumed = append(page.Assumed, text)
			}
		}
	}
	var err error
	page.Inputs, err = gathered(c.Shots, func(_ int, t thrown.Shot) (json.RawMessage, string, error) {
		return t.Inputs, t.Ball + " on " + t.Lane, nil
	})
	if err != nil {
		return page, err
	}
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
			shot.Track = nil // orientations have no mean
		}
		series = append(series, plots.Series{Name: name, Shot: shot, Hand: c.Shots[i].Release.Hand})
	}
	page.Playback, err = playback(c.Lanes()[shots[0]], c.Shots[0].Pocket, series)
	return page, err
}

// Aim returns the handout of best lines, with those of the first lane in motion. shots are those of
// [runs.ThrowBestLines].
func Aim(a *studied.Aim, players []runs.Player, s *scenario.Scenario, shots map[int]physics.Shot) (handout.Page, error) {
	players = slices.Clone(players[:len(a.List)])
	var series []plots.Series
	for i, t := range a.List {
		if t.None != nil {
			continue
		}
		players[i].Setup.Release = t.Best.Release
		if shot, rolls := shots[i]; rolls {
			name := ""
			if len(a.List) > 1 {
				name = t.Name(a.Players)
			}
			series = append(series, plots.Series{Name: name, Shot: shot, Hand: t.Best.Release.Hand})
		}
	}
	page, err := handedOf("Best line", a.Title, s, players, a.Warnings)
	if err != nil || len(series) == 0 {
		return page, err
	}
	if page.Pictures, err = pictureOf(a, plots.DrawAim); err != nil {
		return page, err
	}
	page.Answer = []string{a.Note()}
	page.Playback, err = playback(players[0].Setup.Lane, s.Settings.Pocket, series)
	return page, err
}

// launchAngle matches the launch angle in inputs; it is removed if the line is found on each lane.
var launchAngle = regexp.MustCompile(`,\s*"angle":\s*"[^"]*"`)

// Bag returns the handout of a choice of balls, with the chosen balls in motion on the first lane, each on
// its best line. shots are those of [runs.Bag.ThrowChosen].
func Bag(w *runs.Bag, players []runs.Player, s *scenario.Scenario, shots map[int]physics.Shot) (handout.Page, error) {
	page := handout.Page{Kind: "A bag of balls", Title: w.Title, Answer: []string{w.Answer()}, Cautions: w.Warnings, Assumed: s.Defaults(), Sure: []string{studied.ChanceOnly}}
	var err error
	page.Inputs, err = gathered(players, func(_ int, t runs.Player) (json.RawMessage, string, error) {
		raw, of, err := inputsOf(s, t.At, t.Setup.Release)
		return launchAngle.ReplaceAll(raw, nil), of, err
	})
	if err != nil {
		return page, err
	}
	var series []plots.Series
	for _, i := range w.Choice.Chosen {
		if shot, rolls := shots[i]; rolls {
			series = append(series, plots.Series{Name: w.Balls[i], Shot: shot, Hand: w.Study.Release.Hand})
		}
	}
	if page.Pictures, err = pictureOf(&w.Bag, plots.DrawBag); err != nil || len(series) == 0 {
		return page, err
	}
	page.Playback, err = playback(w.Study.Lanes[0], s.Settings.Pocket, series)
	return page, err
}

// Spread returns the handout of a spread.
func Spread(w *studied.Spread, players []runs.Player, s *scenario.Scenario) (handout.Page, error) {
	page, err := pictured("Scatter of deliveries", w.Title, w.Answer(), players, s, w.Warnings, w, plots.DrawSpread)
	page.Sure = []string{studied.ChanceOnly}
	return page, err
}

// Wear returns the handout of a session on a lane that wears.
func Wear(w *studied.Wear, players []runs.Player, s *scenario.Scenario) (handout.Page, error) {
	return pictured("A lane that wears", w.Title, []string{w.Note()}, players, s, w.Warnings, w, plots.DrawWear)
}

// WearPlan returns the handout of the plans of bowlers for changing lanes.
func WearPlan(w *studied.WearPlan, players []runs.Player, s *scenario.Scenario) (handout.Page, error) {
	return pictured("A plan for lanes that wear", w.Title, []string{w.Note()}, players, s, w.Warnings, w, plots.DrawWearPlan)
}

// pictured returns the handout of a study of players with its answer and its picture.
func pictured[T any](kind, title string, answer []string, players []runs.Player, s *scenario.Scenario, cautions []string, report T,
	draw func(T, plots.Size) (*plots.Drawing, error)) (handout.Page, error) {
	page, err := handedOf(kind, title, s, players, cautions)
	if err != nil {
		return page, err
	}
	page.Answer = answer
	page.Pictures, err = pictureOf(report, draw)
	return page, err
}

// Seek returns the handout of a search, with the inputs of the best place.
func Seek(r *studied.Seek, s *scenario.Seek) (handout.Page, error) {
	page := handout.Page{Kind: "A wish", Title: r.Title, Answer: []string{r.Answer()}, Cautions: r.Warnings, Assumed: s.Base.Defaults()}
	point, err := s.Resolver().At(r.Found[0].At)
	if err != nil {
		return page, err
	}
	page.Inputs, err = gathered(point.Deliveries[:1], func(_ int, d scenario.Delivery) (json.RawMessage, string, error) {
		return inputsOf(point.Scenario, d, r.Found[0].Setup.Release)
	})
	if err != nil {
		return page, err
	}
	page.Pictures, err = pictureOf(r, plots.DrawSeek)
	return page, err
}

// Racks returns the handout of racks, with pictures of the typical ones. The players are those of several
// scenarios, one after the other.
func Racks(w *studied.Carry, list []*scenario.Scenario, players []runs.Player, typical []pins.Result) (handout.Page, error) {
	page := handout.Page{Kind: "At the pins", Title: w.Title, Answer: w.Answer(), Cautions: w.Warnings, Assumed: list[0].Defaults(), Sure: []string{studied.ChanceOnly}}
	var err error
	each := len(players) / len(list)
	page.Inputs, err = gathered(players, func(i int, t runs.Player) (json.RawMessage, string, error) {
		return inputsOf(list[i/each], t.At, t.Setup.Release)
	})
	if err != nil {
		return page, err
	}
	page.Pictures, err = onePicture(func(size plots.Size) (*plots.Drawing, error) { return plots.DrawCarry(w, typical, size) })
	return page, err
}

// Spares returns the handout of lines at leaves.
func Spares(w *studied.Spares, s *scenario.Scenario, players []runs.Player) (handout.Page, error) {
	page, err := handedOf("Lines at leaves", w.Title, s, players, w.Warnings)
	page.Answer, page.Assumed = w.Answer(), append(page.Assumed, w.Assumed...)
	if err != nil || len(w.Players) > plots.MaxSpareSheets {
		return page, err
	}
	page.Pictures, err = pictureOf(w, plots.DrawSpares)
	return page, err
}

// layoutsAcross is the number of balls side by side in a table of a handout, which can be scrolled.
const layoutsAcross = 6

// Layouts returns the handout of layouts.
func Layouts(s *scenario.Scenario, balls []layouts.Layout) (handout.Page, error) {
	page := handout.Page{Kind: "Layout", Title: s.Heading(), Assumed: s.Defaults(), Document: layouts.LayoutsSideBySide(s.Title, balls, layoutsAcross)}
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
	page.Inputs, err = gathered(deliveries, func(_ int, d scenario.Delivery) (json.RawMessage, string, error) {
		raw, err := s.Inputs(d, s.Bowlers[d.Bowler].Release.Angle)
		if err != nil {
			raw = json.RawMessage("{}") // of a line that there is not
		}
		return raw, ofDelivery(s, d), nil
	})
	if err != nil {
		return page, err
	}
	page.Pictures, err = handedPictures(func(size plots.Size) ([]*plots.Drawing, error) { return drawBalls(s, balls, size) })
	return page, err
}

// drawBalls draws each ball with its tracks on each lane; of many, each ball once: its flare on
// the other lanes is in the table.
func drawBalls(s *scenario.Scenario, balls []layouts.Layout, size plots.Size) ([]*plots.Drawing, error) {
	const most = 4
	var list []*plots.Drawing
	for _, l := range balls {
		for i := range l.Flares {
			if i > 0 && len(balls)*len(l.Flares) > most {
				continue
			}
			f := BallFigure(s, l, i, size)
			if len(s.Lanes) > 1 {
				f.Title += " on " + l.Flares[i].Lane
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
