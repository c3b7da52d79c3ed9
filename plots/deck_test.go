package plots

import (
	"testing"

	"lanesim/pins"
	"lanesim/report/studied"
	"lanesim/studies/carry"
	"lanesim/units"
)

// inventedRacks makes racks with straight paths.
func inventedRacks(n int) (*studied.Carry, []pins.Result) {
	w := &studied.Carry{Title: "Racks"}
	var racks []pins.Result
	for range n {
		var player studied.Player
		player.Bowler, player.Ball, player.Lane = "A bowler", "a ball of a long name", "a lane"
		player.Setup.Ball.Radius = 0.109
		if len(racks) > 0 {
			player.Bowler = "Another bowler of a long name"
		}
		var result carry.Result
		result.Entry.Board, result.Entry.Heading, result.Hit = 17.5, 5*units.Degree, "pocket"
		result.Tally.Racks, result.Tally.Leaves[pins.Pins(7, 10)] = 1000, 120
		w.Players, w.Studies, w.Results, w.Standing = append(w.Players, player), append(w.Studies, carry.Study{}), append(w.Results, result), append(w.Standing, 0)
		r := pins.Result{Standing: pins.Pins(7, 10)}
		for i := range 40 {
			x := -0.25 + 0.03*float64(i)
			r.Path = append(r.Path, pins.PathPoint{Time: 0.004 * float64(i), X: x, Y: -0.06 + 0.05*x, Z: 0.109})
		}
		for i := range pins.Count {
			r.First[i].By = 1
			for k := range 30 {
				s := 0.02 * float64(k)
				r.Pins[i] = append(r.Pins[i], pins.PinPoint{Time: s, X: pins.Spots[i][0] + s, Y: pins.Spots[i][1] + s*float64(i-5)/5, Z: 0.06, Axis: [3]float64{0.6, 0.8, 0}})
			}
		}
		r.First[0] = pins.Touch{By: pins.ByBall, Time: 0.02}
		racks = append(racks, r)
	}
	return w, racks
}

func TestTextsOfRacksDoNotCollide(t *testing.T) {
	for _, size := range sizes {
		for _, n := range []int{1, 2, 3, MaxDecks} {
			w, racks := inventedRacks(n)
			checkSays(t, []string{"7", "10", "leaves 7-10", "filled: standing"}, func() (*Drawing, error) { return DrawCarry(w, racks, size) })
		}
	}
	for _, n := range []int{0, 1, MaxDecks + 1} {
		w, racks := inventedRacks(n)
		for i := range racks[:min(n, 1)] {
			racks[i].Path = nil
		}
		if _, err := DrawCarry(w, racks, Sheet); err == nil {
			t.Errorf("%d racks, one of them without a path: no error", n)
		}
	}
}

func TestTextsOfStrikeMapsDoNotCollide(t *testing.T) {
	for _, size := range sizes {
		for _, n := range []int{1, 2, MaxSweepPanels, MaxSweepPanels + 1} {
			w, racks := inventedRacks(n)
			for i := range n {
				w.Results[i].Entry.Board, w.Results[i].Entry.Heading = 17.2, 4.5*units.Degree
				var m carry.MapResult
				for b := 13.0; b <= 27; b++ {
					m.Boards = append(m.Boards, b)
					var column []float64
					for a := range 11 {
						column = append(column, max(0, 0.9-0.1*(b-17.5)*(b-17.5)-0.01*float64((a-6)*(a-6))))
					}
					m.Strikes = append(m.Strikes, column)
				}
				for a := range 11 {
					m.Angles = append(m.Angles, float64(a)*units.Degree)
				}
				w.Maps = append(w.Maps, m)
			}
			if n > MaxSweepPanels {
				if _, err := DrawCarry(w, racks, size); err == nil {
					t.Errorf("%d maps: no error", n)
				}
				continue
			}
			words := []string{"the line", "light", "nose", "crossover", "assumed", "entry angle"}
			checkSays(t, words, func() (*Drawing, error) { return DrawCarry(w, racks, size) })
		}
	}
}
