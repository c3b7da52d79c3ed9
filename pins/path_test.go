package pins

import (
	"math"
	"testing"

	"lanesim/units"
)

// Paths are recorded with the given spacing, end where the result says, and do not change
// the result.
func TestPaths(t *testing.T) {
	ball := Rolling(17, 5*units.Degree, 7.6, 15*units.Pound)
	without := newDeck(t, Settings{})
	with := newDeck(t, Settings{PathSpacing: 2e-3})
	for k := range uint64(10) {
		r, p := without.Roll(ball, All, 1, k), with.Roll(ball, All, 1, k)
		if r.Path != nil || r.Pins[0] != nil {
			t.Errorf("rack %d: paths that nobody asked for", k)
		}
		if p.Standing != r.Standing || p.Exit != r.Exit || p.Time != r.Time {
			t.Errorf("rack %d: with paths %+v, without %+v", k, p, r)
		}
		first, last := p.Path[0], p.Path[len(p.Path)-1]
		near(t, "start", first.X, ball.Position[0], 0.02)
		near(t, "end", last.X, DeckEnd, 0.05)
		for i, q := range p.Path[1:] {
			if step := q.Time - p.Path[i].Time; !(step > 0 && step < 4e-3) || q.X < p.Path[i].X-0.01 || math.Abs(q.Z-ball.Radius) > 0.02 {
				t.Errorf("rack %d: point %d %+v after %+v", k, i+1, q, p.Path[i])
			}
		}
		for i, path := range p.Pins {
			if touched := p.First[i].By != Untouched; touched != (len(path) > 0) {
				t.Errorf("rack %d: pin %d, touched %v, has %d points", k, i+1, touched, len(path))
			} else if touched {
				if from := path[0]; math.Hypot(from.X-Spots[i][0], from.Y-Spots[i][1]) > 0.05 || from.Axis[2] < 0.9 {
					t.Errorf("rack %d: pin %d begins at %+v", k, i+1, from)
				}
			}
		}
	}
}
