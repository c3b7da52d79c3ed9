//go:build js && wasm

// Command wasm is the engine of the page. It offers two functions to the worker that runs it:
//
//	lanesim.answer(text, progress, reply)
//	lanesim.stop()
//
// answer answers a request; it calls progress(what, done, of) during the work and
// reply(text, Float32Array) at the end. stop ends the present request. Between shots the
// worker can receive messages, so that a stop arrives.
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
	// pauseEvery is how long the engine works before the worker can receive messages: a
	// little less than a frame of a display.
	pauseEvery = 10 * time.Millisecond

	// progressEvery is the time between reports of progress.
	progressEvery = 100 * time.Millisecond

	// garbage is the memory that may be garbage before it is collected, in percent of the
	// memory in use. Collecting delays a slider, and the engine uses only a few MB.
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

// array copies numbers into a JavaScript array.
func array(packed []float32) js.Value {
	bytes := unsafe.Slice((*byte)(unsafe.Pointer(unsafe.SliceData(packed))), 4*len(packed))
	copied := js.Global().Get("Uint8Array").New(len(bytes))
	js.CopyBytesToJS(copied, bytes)
	return js.Global().Get("Float32Array").New(copied.Get("buffer"))
}

// pausing is a context whose Err lets the worker receive messages now and then: studies call
// it between shots.
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

// channel is used to return to the worker's event loop: its message arrives after the waiting
// ones and, unlike a timer, without delay.
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
