// Package bag says which few of several balls cover several lanes best.
//
// A [Study] finds the best line of each ball on each lane, a [Cell], and compares all
// choices of so many balls by the deliveries that the best of them hits.
package bag
