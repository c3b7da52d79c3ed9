// Package layouts reports layouts and drilled balls: the places of pin and axes, the grip, mass properties
// before and after drilling, static weights, verdicts on the limits listed, clearances, the steps of marking,
// and the tracks of shots.
package layouts
