// Package runs does what is asked of a scenario, without flags and files: from a scenario
// to a report. The program prints and draws what comes of it.
//
// [LineOf] finds a delivery's line as its bowler asks for, [Players] prepares every
// bowler with every ball on every lane for a study of many shots, and [Comparison]
// gathers the deliveries of scenarios and the pairs among them. Conclusions are tried with
// sets of assumed values by [TryFirstChoices], [TryLasting] and
// [Bag.TryAssumed]. [Sweep] computes the rows of a sweep file.
package runs
