package plots

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/studies"
	"lanesim/studies/fit"
	"lanesim/units"
)

// inventedFit is n shots with points around their paths.
func inventedFit(n int, hand ball.Hand, size Size) fitFigure {
	f := fitFigure{Title: "A fit", Note: "Film 0.022 ± 0.002.", Lane: lane.Default(), Scatter: fit.Scatter{Boards: 1, Speed: 0.1, Time: math.NaN()}, Size: size}
	for i := range n {
		in := usual()
		in.hand = hand
		in.laydown += float64(i % 5)
		s := in.series("")
		t := trackedFit{Name: "Shot " + string(rune('A'+i%26)), Hand: hand, Fitted: fit.ShotResult{Shot: s.Shot}}
		t.Fitted.RMS.Boards = float64(i)
		for k := range 10 {
			x := float64(10 + 5*k)
			off := math.Sin(float64(k + i))
			t.Points = append(t.Points, fit.TrackPoint{Distance: x * units.Foot, Board: studies.BoardAt(s.Shot.Path, x*units.Foot) + off, Time: math.NaN(), Speed: 7})
			t.Fitted.Residuals = append(t.Fitted.Residuals, fit.TrackResidual{Board: off, Speed: 0.1 * off, Time: math.NaN(), Outlier: i == 0 && k == 4})
		}
		f.Shots = append(f.Shots, t)
	}
	return f
}

// Points lie where the lines are, whatever the hand, and nothing collides.
func TestFitIsDrawn(t *testing.T) {
	for _, size := range []Size{Sheet, Phone} {
		for _, hand := range []ball.Hand{ball.Right, ball.Left} {
			for _, n := range []int{1, 2, 4, 5, 12, 30} {
				d, err := inventedFit(n, hand, size).draw()
				if err != nil {
					t.Fatal(err)
				}
				checkTexts(t, d)
				said := strings.Join(d.Texts(), " ")
				if strings.Contains(said, "seconds") || !strings.Contains(said, "mph, measured") {
					t.Errorf("panels of %q", said)
				}
				if many := n > 12; many != strings.Contains(strings.ReplaceAll(said, noBreak, " "), "shots that fit worst") && !(size == Phone && n == 12) {
					t.Errorf("%d shots: %q", n, said)
				}
				var out bytes.Buffer
				if err := d.Write(&out, "svg"); err != nil {
					t.Error(err)
				}
			}
		}
	}
}

// A point on the path is drawn on the path.
func TestTrackedPointsLieOnTheirPath(t *testing.T) {
	for _, hand := range []ball.Hand{ball.Right, ball.Left} {
		f := inventedFit(1, hand, Sheet)
		s := f.Shots[0]
		v, err := newView(Figure{Lane: f.Lane, Series: []Series{{Shot: s.Fitted.Shot, Hand: hand}}})
		if err != nil {
			t.Fatal(err)
		}
		l := v.page().lanePanel(v, 0, 600, 0, 200)
		for k := range s.Points {
			s.Points[k].Board -= s.Fitted.Residuals[k].Board
		}
		l.tracked(s, ink)
		path := l.path(s.Fitted.Shot)
		dots := 0
		for _, e := range l.elements {
			a, is := e.(areaElement)
			if !is || a.fill != ink {
				continue
			}
			dots++
			var middle point
			for _, q := range a.points {
				middle.x += q.x / float64(len(a.points))
				middle.y += q.y / float64(len(a.points))
			}
			nearest := math.Inf(1)
			for _, q := range path {
				nearest = min(nearest, distance(q, middle))
			}
			const apart = 2 // points between those of the path
			if nearest > apart {
				t.Errorf("%v: a point lies %.1f from the path", hand, nearest)
			}
		}
		if dots != len(s.Points)-1 {
			t.Errorf("%d dots of %d points, one of them stray", dots, len(s.Points))
		}
	}
}

func TestFitRefusesWhatCannotBeDrawn(t *testing.T) {
	odd := inventedFit(2, ball.Right, Sheet)
	odd.Shots[1].Points = odd.Shots[1].Points[1:]
	pathless := inventedFit(2, ball.Right, Sheet)
	pathless.Shots[0].Fitted.Shot.Path = nil
	for _, f := range []fitFigure{{}, odd, pathless} {
		if _, err := f.draw(); err == nil {
			t.Error("no error")
		}
	}
}
