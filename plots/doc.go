// Package plots draws figures from results: the lane from above with its oil and the
// balls' paths, the balls' motion against distance, the ball with its layout and
// tracks, comparisons, maps and curves of studies, racks of pins. It computes no
// motion.
//
// A function for each figure takes a report or the values to be shown, in SI unless a
// name says otherwise, and returns a [Drawing]; Drawing writes itself as one of
// [Formats]. A [Size] says for what it is laid out: a sheet or a phone's screen.
//
// There is one look for all of them, with the colours and dashes of internal/theme: the lane lies on its side,
// boards upward from the bowler's own side, paths differ by colour and by dashes.
// Labels are placed so that no two of them overlap; what a label would need and
// cannot have is left out or said elsewhere, never printed over something else.
package plots
