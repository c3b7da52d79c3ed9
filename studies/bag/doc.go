// Package bag finds the few of several balls that cover several lanes best.
//
// A [Study] finds the best line of each ball on each lane, a [Cell], and compares all choices of a number of
// balls by their coverage: the share of the best ball on each lane.
package bag
