// Lanesim computes the motion of a bowling ball down an oiled lane.
//
// One file holds one command. A command reads its flags and files, calls the
// library once for each shot, and writes what came out: data to standard
// output or to named files, everything else to standard error.
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
