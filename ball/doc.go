// Package ball describes a bowling ball: what it is made of, how it is laid out
// on the bowler's axis and drilled, and the mass properties that follow. It
// computes no motion.
//
// # From the box to the lane
//
// A [Specification] is a ball as it is bought, with its [Layout], [Cover] and
// surface; [Default] returns a usual one with equal moments. [Specification.Drill]
// takes the bowler's [PAP], the [Hand] and a [Grip] and returns the [Ball] that rolls
// and the [Drilling]: the mass that the holes remove and inserts put back, and how mass
// centre and axes move. [DistanceLayout] is the same layout by three distances, and
// [Measures] has all that a driller measures. [rules.Check] compares with the limits of
// the rule book as secondary pages quote them.
//
// [oilring.Fit] and [oilring.TiltOf] find the spin axis from the first oil ring on a ball.
//
// # Axes and units
//
// Body axes: the pin (axis of low radius of gyration), the intermediate axis (PSA ×
// pin) and the preferred spin axis (PSA, axis of high radius of gyration), through
// the centre of mass; those of a drilled ball are where the holes leave them. Grip
// axes, see [Frame]: X out of the centre of the grip, Y along the midline to the right
// with the fingers up, Z toward the fingers. All values are SI unless a name says
// otherwise; distances on the ball are along its surface.
//
// # Sources
//
// Moments follow from mechanics (parallel-axis theorem, principal axes), layouts from
// spherical trigonometry. Friction and soak-in of the covers, the roughness of a
// finish or a grit and how games wear it, the shell's density, usual hole sizes and
// the film memory are assumed, and say so where they stand.
package ball
