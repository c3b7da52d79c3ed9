package main

// endingSignals is empty: no signal reaches a program in a browser or in node.
func endingSignals() []endingSignal { return nil }

func reportBrokenPipes() {}
