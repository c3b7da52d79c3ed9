// Package scenario reads scenario files: YAML as a person writes it, with
// quantities in the units of the trade, to the values that the other packages
// compute with. Every error of an input is found and placed here.
//
// [Read] reads a scenario (lanes, balls, bowlers, settings), [ReadSweep] what varies
// in a sweep, [ReadMeasurements] what was measured of a delivery, [ReadPattern] an oil
// pattern. They touch no files: an [OpenFile] is asked for those that a text names.
// What they return is SI, in the frames of packages lane, ball and physics, and
// complete: what was not written has its default, and Warnings are about values outside
// the limits listed. All that is wrong comes back at once, as [Errors], each [Problem]
// with its line and column, what is wrong and the nearest word.
//
// Keys, meanings, units, defaults and limits stand once, in tables of fields;
// [Schema] writes them as JSON Schema, [Reference] and [SweepReference] as pages.
// [BowlerYAML] and the inputs of a shot go the other way, from values to text. Defaults
// that are assumed say so in the tables.
package scenario
