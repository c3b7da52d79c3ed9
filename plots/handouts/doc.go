// Package handouts makes handout pages from the results of runs: for each study a [handout.Page] with the
// answer, pictures in two layouts, shots in motion, cautions, assumed values and inputs. The program also
// draws [ShotsFigure] and [BallFigure] by themselves.
package handouts
