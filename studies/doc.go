// Package studies has what studies of many shots share. Each package below it answers one question:
//
//   - aim: lines to the pocket, and the best line of a bowler;
//   - compare: by how much deliveries differ, where, why, and how sure that is;
//   - spread: where a bowler's deliveries end, and which miss costs most;
//   - wear: how a lane changes under the balls, and how long a line stays;
//   - bag: which few balls cover several lanes;
//   - carry: what deliveries do at the pins;
//   - fit: which friction tracked balls show;
//   - measure: a release from measurements;
//   - drilling: what errors of drilling change;
//   - seek: values with which a shot does what is wanted;
//   - sweep: designs of sweeps, whose points [InOrder] computes.
//
// A study is a struct of inputs; the comments name the defaults of zero fields. Run takes a context (except
// in measure, which is quick) and returns a Result. If the context ends, Run returns the context's error,
// with the finished part of the result where that is of use.
//
// # Units, and what is compared
//
// All values are SI; boards are the bowler's, shares lie between 0 and 1. Differences are b − a. A number
// that does not exist is NaN. Shares have 95 % intervals (Wilson, J. Am. Stat. Assoc. 22, 209, 1927);
// differences of shares have those of paired counts.
//
// # Same answers everywhere
//
// Random numbers depend only on a seed, a [Purpose] and a number ([Draws]), so that delivery k is the same
// for every ball, line and number of workers. No result depends on the number of workers.
//
// # What is assumed
//
// [AssumedValues] lists the constants of lanes and balls that are not measured, with assumed ranges;
// [AssumedSets] fills these ranges evenly (Halton, Numer. Math. 2, 84, 1960). A conclusion is open if it is
// true in fewer than three quarters of the sets.
package studies
