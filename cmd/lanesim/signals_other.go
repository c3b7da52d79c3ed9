//go:build !unix && !js

package main

import "os"

// endingSignals are the signals that every system has.
func endingSignals() []endingSignal { return []endingSignal{{os.Interrupt, exitInterrupted}} }

func reportBrokenPipes() {}
