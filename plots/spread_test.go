package plots

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/physics"
)

// inventedSpread is deliveries that are nobody's, about a line of a hand.
func inventedSpread(name string, hand ball.Hand) spreadPanel {
	about := usual()
	about.hand = hand
	s := spreadPanel{Name: name, Share: "pocket 43.2%, 95 % interval 40.1% to 46.3%", Detail: "entry board 17.42 ± 1.13 (one sd), angle 3.81° ± 0.33°",
		Lane: inventedLane(), Hand: hand, Line: about.shot()}
	for k := range 60 {
		one := about
		one.laydown += 1.5 * math.Sin(float64(k))
		one.angle += 0.4 * math.Sin(2.3*float64(k))
		s.Paths = append(s.Paths, one.shot())
	}
	for k := range 500 {
		u := (float64(k) + 0.5) / 500
		s.EntryBoards = append(s.EntryBoards, 17.5+1.5*math.Log(u/(1-u)))
	}
	return s
}

func spreadFigures() map[string]spreadFigure {
	note := "Where 1000 deliveries end; speed costs most: without it 40.0% of the first 500 deliveries end in the pocket rather than 27.3%."
	lost := inventedSpread("All in the gutter", ball.Right)
	wide := tooWide()
	lost.Line, lost.Paths = wide.shot(), []physics.Shot{wide.shot()}
	for i := range lost.EntryBoards {
		lost.EntryBoards[i] = math.NaN()
	}
	lost.Detail = "entry board – ± – (one sd), angle –° ± –°; not at the pins: 500 gutter"
	dry := inventedSpread("On dry boards", ball.Right)
	dry.Lane.Oil = nil
	long := inventedSpread("A bowler with a name that is far too long, A ball with a name that is far too long for one line", ball.Left)
	return map[string]spreadFigure{
		"one":    {Title: "One bowler", Note: note, Panels: []spreadPanel{inventedSpread("", ball.Right)}},
		"left":   {Title: "A left-hander", Note: note, Panels: []spreadPanel{inventedSpread("", ball.Left)}},
		"two":    {Title: "Two layouts", Note: note, Panels: []spreadPanel{inventedSpread("Pin near", ball.Right), inventedSpread("Pin far", ball.Right)}},
		"mixed":  {Title: "Both hands, and one lost", Note: note, Panels: []spreadPanel{inventedSpread("First", ball.Right), long, lost, dry}},
		"pocket": {Title: "A narrow pocket", Note: note, Pocket: physics.Window{Min: 11, Max: 11.1}, Panels: []spreadPanel{inventedSpread("", ball.Right)}},
	}
}

func TestSpreadTextsDoNotCollide(t *testing.T) {
	for name, f := range spreadFigures() {
		for _, f.Size = range []Size{Sheet, Phone} {
			t.Run(fmt.Sprintf("%s/%d", name, f.Size), func(t *testing.T) {
				d, err := f.draw()
				if err != nil {
					t.Fatal(err)
				}
				texts := checkTexts(t, d)
				all := strings.Join(texts, " ")
				side := "board, from the right"
				if f.Panels[0].Hand == ball.Left {
					side = "board, from the left"
				}
				for _, want := range []string{"pocket 43.2%, 95 % interval 40.1% to 46.3%", "the line without deviations", "entry boards, % of the", side} {
					if !strings.Contains(all, want) {
						t.Errorf("no %q", want)
					}
				}
				for _, s := range f.Panels {
					if head, _, _ := strings.Cut(s.Name, ","); !strings.Contains(all, head) {
						t.Errorf("%q is not named", s.Name)
					}
				}
			})
		}
	}
}

// Every ball that gets to the pins is in a bar, and bars do not lie across the pocket's
// edges.
func TestHistogramCountsEveryBallAtThePins(t *testing.T) {
	s := inventedSpread("", ball.Right)
	s.EntryBoards = append(s.EntryBoards, math.NaN(), math.NaN())
	for _, pocket := range []physics.Window{physics.DefaultPocket, {Min: 16, Max: 18}, {Min: 3.2, Max: 3.9}} {
		v, err := newView(Figure{Lane: s.Lane, Series: []Series{{Shot: s.Line}}, Pocket: pocket})
		if err != nil {
			t.Fatal(err)
		}
		for _, height := range []float64{290, 132} {
			h := &spreadView{spreadPanel: s, view: v}
			bin := v.bin(height)
			h.count(bin)
			sum, inside, want := 0.0, 0.0, 0.0
			for i, b := range h.bins {
				sum += b
				if middle := h.lowest(bin) + (float64(i)+0.5)*bin; middle > pocket.Min && middle < pocket.Max {
					inside += b
				}
			}
			for _, board := range s.EntryBoards {
				if board > pocket.Min && board < pocket.Max {
					want += 100 / float64(len(s.EntryBoards))
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
	none, bare, pathless := inventedSpread("", ball.Right), inventedSpread("", ball.Right), inventedSpread("", ball.Right)
	none.EntryBoards = nil
	bare.Line.Path = nil
	pathless.Paths[3].Path = nil
	many := make([]spreadPanel, MaxSpreadPanels+1)
	for name, panels := range map[string][]spreadPanel{"nothing": nil, "no deliveries": {none}, "no line": {bare}, "no path": {pathless}, "many": many} {
		if _, err := (spreadFigure{Panels: panels}).draw(); err == nil {
			t.Errorf("%s gives no error", name)
		}
	}
}
