package main

import (
	"context"
	"errors"
	"io"
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"lanesim/page"
)

// The page is served at the loopback address, with all files that it requests, until the
// program is interrupted.
func TestPageIsServedUntilInterrupted(t *testing.T) {
	reader, writer := io.Pipe()
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	p := &program{err: writer, environment: func(string) string { return "" }}
	done := make(chan error, 1)
	go func() {
		done <- p.servePage(ctx, page.Page{Engine: page.Engine{Code: []byte("engine")}, Installable: true}, pageOptions{})
	}()
	line := make([]byte, 200)
	n, err := reader.Read(line)
	if err != nil {
		t.Fatal(err)
	}
	address := regexp.MustCompile(`http://127\.0\.0\.1:\d+/`).FindString(string(line[:n]))
	if address == "" {
		t.Fatalf("the program says %q", line[:n])
	}
	for path, want := range map[string]string{"": "text/html", page.ManifestName: "manifest", page.ServiceWorkerName: "javascript", page.IconName: "image/png", "other": "404"} {
		r, err := http.Get(address + path)
		if err != nil {
			t.Fatal(err)
		}
		r.Body.Close()
		if got := r.Header.Get("Content-Type") + " " + r.Status; !strings.Contains(got, want) {
			t.Errorf("%q: %s", path, got)
		}
	}
	cancel()
	select {
	case err := <-done:
		if !errors.Is(err, context.Canceled) {
			t.Errorf("error %v", err)
		}
	case <-time.After(10 * time.Second):
		t.Error("the program does not end")
	}
}
