// Package studies answers questions that take many shots:
//
//   - [Aim]: which launch angles reach the pocket; [Branch] follows one of them while
//     values change;
//   - [Comparison]: by how much deliveries differ, where, why, and how sure that is;
//   - [LineSearch]: from which laydown and over which board most of a bowler's own
//     deliveries succeed, and how far each may miss;
//   - [Spread]: where a bowler's deliveries end, and which miss costs most;
//   - [Wear]: how a lane changes under the balls, and how long a line stays;
//   - [Bag]: which few balls cover several lanes;
//   - [Fit]: which friction tracked balls tell;
//   - a release from measurements: [ReleaseSpeed], [FrameCount] and others;
//   - sweeps: [Design] has the points, [InOrder] computes them in order.
//
// A study is a struct that says what is asked; its zero fields have defaults that its
// comment names. Run takes a context. If the context ends, what is finished is
// returned with the context's error, where a part of an answer is one.
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
