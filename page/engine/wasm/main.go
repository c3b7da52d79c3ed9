//go:build js && wasm

// Command wasm is the engine of the page. It offers one function to the worker that it
// runs in:
//
//	lanesim.answer(text, progress, reply)
//	lanesim.stop()
//
// Answer works on a request and calls progress(what, done, of) on the way and
// reply(text, Float32Array) at the end; stop ends the one that is worked on. Between
// shots the worker's own messages are let in, so that a stop is heard.
package main

import (
	"context"
	"runtime/debug"
	"syscall/js"
	"time"
	"unsafe"

	"lanesim/page/engine"
)

const (
	// pauseEvery is how long the engine works before it lets messages in: a frame of a
	// display with some room.
	pauseEvery = 10 * time.Millisecond

	// progressEvery is how often progress is passed on.
	progressEvery = 100 * time.Millisecond

	// garbage is how much memory may be garbage before it is collected, in percent of what
	// is in use. Collecting holds up a slider, and the engine uses a few MB.
	garbage = 400
)

func main() {
	debug.SetGCPercent(garbage)
	e := engine.New()
	stop := func() {}
	offered := js.Global().Get("Object").New()
	offered.Set("answer", js.FuncOf(func(_ js.Value, arguments []js.Value) any {
		text, progress, reply := arguments[0].String(), arguments[1], arguments[2]
		ctx, cancel := context.WithCancel(context.Background())
		stop = cancel
		go func() {
			defer cancel()
			var last time.Time
			r := e.Answer(&pausing{Context: ctx, last: time.Now()}, []byte(text), func(what string, done, of int) {
				if now := time.Now(); now.Sub(last) >= progressEvery || done == of {
					last = now
					progress.Invoke(what, done, of)
				}
			})
			reply.Invoke(string(r.JSON), array(r.Packed))
		}()
		return nil
	}))
	offered.Set("stop", js.FuncOf(func(js.Value, []js.Value) any {
		stop()
		return nil
	}))
	js.Global().Set("lanesim", offered)
	js.Global().Call("lanesimReady")
	select {}
}

// array copies numbers into an array of the page's.
func array(packed []float32) js.Value {
	bytes := unsafe.Slice((*byte)(unsafe.Pointer(unsafe.SliceData(packed))), 4*len(packed))
	copied := js.Global().Get("Uint8Array").New(len(bytes))
	js.CopyBytesToJS(copied, bytes)
	return js.Global().Get("Float32Array").New(copied.Get("buffer"))
}

// pausing is a context that lets the worker's messages in now and then, when it is asked
// whether it has ended: studies ask that between shots.
type pausing struct {
	context.Context
	last time.Time
}

func (p *pausing) Err() error {
	if time.Since(p.last) > pauseEvery {
		pause()
		p.last = time.Now()
	}
	return p.Context.Err()
}

// channel is one whose messages come after those that wait: a way into the worker's loop
// and back that takes no time of its own, other than a timer.
var channel = js.Global().Get("MessageChannel").New()

var resumed = make(chan struct{}, 1)

func init() {
	channel.Get("port1").Set("onmessage", js.FuncOf(func(js.Value, []js.Value) any {
		resumed <- struct{}{}
		return nil
	}))
}

func pause() {
	channel.Get("port2").Call("postMessage", 0)
	<-resumed
}
