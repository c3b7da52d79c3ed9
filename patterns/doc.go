// Package patterns builds, measures and lists oil patterns.
//
// A pattern is built from a few numbers ([Crown]), given as a table ([Grid]) or measured
// on the lane with tape ([FromReadings], [ReadTape]); each of them gives a [lane.OilMap].
// [Measure] computes the trade's numbers from any such map: length, volume, ratio, units
// by board. [Builtins] lists the patterns that come with the program, all invented, as
// pattern files; package scenario reads such files.
//
// Lengths are in m, volumes in m³ and films in m. Fields named Units are in the trade's
// unit of film, 0.0167 cm³ per square foot (from memory), 0.1798 µm. Boards count from
// the right, from 1 to 39; those of a [BoardRange] from the edge on the side measured.
//
// Length, volume and ratio of a Crown are met exactly. Its shape in between is assumed.
// Which boards a ratio compares is common practice, and can be changed.
//
// All faults of an input are returned together, joined as by errors.Join: errors.As finds
// the first of its type, Unwrap() []error lists them all.
package patterns
