//go:build unix

package main

import (
	"os"
	"os/signal"
	"syscall"
)

func endingSignals() []endingSignal {
	return []endingSignal{{os.Interrupt, exitInterrupted}, {syscall.SIGTERM, exitTerminated}, {syscall.SIGHUP, exitHungUp}}
}

// reportBrokenPipes makes writing to a closed pipe an error instead of the end of the
// process, which would leave temporary files behind.
func reportBrokenPipes() { signal.Ignore(syscall.SIGPIPE) }
