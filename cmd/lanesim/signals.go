package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
)

// endingSignal is a signal that ends the program in an orderly manner. Its exit code is
// 128 plus the signal's number, the convention of shells.
type endingSignal struct {
	os.Signal
	code int
}

// Error makes it the cause of a context's end.
func (s endingSignal) Error() string { return fmt.Sprintf("ended by the signal %v", s.Signal) }

// untilSignal returns a context that ends at the first ending signal. Signals that were
// ignored when the program started, as under nohup, stay ignored.
func untilSignal(parent context.Context) (ctx context.Context, stop func()) {
	ctx, cancel := context.WithCancelCause(parent)
	received := make(chan os.Signal, 1)
	codes := map[os.Signal]int{}
	for _, s := range endingSignals() {
		if !signal.Ignored(s.Signal) {
			codes[s.Signal] = s.code
			signal.Notify(received, s.Signal)
		}
	}
	reportBrokenPipes()
	go func() {
		select {
		case s := <-received:
			cancel(endingSignal{s, codes[s]})
		case <-ctx.Done():
		}
	}()
	return ctx, func() {
		signal.Stop(received)
		cancel(nil)
	}
}
