// Package handouts makes the pages to hand on from the results of runs: for each study a
// [handout.Page] with the answer, pictures in two layouts, shots in motion, cautions, what
// is assumed, and the inputs. [ShotsFigure] and [BallFigure] are what the program draws
// as well.
package handouts
