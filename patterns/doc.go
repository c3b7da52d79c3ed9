// Package patterns builds, measures and lists oil patterns.
//
// A pattern is built from a few numbers ([Crown]), written out as a table
// ([Grid]) or read off the lane with tape ([FromReadings], [ReadTape]); each way
// ends in a [lane.OilMap]. [Measure] goes back from any such map to the numbers that
// the trade speaks in (length, volume, ratio, units by board). [Builtins] lists the patterns that come with the program, all
// invented, as pattern files; turning a pattern file into a Crown or a Grid is package
// scenario's work.
//
// Lengths are in m, volumes in m³ and films in m, but for what is called Units: the
// trade's unit of film, 0.0167 cm³ per square foot (from memory), 0.1798 µm. Boards
// count from the right, from 1 to 39; those of a [BoardRange] from the edge of the side
// that is looked at.
//
// Length, volume and ratio of a Crown are met exactly. Its shape in between is assumed.
// Which boards a ratio compares is common practice, and can be changed.
//
// Several faults of one input are returned together, joined as by errors.Join:
// errors.As finds the first of its type, Unwrap() []error lists them all.
package patterns
