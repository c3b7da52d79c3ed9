// Package report writes results for people and for machines.
//
// A result is written once, as [Columns]: each [Column] of a thing has a key, a label, a
// unit, digits, a meaning and how it is got. JSON, CSV and tables are made of the same
// columns, and so are the lists of what can be chosen. Tables for people have the
// digits that mean something; JSON and CSV keep all of a number, in the shortest form
// that reads back to it. What does not exist is null in JSON, an empty cell in CSV and
// [Absent] in a table.
//
// Values come in SI from physics and studies and go out in the unit that the column's
// key ends in. Sentences, warnings and cautions about results stand here, too. The
// package calls no study, opens no file and reads no flag; what the words mean says
// package terms.
package report
