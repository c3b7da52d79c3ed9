// Package lane describes the lane: its geometry in boards and feet, the oil on
// it, its surface, its tilt and the settings of the friction law. It computes no
// motion.
//
// # Frames and units
//
// x runs down-lane from the foul line, y to the left as the bowler looks at the
// pins (0 on the lane's centre line), z up. All values are SI unless a name says
// otherwise. [Board] and [Lateral] convert between y and boards counted from the
// right; [Lane.Mirror] is the lane as a left-hander sees it.
//
// # A lane
//
// [Default] returns a dry, level lane of regulation length with the default friction;
// fields are set from there. Oil is an [OilMap], a grid of film thickness in m that is
// bilinear between its nodes and ends at the pattern's end; package patterns builds
// and measures them. A [Wearing] is oil that changes under the balls and keeps its
// volume. [Lane.Validate] returns all faults, each a [*units.FieldError].
//
// Geometry is from rule-book dimensions as published on secondary pages. Of the
// friction's constants, film is calibrated, dry often quoted (Frohlich, Am. J. Phys.
// 72, 1170, 2004, from memory), the others are assumed; [Measured] marks those that
// were measured on a lane.
package lane
