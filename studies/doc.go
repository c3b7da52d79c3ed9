// Package studies has what questions about many shots share; the packages below it
// answer one each:
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
// A study is a struct that says what is asked; its zero fields have defaults that its
// comment names. Run takes a context, but for that of measure, which takes no time, and
// returns a Result. If the context ends, what is finished is returned with the context's
// error, where a part of an answer is one.
//
// # Units, and what is compared
//
// All values are SI; boards are the bowler's, shares lie between 0 and 1. Differences
// are b − a. What does not exist is NaN. Shares come with intervals of 95 % (Wilson, J.
// Am. Stat. Assoc. 22, 209, 1927), differences of shares with those of paired counts.
//
// # Same answers everywhere
//
// Random numbers follow from a seed, a [Purpose] and a number ([Draws]), so that
// delivery k is the same for every ball, line and number of workers. Work is spread
// over as many workers as asked; no result depends on how many.
//
// # What is assumed
//
// [AssumedValues] lists the constants of lanes and balls that nobody measured, with
// ranges that are a judgement, too; [AssumedSets] fills these (Halton, Numer. Math. 2,
// 84, 1960). A conclusion that holds in fewer than three quarters of the sets is open.
package studies
