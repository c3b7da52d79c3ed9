// Package spread says where a bowler's deliveries end, and which miss costs most.
//
// A [Study] throws the deliveries of a [studies.Repeatability]; a [Result] has the
// share in the pocket with its interval, the distributions at the pins, and for each
// thing that varies a [Miss].
package spread
