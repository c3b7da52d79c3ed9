// Package scenario reads scenario files, YAML with quantities in the units of the
// trade, and returns the values that the other packages compute with. It finds every
// error of an input and its place.
//
// [Read] reads a scenario (lanes, balls, bowlers, settings), [ReadSweep] what varies
// in a sweep, [ReadMeasurements] what was measured of a delivery, [ReadPattern] an oil
// pattern. They open no files: an [OpenFile] returns those that a text names. Their
// results are SI, in the frames of packages lane, ball and physics, and complete: what
// was not written has its default. Warnings are about values outside the limits listed.
// All errors are returned together, as [Errors], each [Problem] with its line and
// column, a message and the nearest word.
//
// Keys, meanings, units, defaults and limits are written once, in tables of fields, and
// defaults that are assumed are marked there; [Schema] writes the tables as JSON Schema,
// [Reference] and [SweepReference] as pages. [BowlerYAML] and [Scenario.Inputs] write
// values as text.
package scenario
