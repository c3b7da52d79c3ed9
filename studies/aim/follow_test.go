package aim_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/internal/usual"
	"lanesim/units"
)

// A branch followed in one call ends at the same crossing as the nearest one found again after each of many
// small changes. If the branch ends on the way the result reports it.
func TestABranchIsFollowed(t *testing.T) {
	const (
		cases    = 6
		steps    = 24
		jump     = 0.25 * units.Degree // by which a crossing does not move in a step
		accuracy = 0.02 * units.Degree // a tenth of a board
	)
	random := rand.New(rand.NewPCG(4, 11))
	between := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	thrower := physics.NewThrower()
	kept, ended, moved := 0, 0, 0.0
	for range cases {
		a := aim.Pocket{
			Setup: studies.Setup{
				Lane: usual.Crowned(t, between(38, 47), between(20, 28), between(5, 18)), Ball: usual.LaidOut(t, ball.Right, random.IntN(2) == 0),
				Release: physics.Release{Speed: between(16, 19) * units.MPH, RevRate: between(250, 450) * units.RPM, AxisRotation: between(30, 70) * units.Degree, AxisTilt: 13 * units.Degree, Laydown: between(20, 34)},
			},
			Settings: studies.ForManyShots(physics.Settings{}),
		}
		speed, revs := between(-1.5, 1.5)*units.MPH, between(-70, 70)*units.RPM
		to := func(share float64) (aim.Pocket, error) {
			b := a
			b.Setup.Release.Speed += share * speed
			b.Setup.Release.RevRate += share * revs
			return b, nil
		}
		found, err := a.Run(t.Context())
		if err != nil {
			continue
		}
		for _, angle := range found.Angles {
			at, followable := angle, true
			for k := 1; k <= steps && followable; k++ {
				next, _ := to(float64(k) / steps)
				all, _ := next.Run(t.Context())
				nearest := math.Inf(1)
				for _, x := range all.Angles {
					if math.Abs(x-at) < math.Abs(nearest-at) {
						nearest = x
					}
				}
				if followable = math.Abs(nearest-at) < jump; followable {
					at = nearest
				}
			}
			branch, err := a.Branch(thrower, angle)
			if err != nil {
				t.Fatal(err)
			}
			got, err := branch.Follow(thrower, to)
			lost := (*aim.LostLineError)(nil)
			switch {
			case err != nil && !errors.As(err, &lost):
				t.Fatal(err)
			case !followable:
				ended++
				if err == nil && !got.Changed {
					t.Errorf("%+v by %.3g, %.3g: the branch at %.4g° ends, but is said to lead to %.4g°", a.Setup.Release, speed, revs, angle/units.Degree, got.Angle/units.Degree)
				}
			case err != nil || got.Changed || math.Abs(got.Angle-at) > accuracy:
				t.Errorf("%+v by %.3g, %.3g: the branch at %.4g° leads to %.4g°, not %.4g° (changed %v, %v)", a.Setup.Release, speed, revs, angle/units.Degree, at/units.Degree, got.Angle/units.Degree, got.Changed, err)
			default:
				kept++
				moved = max(moved, math.Abs(at-angle))
			}
		}
	}
	if kept < cases/2 || moved < 0.5*units.Degree {
		t.Errorf("%d branches kept, %d ended, the farthest moved by %.3g°: this tests little", kept, ended, moved/units.Degree)
	}
	t.Logf("%d branches kept, %d ended, the farthest moved by %.3g°", kept, ended, moved/units.Degree)
}
