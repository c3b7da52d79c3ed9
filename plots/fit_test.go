package plots

import (
	"math"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/studies"
	"lanesim/studies/fit"
	"lanesim/units"
)

// inventedFit makes n shots with points near their paths.
func inventedFit(n int, hand ball.Hand) []trackedFit {
	var list []trackedFit
	for i := range n {
		in := usual()
		in.hand = hand
		in.laydown += float64(i % 5)
		t := trackedFit{Series: in.series("Shot " + string(rune('A'+i%26)))}
		t.RMS.Boards = float64(i)
		for k := range 10 {
			x := float64(10 + 5*k)
			off := math.Sin(float64(k + i))
			t.points = append(t.points, fit.TrackPoint{Distance: x * units.Foot, Board: studies.BoardAt(t.Series.Shot.Path, x*units.Foot) + off, Time: math.NaN(), Speed: 7})
			t.Residuals = append(t.Residuals, fit.TrackResidual{Board: off, Speed: 0.1 * off, Time: math.NaN(), Outlier: i == 0 && k == 4})
		}
		list = append(list, t)
	}
	return list
}

func drawInvented(list []trackedFit, size Size) (*Drawing, error) {
	f := Figure{Title: "A fit", Note: "Film 0.022 ± 0.002.", Lane: lane.Default(), Size: size}
	return drawTracked(f, list, fit.Scatter{Boards: 1, Speed: 0.1, Time: math.NaN()}, "fitted")
}

// Points are drawn at their places for both hands, and no texts overlap.
func TestFitIsDrawn(t *testing.T) {
	for _, size := range sizes {
		for _, hand := range []ball.Hand{ball.Right, ball.Left} {
			for _, n := range []int{1, 2, 4, 5, 12, 30} {
				d := checkSays(t, []string{"mph, measured"}, func() (*Drawing, error) { return drawInvented(inventedFit(n, hand), size) })
				said := strings.Join(d.Texts(), " ")
				if strings.Contains(said, "seconds") {
					t.Errorf("panels of %q", said)
				}
				if many := n > 12; many != strings.Contains(strings.ReplaceAll(said, noBreak, " "), "shots that fit worst") && !(size == Phone && n == 12) {
					t.Errorf("%d shots: %q", n, said)
				}
			}
		}
	}
}

// A point on the path is drawn on the path.
func TestTrackedPointsLieOnTheirPath(t *testing.T) {
	for _, hand := range []ball.Hand{ball.Right, ball.Left} {
		s := inventedFit(1, hand)[0]
		v, err := newView(Figure{Lane: lane.Default(), Series: []Series{s.Series}})
		if err != nil {
			t.Fatal(err)
		}
		l := v.page().lanePanel(v, 0, 600, 0, 200)
		for k := range s.points {
			s.points[k].Board -= s.Residuals[k].Board
		}
		l.tracked(s, ink)
		path := l.path(s.Series.Shot)
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
			const apart = 2 // pt, between points of the path
			if nearest > apart {
				t.Errorf("%v: a point lies %.1f from the path", hand, nearest)
			}
		}
		if dots != len(s.points)-1 {
			t.Errorf("%d dots of %d points, one of them an outlier", dots, len(s.points))
		}
	}
}

// A shot whose points lie exactly on its path has an axis of deviations, too.
func TestExactTracksAreDrawn(t *testing.T) {
	list := inventedFit(2, ball.Right)
	for i := range list {
		for k := range list[i].Residuals {
			list[i].Residuals[k] = fit.TrackResidual{Time: math.NaN()}
		}
	}
	f := Figure{Title: "Exact", Note: "Nothing is left over.", Lane: lane.Default()}
	checkSays(t, []string{"boards, measured", "−0.50", "0.50"}, func() (*Drawing, error) {
		return drawTracked(f, list, fit.Scatter{Time: math.NaN()}, "thrown")
	})
}

func TestFitRefusesWhatCannotBeDrawn(t *testing.T) {
	odd, pathless := inventedFit(2, ball.Right), inventedFit(2, ball.Right)
	odd[1].points = odd[1].points[1:]
	pathless[0].Series.Shot.Path = nil
	for _, list := range [][]trackedFit{nil, odd, pathless} {
		if _, err := drawInvented(list, Sheet); err == nil {
			t.Error("no error")
		}
	}
}
