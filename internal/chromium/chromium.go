//go:build !js

// Package chromium opens pages in Chromium for tests, with the network off.
package chromium

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// Tab is a tab that records its page's console messages and requests. An error in it ends
// the test.
type Tab struct {
	testing.TB
	ctx                context.Context
	lock               sync.Mutex
	messages, requests []string // since they were last taken
}

// Path returns the path of Chromium or Chrome. Without one the test is skipped.
func Path(t testing.TB) string {
	t.Helper()
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	t.Skip("NOT CHECKED: there is no Chromium here (Debian: apt-get install chromium)")
	return ""
}

// Open opens an address in a window of a size in pixels.
func Open(t testing.TB, address string, width, height int) *Tab {
	t.Helper()
	allocated, cancel := chromedp.NewExecAllocator(context.Background(), append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(Path(t)), chromedp.NoSandbox, chromedp.Flag("disable-dev-shm-usage", true),
		chromedp.Flag("proxy-server", "127.0.0.1:9"), chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND"))...)
	t.Cleanup(cancel)
	ctx, cancel := chromedp.NewContext(allocated)
	t.Cleanup(cancel)
	ctx, cancel = context.WithTimeout(ctx, 10*time.Minute)
	t.Cleanup(cancel)
	b := &Tab{TB: t, ctx: ctx}
	b.Check(chromedp.Listen(ctx, b.note))
	Call(b, network.Enable, network.EnableParams{})
	Call(b, log.Enable, cdp.Empty{})
	Call(b, runtime.Enable, cdp.Empty{})
	b.Resize(width, height)
	b.Do(chromedp.Navigate(address))
	return b
}

// Resize sets the window's size in pixels.
func (b *Tab) Resize(width, height int) {
	b.Helper()
	b.Do(chromedp.EmulateViewport(int64(width), int64(height)))
}

// Prefer sets a preference of the reader, such as "prefers-color-scheme" to "dark".
func (b *Tab) Prefer(feature, value string) {
	b.Helper()
	Call(b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: feature, Value: value}}})
}

// note records the page's messages and requests.
func (b *Tab) note(event any) {
	b.lock.Lock()
	defer b.lock.Unlock()
	switch e := event.(type) {
	case *log.EventEntryAdded:
		b.messages = append(b.messages, e.Entry.Text)
	case *runtime.EventConsoleAPICalled:
		text := string(e.Type)
		for _, a := range e.Args {
			text += " " + string(a.Value)
		}
		b.messages = append(b.messages, text)
	case *runtime.EventExceptionThrown:
		b.messages = append(b.messages, "exception: "+e.ExceptionDetails.Text)
	case *network.EventRequestWillBeSent:
		b.requests = append(b.requests, e.Request.URL)
	}
}

// Taken returns the page's console messages and the addresses it requested, and clears
// both.
func (b *Tab) Taken() (messages, requests []string) {
	b.lock.Lock()
	defer b.lock.Unlock()
	messages, requests = b.messages, b.requests
	b.messages, b.requests = nil, nil
	return messages, requests
}

// Check ends the test if there is an error, with the page's console messages.
func (b *Tab) Check(err error) {
	b.Helper()
	if err != nil {
		messages, _ := b.Taken()
		b.Fatalf("%v; console: %q", err, messages)
	}
}

// Do runs steps.
func (b *Tab) Do(steps ...chromedp.Action[chromedp.Void]) {
	b.Helper()
	b.Check(chromedp.Do(b.ctx, steps...))
}

// Call runs a command of the browser's protocol.
func Call[P, R any](b *Tab, command cdp.Command[P, R], parameters P) R {
	b.Helper()
	r, err := chromedp.Call(b.ctx, command, parameters)
	b.Check(err)
	return r
}

// Eval evaluates a script and, if that is a promise, waits for its value.
func Eval[T any](b *Tab, script string) T {
	b.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	b.Check(err)
	return v
}

// Picture keeps a picture of the whole page in a folder; "" keeps none.
func (b *Tab) Picture(folder, name string) {
	b.Helper()
	if folder != "" {
		b.picture(chromedp.FullScreenshot(100), filepath.Join(folder, name+".png"))
	}
}

// Window keeps a picture of what the window shows in a file.
func (b *Tab) Window(path string) {
	b.Helper()
	b.picture(chromedp.CaptureScreenshot(), path)
}

func (b *Tab) picture(take chromedp.Action[[]byte], path string) {
	b.Helper()
	shot, err := chromedp.Run(b.ctx, take)
	b.Check(err)
	b.Check(os.WriteFile(path, shot, 0o644))
}
