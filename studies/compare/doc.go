// Package compare finds how much deliveries differ, where, why, and how sure that is.
//
// A [Study] throws its deliveries and returns a [Result] with a [Pair] for each pair requested: the
// differences as a [Change], their causes by mechanism and by input, and the number of sets of assumed values
// in which each conclusion is true.
package compare
