// Package aim finds lines: launch angles that bring a ball to the pocket, and the line on which most of a
// bowler's deliveries succeed.
//
//   - [Pocket] asks for all launch angles that reach the middle of the pocket;
//     [Branch] follows one of them while values change.
//   - [Search] asks for the best line within [Limits], judged by a [Measure], and for
//     its [Room]: by how much each quantity may miss.
//   - [BreakpointLine] asks for the laydown from which a ball has its breakpoint where
//     it is wanted.
package aim
