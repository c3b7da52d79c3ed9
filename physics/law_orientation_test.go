package physics

import (
	"math"
	"testing"

	"lanesim/ball"
	"lanesim/units"

	"pgregory.net/rapid"
)

// lawTurn turns a vector by a unit quaternion.
func lawTurn(q [4]float64, v vector) vector {
	u := vector{q[1], q[2], q[3]}
	t := scale(2, cross(u, v))
	return add(add(v, scale(q[0], t)), cross(u, t))
}

// The orientation is a rotation whose rate is the spin, for both hands. At release it takes the PAP to the
// end of the axis on the bowler's side: for a right-hander the end to which the spin points, for a
// left-hander the other. The track's points lie at the bottom of the ball.
func TestLawSpinTurnsTheOrientation(t *testing.T) {
	unit := lawBound{what: "length of the quaternion off 1", bound: 1e-9}
	start := lawBound{what: "PAP off the axis at release", bound: 1e-9}
	turn := lawBound{what: "turn between states off the mean spin's, rad", bound: 2e-4}
	contact := lawBound{what: "track's first and last point off the bottom of the ball", bound: 1e-9}
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		l, r := lawTilted(t), lawRelease(t)
		r.Hand = rapid.SampledFrom([]ball.Hand{ball.Right, ball.Left}).Draw(t, "hand")
		b := lawPrepare(t, lawSpecification(t), r.Hand)
		shot := lawThrow(t, thrower, l, b, r, Settings{PathSpacing: 0.02 * units.Foot, TrackSpacing: 1})
		path := shot.Path
		for _, end := range []struct {
			state State
			track TrackPoint
		}{{path[0], shot.Track[0]}, {path[len(path)-1], shot.Track[len(shot.Track)-1]}} {
			contact.hold(t, norm(add(lawTurn(end.state.Orientation, vectorOf(end.track.Point)), vector{z: 1})))
		}
		side := 1.0
		if r.Hand == ball.Left {
			side = -1
		}
		if first := path[0]; first.RevRate > 0 {
			axis := scale(side/first.RevRate, vectorOf(first.Spin))
			start.hold(t, norm(add(lawTurn(first.Orientation, vectorOf(b.PAP)), scale(-1, axis))))
		}
		for i := range path {
			q := path[i].Orientation
			unit.hold(t, math.Abs(math.Sqrt(q[0]*q[0]+q[1]*q[1]+q[2]*q[2]+q[3]*q[3])-1))
			if i == 0 || path[i].Time-path[i-1].Time > 0.005 {
				continue // a ball that hardly moves
			}
			// θ = ½ (ω₀ + ω₁) Δt, which is exact to the third order in Δt.
			half := scale((path[i].Time-path[i-1].Time)/2, add(vectorOf(path[i-1].Spin), vectorOf(path[i].Spin)))
			identity := matrix{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
			q2 := rotated(half, &identity)
			for _, v := range []vector{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}} {
				turned := q2.times(lawTurn(path[i-1].Orientation, v))
				turn.hold(t, norm(add(lawTurn(path[i].Orientation, v), scale(-1, turned))))
			}
		}
	})
	unit.report(t)
	start.report(t)
	contact.report(t)
	turn.report(t)
}
