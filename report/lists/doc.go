// Package lists reports the built-in patterns and bowlers, the terms that outputs use, and the measures of a
// pattern with its film by board.
package lists
