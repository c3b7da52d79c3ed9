// Package lists reports what is built in, for those who choose from it, patterns, bowlers
// and the terms that the outputs use, and the measures of a pattern with its film by board.
package lists
