package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"strconv"
	"time"

	"lanesim/page"
)

// servePage serves a page at the loopback address until the context ends.
func (p *program) servePage(ctx context.Context, made page.Page, o pageOptions) error {
	site, err := made.Site()
	if err != nil {
		return err
	}
	var of net.ListenConfig
	listener, err := of.Listen(ctx, "tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(o.port)))
	if err != nil {
		return fmt.Errorf("%w: --port gives another port", err)
	}
	address := "http://" + listener.Addr().String() + "/"
	server := &http.Server{ReadHeaderTimeout: 10 * time.Second, Handler: http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		file, known := site[r.URL.Path]
		switch {
		case !known:
			http.NotFound(w, r)
		case r.Method != http.MethodGet && r.Method != http.MethodHead:
			http.Error(w, "only GET", http.StatusMethodNotAllowed)
		default:
			w.Header().Set("Content-Type", file.Type)
			w.Header().Set("Cache-Control", "no-cache")
			w.Header().Set("X-Content-Type-Options", "nosniff")
			w.Write(file.Content)
		}
	})}
	done := make(chan error, 1)
	go func() { done <- server.Serve(listener) }()
	if !p.common.quiet {
		fmt.Fprintf(p.err, "the page is at %s (interrupt to end)\n", address)
	}
	if o.open {
		if err := openInBrowser(ctx, address); err != nil {
			p.warn(err.Error())
		}
	}
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
		closing, cancel := context.WithTimeout(context.WithoutCancel(ctx), time.Second)
		defer cancel()
		return errors.Join(ctx.Err(), server.Shutdown(closing))
	}
}
