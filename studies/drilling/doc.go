// Package drilling finds how much errors of drilling change a shot.
//
// A [Study] drills a ball with small errors of the layout, the PAP, the depth of the holes and the surface,
// and its [Result] lists the effect of each.
package drilling
