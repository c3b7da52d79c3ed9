// Package thrown reports shots as they were thrown: their summaries, events and paths, and
// comparisons of them with the causes of what differs.
//
// [ShotColumns] are the quantities of a shot; columns of points and of pairs follow from
// them. [ChooseOfThrow] and [ChooseOfComparison] find them by name.
package thrown
