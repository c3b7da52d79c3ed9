// Package layouts reports balls laid out and drilled: where pin and axes lie, the grip, mass
// properties before and after, weights as a shop finds them, verdicts on the limits listed,
// clearances, the steps of marking, and the tracks that shots leave.
package layouts
