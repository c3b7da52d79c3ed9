package plots

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/report/studied"
	"lanesim/studies"
	"lanesim/studies/spread"
)

// addSpread adds invented deliveries around a line.
func addSpread(w *studied.Spread, name string, hand ball.Hand) {
	about := usual()
	about.hand = hand
	player := studied.Player{Bowler: "A bowler", Ball: name, Lane: "a lane"}
	player.Setup.Lane, player.Setup.Release.Hand = inventedLane(), hand
	paths := studied.SpreadPaths{Line: about.shot()}
	for k := range 60 {
		one := about
		one.laydown += 1.5 * math.Sin(float64(k))
		one.angle += 0.4 * math.Sin(2.3*float64(k))
		paths.Shots = append(paths.Shots, one.shot())
	}
	r := spread.SetupResult{Pocket: studies.Count{Hits: 216, Of: 500}, Ends: map[physics.Status]int{physics.Pins: 500}, EntryBoard: studies.Distribution{Mean: 17.42, SD: 1.13}}
	for k := range 500 {
		u := (float64(k) + 0.5) / 500
		r.Each = append(r.Each, spread.ShotResult{EntryBoard: 17.5 + 1.5*math.Log(u/(1-u))})
	}
	w.Players, w.Paths, w.Result.Setups = append(w.Players, player), append(w.Paths, paths), append(w.Result.Setups, r)
	w.Result.Shots = 500
}

func inventedSpread(names ...string) *studied.Spread {
	w := &studied.Spread{Title: "Deliveries"}
	for _, name := range names {
		addSpread(w, name, ball.Right)
	}
	return w
}

func inventedSpreads() map[string]*studied.Spread {
	all := map[string]*studied.Spread{
		"one": inventedSpread(""), "left": inventedSpread(), "two": inventedSpread("Pin near", "Pin far"), "pocket": inventedSpread(""),
		"mixed": inventedSpread("First"),
	}
	addSpread(all["left"], "", ball.Left)
	all["pocket"].Study.Settings.Pocket = physics.Window{Min: 11, Max: 11.1}
	mixed := all["mixed"]
	addSpread(mixed, "A ball with a name that is far too long, and longer still than can stand on one line", ball.Left)
	addSpread(mixed, "All in the gutter", ball.Right)
	addSpread(mixed, "On dry boards", ball.Right)
	wide := tooWide().shot()
	mixed.Paths[2] = studied.SpreadPaths{Line: wide, Shots: []physics.Shot{wide}}
	lost := &mixed.Result.Setups[2]
	for i := range lost.Each {
		lost.Each[i].EntryBoard = math.NaN()
	}
	lost.Ends = map[physics.Status]int{physics.Gutter: 500}
	lost.EntryBoard, lost.EntryAngle = studies.Distribution{Mean: math.NaN(), SD: math.NaN()}, studies.Distribution{Mean: math.NaN(), SD: math.NaN()}
	mixed.Players[3].Setup.Lane.Oil = nil
	return all
}

func TestSpreadTextsDoNotCollide(t *testing.T) {
	for name, w := range inventedSpreads() {
		for _, size := range sizes {
			t.Run(fmt.Sprintf("%s/%d", name, size), func(t *testing.T) {
				words := []string{studied.PocketText(w.Result.Setups[0]), "the line without deviations", "entry boards, % of the", "board, from the right"}
				if name == "left" {
					words[3] = "board, from the left"
				}
				for i := range w.Players {
					head, _, _ := strings.Cut(playerName(w.Players, i), ",")
					words = append(words, head)
				}
				checkSays(t, words, func() (*Drawing, error) { return DrawSpread(w, size) })
			})
		}
	}
}

// Every ball that reaches the pins is counted in a bar, and bars do not extend across the
// edges of the pocket.
func TestHistogramCountsEveryBallAtThePins(t *testing.T) {
	w := inventedSpread("")
	lost := spread.ShotResult{EntryBoard: math.NaN()}
	each := append(w.Result.Setups[0].Each, lost, lost)
	for _, pocket := range []physics.Window{physics.DefaultPocket, {Min: 16, Max: 18}, {Min: 3.2, Max: 3.9}} {
		v, err := newView(Figure{Lane: inventedLane(), Series: []Series{{Shot: w.Paths[0].Line}}, Pocket: pocket})
		if err != nil {
			t.Fatal(err)
		}
		for _, height := range []float64{290, 132} {
			h := &spreadView{view: v, each: each}
			bin := v.bin(height)
			h.count(bin)
			sum, inside, want := 0.0, 0.0, 0.0
			for i, b := range h.bins {
				sum += b
				if middle := h.lowest(bin) + (float64(i)+0.5)*bin; middle > pocket.Min && middle < pocket.Max {
					inside += b
				}
			}
			for _, one := range each {
				if one.EntryBoard > pocket.Min && one.EntryBoard < pocket.Max {
					want += 100 / float64(len(each))
				}
			}
			const added = 1e-9 // rounding of a sum of some hundred shares
			if math.Abs(sum-100*500.0/502) > added {
				t.Errorf("pocket %v: bars of %.3g boards hold %.6f %%", pocket, bin, sum)
			}
			if whole := (pocket.Max - pocket.Min) / bin; math.Abs(whole-math.Round(whole)) < tickRounding && math.Abs(inside-want) > added {
				t.Errorf("pocket %v: %.4f %% in dark bars of %.3g boards, %.4f %% in the pocket", pocket, inside, bin, want)
			}
		}
	}
}

func TestSpreadsThatCannotBeDrawnAreErrors(t *testing.T) {
	for name, spoil := range map[string]func(*studied.Spread){
		"nothing":       func(w *studied.Spread) { w.Result.Setups = nil },
		"no deliveries": func(w *studied.Spread) { w.Result.Setups[0].Each = nil },
		"no line":       func(w *studied.Spread) { w.Paths[0].Line.Path = nil },
		"no path":       func(w *studied.Spread) { w.Paths[0].Shots[3].Path = nil },
		"many":          func(w *studied.Spread) { w.Result.Setups = make([]spread.SetupResult, MaxSpreadPanels+1) },
	} {
		w := inventedSpread("")
		spoil(w)
		if _, err := DrawSpread(w, Sheet); err == nil {
			t.Errorf("%s gives no error", name)
		}
	}
}
