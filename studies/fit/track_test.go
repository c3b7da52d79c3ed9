package fit_test

import (
	"math"
	"testing"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/studies/fit"
	"lanesim/studies/internal/usual"
	"lanesim/units"
)

// A track that is the shot itself, a board and a half inside, on another clock and read
// with a given scatter, has that bias and that scatter.
func TestOverTrack(t *testing.T) {
	l, b, r := usual.Crowned(t, 40, 24, 6), usual.LaidOut(t, ball.Left, true), usual.Release()
	r.Hand, r.Angle = ball.Left, 2*units.Degree
	shot := usual.Throw(t, physics.NewThrower(), l, b, r, physics.Settings{})
	track := fit.Track{Shot: "one"}
	for i, s := range shot.Path {
		if i%7 != 3 {
			continue
		}
		side := float64(1 - 2*(len(track.Points)%2))
		track.Points = append(track.Points, fit.TrackPoint{Distance: s.Distance, Board: s.Board + 1.5 + 0.2*side, Time: s.Time + 40, Speed: math.NaN()})
	}
	if len(track.Points)%2 == 1 {
		track.Points = track.Points[1:]
	}
	n := float64(len(track.Points))
	o := fit.OverTrack(track, shot)
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"bias", o.Bias.Boards, 1.5}, {"scatter", o.Scatter.Boards, 0.2 * math.Sqrt(n/(n-1))},
		{"root mean square", o.BoardsOff(), math.Sqrt(1.5*1.5 + 0.2*0.2)}, {"time's bias", o.Bias.Time, 0}, {"time's scatter", o.Scatter.Time, 0},
	} {
		if math.Abs(c.got-c.want) > 1e-9 {
			t.Errorf("%s %v, want %v", c.name, c.got, c.want)
		}
	}
	if !math.IsNaN(o.Bias.Speed) || !math.IsNaN(o.Scatter.Speed) {
		t.Errorf("speed was not measured: %v ± %v", o.Bias.Speed, o.Scatter.Speed)
	}
	// Between points of the path the board is interpolated; beyond its end there is none.
	whole := usual.Throw(t, physics.NewThrower(), l, b, r, physics.Settings{PathSpacing: 0.01})
	fine := fit.Track{}
	for _, s := range whole.Path {
		fine.Points = append(fine.Points, fit.TrackPoint{Distance: s.Distance, Board: s.Board, Time: math.NaN(), Speed: s.Speed})
	}
	fine.Points = append(fine.Points, fit.TrackPoint{Distance: 30, Board: 20, Time: math.NaN(), Speed: math.NaN()})
	o = fit.OverTrack(fine, shot)
	for i, q := range o.Residuals[:len(fine.Points)-1] {
		if !(math.Abs(q.Board) < 0.002) || !(math.Abs(q.Speed) < 0.01) {
			t.Errorf("at %v m: off by %v boards and %v m/s", fine.Points[i].Distance, q.Board, q.Speed)
			break
		}
	}
	if last := o.Residuals[len(o.Residuals)-1]; !math.IsNaN(last.Board) {
		t.Errorf("beyond the pins: %v", last.Board)
	}
}
