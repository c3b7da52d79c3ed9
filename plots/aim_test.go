package plots

import (
	"math"
	"strings"
	"testing"

	"lanesim/physics"
	"lanesim/report/studied"
	"lanesim/studies"
	"lanesim/studies/aim"
)

// inventedAim makes a result whose maps have a ridge with the best line on it.
func inventedAim(maps int) *studied.Aim {
	a := &studied.Aim{Title: "The best line", By: aim.ByPocketShare}
	line := func(laydown, arrows float64) aim.Line {
		return aim.Line{Release: physics.Release{Laydown: laydown}, Arrows: arrows, ByMeasure: aim.ByMeasure[studies.Count]{Pocket: studies.Count{Hits: 52, Of: 100}}}
	}
	for n := range maps {
		var t studied.AimedBall
		t.Ball, t.Bowler = strings.Repeat("A ball of a long name ", n+1), "A bowler"
		t.Setup.Lane, t.Pocket, t.By = inventedLane(), physics.DefaultPocket, aim.ByPocketShare
		t.Best, t.RunnersUp = line(24, 15), []aim.Line{line(20, 10), line(28, 20), line(24.5, 15.5)}
		t.Band = aim.Band{Line: usual().shot(), Outside: four()[1].Shot, Inside: four()[3].Shot}
		t.Room = aim.Room{Left: 0.3 * float64(n), Right: 1.25, Slower: 0.2, Faster: math.NaN(), Less: 3, More: 4}
		for i := range 21 {
			t.Map.Laydown = append(t.Map.Laydown, 12+float64(i))
			var column []float64
			for j := range 41 {
				x, y := 12+float64(i), 2+0.5*float64(j)
				column = append(column, 0.52*math.Exp(-math.Pow(y-15-1.2*(x-24), 2)-math.Pow((x-24)/4, 2)))
			}
			t.Map.Pocket, t.Map.Good = append(t.Map.Pocket, column), append(t.Map.Good, column)
		}
		for j := range 41 {
			t.Map.Arrows = append(t.Map.Arrows, 2+0.5*float64(j))
		}
		a.Players, a.List = append(a.Players, t.Player), append(a.List, t)
	}
	return a
}

func TestTextsOfMapsOfLinesDoNotCollide(t *testing.T) {
	for _, size := range sizes {
		for _, maps := range []int{1, 2, 3, MaxAims} {
			words := []string{"24.0 over 15.0: 52", studied.ByWords(aim.ByPocketShare) + ", %", "board at the laydown", "slower", "any", "with its room at the arrows"}
			checkSays(t, words, func() (*Drawing, error) { return DrawAim(inventedAim(maps), size) })
		}
	}
}

func TestMapsOfLinesAreRepeatable(t *testing.T) {
	checkRepeatable(t, func() (*Drawing, error) { return DrawAim(inventedAim(2), Sheet) })
}

func TestMapsOfLinesNeedTheirValues(t *testing.T) {
	for name, spoil := range map[string]func(*studied.Aim){
		"no map":  func(a *studied.Aim) { a.List = nil },
		"no line": func(a *studied.Aim) { a.List[0].None = &aim.NoLineError{} },
		"one laydown": func(a *studied.Aim) {
			m := &a.List[0].Map
			m.Laydown, m.Good, m.Pocket = m.Laydown[12:13], m.Good[12:13], m.Pocket[12:13]
		},
		"no path": func(a *studied.Aim) { a.List[0].Band.Inside.Path = nil },
	} {
		a := inventedAim(1)
		spoil(a)
		if _, err := DrawAim(a, Sheet); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
