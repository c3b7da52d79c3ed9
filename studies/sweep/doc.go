// Package sweep computes the points of designs: grids, Latin hypercubes and Halton sequences. Each point of a
// [Design] is computed by itself, in any order.
package sweep
