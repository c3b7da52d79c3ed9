//go:build !js

package page_test

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"lanesim/page"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// builtEngine builds the engine once, or takes it from where the program keeps it. As building takes
// about a minute, it is left to LANESIM_PAGE=1.
func builtEngine(t testing.TB) page.Engine {
	t.Helper()
	if os.Getenv("LANESIM_PAGE") == "" {
		t.Skip("NOT CHECKED: the page with its engine; LANESIM_PAGE=1 does")
	}
	code, err := built()
	if err != nil {
		t.Fatal(err)
	}
	return code
}

var built = sync.OnceValues(func() (page.Engine, error) {
	source, err := page.FindSource(".")
	if err != nil {
		return page.Engine{}, err
	}
	b := page.Builder{Source: source}
	if cache, err := os.UserCacheDir(); err == nil {
		b.Cache = filepath.Join(cache, "lanesim")
	}
	return b.Build(context.Background())
})

// made writes a page and returns its address.
func made(t testing.TB, start string) string {
	t.Helper()
	text, err := page.Page{Engine: builtEngine(t), Start: start}.HTML()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "page.html")
	if err := os.WriteFile(path, text, 0o644); err != nil {
		t.Fatal(err)
	}
	return "file://" + path
}

// browser is a tab that notes what must not happen: messages on the console and requests.
type browser struct {
	ctx context.Context
	testing.TB
	lock     sync.Mutex
	messages []string
	requests []string
}

// chromium is where Debian's Chromium lies, or any other.
func chromium(t testing.TB) string {
	t.Helper()
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	t.Skip("NOT CHECKED: there is no Chromium here (Debian: apt-get install chromium)")
	return ""
}

// open opens a page with the network off in a window of a size.
func open(t testing.TB, address string, width, height int) *browser {
	t.Helper()
	allocated, cancel := chromedp.NewExecAllocator(context.Background(), append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(chromium(t)), chromedp.NoSandbox, chromedp.Flag("disable-dev-shm-usage", true),
		chromedp.Flag("proxy-server", "127.0.0.1:9"), chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND"))...)
	t.Cleanup(cancel)
	ctx, cancel := chromedp.NewContext(allocated)
	t.Cleanup(cancel)
	ctx, cancel = context.WithTimeout(ctx, 3*time.Minute)
	t.Cleanup(cancel)
	b := &browser{ctx: ctx, TB: t}
	if err := chromedp.Listen(ctx, b.note); err != nil {
		t.Fatal(err)
	}
	call(b, network.Enable, network.EnableParams{})
	call(b, log.Enable, cdp.Empty{})
	call(b, runtime.Enable, cdp.Empty{})
	b.do(chromedp.EmulateViewport(int64(width), int64(height)), chromedp.Navigate(address))
	return b
}

// call runs a command of the browser's protocol.
func call[P, R any](b *browser, command cdp.Command[P, R], parameters P) R {
	b.Helper()
	r, err := chromedp.Call(b.ctx, command, parameters)
	b.check(err)
	return r
}

// note keeps what the page says and asks for.
func (b *browser) note(event any) {
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

func (b *browser) do(steps ...chromedp.Action[chromedp.Void]) {
	b.Helper()
	b.check(chromedp.Do(b.ctx, steps...))
}

func (b *browser) check(err error) {
	b.Helper()
	if err != nil {
		b.lock.Lock()
		defer b.lock.Unlock()
		b.Fatalf("%v; console: %q", err, b.messages)
	}
}

// eval evaluates a script, a promise included.
func eval[T any](b *browser, script string) T {
	b.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	b.check(err)
	return v
}

// picture keeps a picture in the folder that LANESIM_PAGE_PICTURES names.
func (b *browser) picture(name string) {
	b.Helper()
	folder := os.Getenv("LANESIM_PAGE_PICTURES")
	if folder == "" {
		return
	}
	shot, err := chromedp.Run(b.ctx, chromedp.FullScreenshot(100))
	b.check(err)
	if err := os.WriteFile(filepath.Join(folder, name+".png"), shot, 0o644); err != nil {
		b.Fatal(err)
	}
}
