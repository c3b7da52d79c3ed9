// Package report holds what results are written with for people and for machines.
//
// A result is written once, as [Columns]: each [Column] of a thing has a key, a label, a
// unit, digits, a meaning and how it is got. JSON, CSV and tables are made of the same
// columns, and so are the lists of what can be chosen. Tables for people have the
// digits that mean something; JSON and CSV keep all of a number, in the shortest form
// that reads back to it. What does not exist is null in JSON, an empty cell in CSV and
// [Absent] in a table. Values come in SI and go out in the unit that the column's key
// ends in. What people read is a [Document].
//
// The results stand in packages below, with their sentences, warnings and cautions:
// thrown has shots and comparisons of them; studied what studies of many shots find;
// measured what was measured of deliveries and fitted to them; layouts balls laid out;
// lists what is built in; terms says what the words mean. They call no study, open no
// file and read no flag.
package report
