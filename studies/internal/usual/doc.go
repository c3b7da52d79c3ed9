// Package usual has invented lanes, balls and bowlers for the tests of studies.
package usual
