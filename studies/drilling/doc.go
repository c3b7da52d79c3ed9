// Package drilling says how much errors of drilling change a shot.
//
// A [Study] drills a ball with the pin, the holes and the measured axis off by so
// much, and its [Result] lists what each error changes.
package drilling
