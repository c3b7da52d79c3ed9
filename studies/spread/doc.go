// Package spread finds where a bowler's deliveries end, and which miss costs most.
//
// A [Study] throws the deliveries of a [studies.Repeatability]; a [Result] has the pocket share with its
// interval, the distributions at the pins, and a [Miss] for each quantity that deviates.
package spread
