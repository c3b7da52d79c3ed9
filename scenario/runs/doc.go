// Package runs connects scenarios, studies and reports: its functions take a scenario and return a report,
// without flags and files. The program prints and draws the reports.
//
// [LineOf] finds the line of a delivery, [Players] prepares every bowler with every ball on every lane for a
// study of many shots, and [Comparison] collects the deliveries of scenarios and their pairs.
// [TryFirstChoices], [TryLasting], [TryPlan] and [Bag.TryAssumed] try conclusions with sets of assumed
// values. [Sweep] computes the rows of a sweep file.
package runs
