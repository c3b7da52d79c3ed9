// Package usual has the lanes, balls and bowlers on which studies are tested. They are
// invented.
package usual
