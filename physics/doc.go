// Package physics computes the motion of a bowling ball down a lane: a rigid
// body that slides and rolls under the friction of an oiled surface, with the
// oil that it carries round on its own track.
//
// # One shot
//
// [Throw] takes a lane, a ball, a [Release] and [Settings], whose zero value
// works, and returns a [Shot]: how it ended, its [Events], its [Summary], the path
// and, if asked for, the track on the ball and the oil that it took. A [Thrower]
// keeps the memory between shots and gives the same results.
//
// # Frames, signs and units
//
// All values are SI: m, kg, s, rad. The lane's frame is right-handed: x runs
// down-lane from the foul line, y to the left whatever hand throws, z up. Boards and
// headings are the bowler's: boards count from the bowler's own side, a heading is
// positive toward the off side (a right-hander's left), a launch angle toward the
// ball-side gutter (a right-hander's right). A left-hander's shot is computed as its
// mirror image.
//
// # The model
//
// The motion is a hybrid system: smooth equations while the ball slides, others
// while it rolls, and events between them. Friction is Coulomb's at every slip,
// without smoothing. Its coefficient follows from the film in the gap by mixed
// lubrication (Greenwood and Tripp's asperity integral by the usual fit, from memory),
// or is given, in zones or as one number; [FrictionOf] says what a cover meets. The
// film on the ball is package film's. Pivot friction is Contensou's in Zhuravlev's
// form (from memory). Not modelled: bounce, friction that depends on speed, the lane's
// topography along its length, type and temperature of the oil.
//
// Constants that are assumed are fields of [lane.Lane] and [ball.Ball]; none is
// hidden here. docs/theory.md has all equations with their sources.
//
// # Accuracy
//
// At [DefaultTolerance] the ball is at the pins within 0.001 board of a far tighter
// run, within 0.02 with film on its surface (measured over random shots). Studies of
// many shots take a looser tolerance and another method, which is several times
// faster.
package physics
