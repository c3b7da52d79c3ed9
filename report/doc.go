// Package report writes results for people and for machines.
//
// A result is defined once, as [Columns]: each [Column] has a key, a label, a unit, digits, a meaning and the
// function that returns its value. JSON, CSV, tables and the lists of columns are made from the same columns.
// Tables for people have meaningful digits; JSON and CSV have all digits, in the shortest form that reads
// back to the same number. A value that does not exist is null in JSON, an empty cell in CSV and [Absent] in
// a table. Values are SI in the program and are written in the unit at the end of the column's key. Results
// for people are a [Document].
//
// The packages below have the results with their sentences, warnings and cautions: thrown has shots and
// comparisons; studied the results of studies of many shots; measured measurements and fits; layouts balls
// with their layouts; lists the built-in patterns and bowlers; terms the meaning of words. They run no study,
// open no file and read no flag.
package report
