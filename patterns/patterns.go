// Package patterns builds, measures and lists oil patterns.
//
// A pattern is built from a few numbers ([Crown]), written out as a table
// ([Grid]) or read off the lane with tape ([FromReadings], [ReadTape]); each
// way ends in a [lane.OilMap]. [Measure] goes back from any such map to the
// numbers that the trade speaks in, and [Describe] puts those into words.
// [Builtins] lists the patterns that come with the program, as pattern files;
// turning a pattern file into a Crown or a Grid is package scenario's work.
//
// Several faults of one input are returned together, joined as by
// [errors.Join]: [errors.As] finds the first of its type, Unwrap() []error
// lists them all.
package patterns
