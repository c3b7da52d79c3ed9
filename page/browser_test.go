//go:build !js

package page_test

import (
	"context"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"lanesim/internal/chromium"
	"lanesim/page"
)

// builtEngine builds the engine once, or takes it from the program's cache. As a build
// takes about a minute, only LANESIM_PAGE=1 runs it.
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

// made writes a page to a file and returns its address.
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

// browser is a browser tab that shows the page.
type browser struct{ *chromium.Tab }

// open opens a page with the network off in a window of the given size in pixels.
func open(t testing.TB, address string, width, height int) *browser {
	t.Helper()
	return &browser{chromium.Open(t, address, width, height)}
}

// eval evaluates a script and waits for it if it is a promise.
func eval[T any](b *browser, script string) T {
	b.Helper()
	return chromium.Eval[T](b.Tab, script)
}
