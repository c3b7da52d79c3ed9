// Package thrown reports shots, with their summaries, events and paths, and comparisons of shots with the
// causes of their differences.
//
// [ShotColumns] returns the quantities of a shot; columns of points and of pairs are made from them.
// [ChooseOfThrow] and [ChooseOfComparison] find columns by name.
package thrown
