// Package sweep has the points of designs: grids, latin hypercubes and Halton points
// over named dimensions. Point k of a [Design] is computed alone, in any order.
package sweep
