package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
)

// endingSignal is a signal that ends the program in an orderly manner, with the
// exit code that shells give: 128 and the signal's number.
type endingSignal struct {
	os.Signal
	code int
}

// Error makes it the cause of a context's end.
func (s endingSignal) Error() string { return fmt.Sprintf("ended by the signal %v", s.Signal) }

// untilSignal returns a context that the first of the ending signals ends. Those
// that were ignored when the program began, as nohup has it, stay so.
func untilSignal(parent context.Context) (ctx context.Context, stop func()) {
	ctx, cancel := context.WithCancelCause(parent)
	come := make(chan os.Signal, 1)
	codes := map[os.Signal]int{}
	for _, s := range endingSignals() {
		if !signal.Ignored(s.Signal) {
			codes[s.Signal] = s.code
			signal.Notify(come, s.Signal)
		}
	}
	reportBrokenPipes()
	go func() {
		select {
		case s := <-come:
			cancel(endingSignal{s, codes[s]})
		case <-ctx.Done():
		}
	}()
	return ctx, func() {
		signal.Stop(come)
		cancel(nil)
	}
}
