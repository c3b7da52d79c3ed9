package physics_test

import (
	"math"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/units"
)

// On a symmetric lane a backup release is the mirror image of a usual release from the other side, and so are
// its events and verdicts.
func TestBackupIsTheMirrorImage(t *testing.T) {
	l := lane.Default()
	l.Friction = lane.Friction{Law: lane.Constant, Mu: 0.06}
	b := referenceBall(t, ball.Right, func(s *ball.Specification) { s.Differential, s.IntermediateDifferential, s.Memory.Off = 0, 0, true })
	thrower := physics.NewThrower()
	throw := func(r physics.Release) physics.Shot {
		shot, err := thrower.Throw(l, b, r, physics.Settings{})
		if err != nil {
			t.Fatal(err)
		}
		return shot
	}
	hits := map[physics.Hit]bool{}
	for laydown := 12.0; laydown <= 26; laydown += 0.5 {
		usual := physics.Release{Speed: 8, RevRate: 33, AxisRotation: 50 * units.Degree, AxisTilt: 10 * units.Degree, Laydown: laydown, Angle: 2.8 * units.Degree}
		backup := usual
		backup.AxisRotation, backup.AxisTilt, backup.Angle, backup.Laydown = -usual.AxisRotation, -usual.AxisTilt, -usual.Angle, lane.Boards+1-laydown
		if usual.Backup() || !backup.Backup() {
			t.Fatal("the release with negative rotation is the backup")
		}
		settings := physics.Settings{}
		x, y := throw(usual), throw(backup)
		if x.Status != y.Status {
			t.Fatalf("from %v: %s and %s", laydown, x.Status, y.Status)
		}
		if x.Status != physics.Pins {
			continue
		}
		board, other := x.EntryBoard(), y.EntryBoard()
		if !(math.Abs(board+other-(lane.Boards+1)) <= 1e-3) || !(math.Abs(x.EntryAngle()+y.EntryAngle()) <= 1e-4) {
			t.Errorf("from %v: it enters on board %v, the mirror image on %v", laydown, board, other)
		}
		if x.Summary.Pocket != y.Summary.Pocket || x.Summary.GoodAngle != y.Summary.GoodAngle {
			t.Errorf("from %v on board %v: %v %v, mirrored %v %v", laydown, board, x.Summary.Pocket, x.Summary.GoodAngle, y.Summary.Pocket, y.Summary.GoodAngle)
		}
		p, _ := settings.PocketOf(usual)
		q, _ := settings.PocketOf(backup)
		hit := physics.HitAt(board, p)
		if hits[hit] = true; hit != physics.HitAt(other, q) {
			t.Errorf("board %v is %s, board %v %s", board, hit, other, physics.HitAt(other, q))
		}
	}
	if len(hits) < 4 {
		t.Errorf("only %v", hits)
	}
}
