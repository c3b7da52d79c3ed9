// Package seed fixes the seed of the random draws of tests by rapid, so that a
// test run on the same sources has the same result everywhere. A package's tests
// import it for this effect alone. RAPID_SEED=$RANDOM draws anew.
package seed

import (
	"flag"

	_ "pgregory.net/rapid" // has the flag
)

func init() {
	if seed := flag.Lookup("rapid.seed"); seed.Value.String() == "0" {
		if err := seed.Value.Set("1"); err != nil {
			panic(err)
		}
	}
}
