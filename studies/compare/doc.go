// Package compare says by how much deliveries differ, where, why, and how sure that is.
//
// A [Study] throws its deliveries and returns a [Result] with a [Pair] for each pair
// that was asked for: the differences as a [Change], their causes by mechanism and by
// input, and in how many sets of the assumed values each conclusion holds.
package compare
