// Package physics computes the motion of a bowling ball down a lane: a rigid body that slides and rolls on an
// oiled surface and carries oil round on its own track.
//
// # One shot
//
// [Throw] takes a lane, a ball, a [Release] and [Settings], whose zero value works, and returns a [Shot]: how
// it ended, its [Events], its [Summary], the path and, if asked for, the track on the ball and the oil that
// it took from the lane. A [Thrower] reuses its memory from shot to shot, with the same results.
//
// # Frames, signs and units
//
// All values are SI: m, kg, s, rad. The lane's frame is right-handed: x runs down-lane from the foul line, y
// to the left for either hand, z up. Boards and headings are the bowler's: boards count from the bowler's own
// side, a heading is positive toward the off side (a right-hander's left), a launch angle toward the
// ball-side gutter (a right-hander's right). A left-hander's shot is computed as its mirror image.
//
// # The model
//
// The motion is a hybrid system: smooth equations while the ball slides, others while it rolls, and events
// between them. Friction follows Coulomb's law down to zero slip, without smoothing. Its coefficient follows
// from the film in the gap by mixed lubrication (Greenwood and Tripp's asperity integral by the usual fit,
// from memory), or is given, in zones or as one number; [FrictionOf] returns the coefficients for a cover.
// Package film models the film on the ball. Pivot friction is Contensou's in Zhuravlev's form (from memory).
// Not modelled: bounce, friction that depends on speed, the lane's topography along its length, type and
// temperature of the oil.
//
// All assumed constants are fields of [lane.Lane] and [ball.Ball]. docs/theory.md has all equations with
// their sources.
//
// # Accuracy
//
// At [DefaultTolerance] the ball reaches the pins within 0.001 board of a run with a far tighter tolerance,
// within 0.02 board with film on its surface (measured over random shots). Studies of many shots use a looser
// tolerance and another method, which is several times faster.
package physics
