// Lanesim computes the motion of a bowling ball down an oiled lane.
//
// Each command has a file. A command reads its flags and files, calls the library
// and writes the results: data to standard output or to named files, everything
// else to standard error.
package main

import (
	"context"
	"os"
)

func main() { os.Exit(run()) }

// run runs the program with the command line of the process and returns its
// exit code.
func run() int {
	ctx, stop := untilSignal(context.Background())
	defer stop()
	p := &program{in: os.Stdin, out: os.Stdout, err: os.Stderr, environment: os.Getenv}
	return p.run(ctx, os.Args[1:])
}
