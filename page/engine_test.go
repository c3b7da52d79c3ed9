//go:build !js

package page_test

import (
	"bytes"
	"context"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"testing"

	"lanesim/page"
)

// Limits for the page in bytes, so that it loads on a phone over a slow network.
const (
	mostEngine = 2_500_000 // compressed
	mostPage   = 4_000_000
)

func TestSizes(t *testing.T) {
	code := builtEngine(t)
	text, err := page.Page{Engine: code}.HTML()
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("engine %d bytes compressed, page %d", len(code.Code), len(text))
	if len(code.Code) > mostEngine {
		t.Errorf("the engine has %d bytes compressed, more than %d", len(code.Code), mostEngine)
	}
	if len(text) > mostPage {
		t.Errorf("the page has %d bytes, more than %d", len(text), mostPage)
	}
}

// neverLinked are packages that the engine must not contain, with the reasons.
var neverLinked = map[string]string{
	"gonum.org/v1/plot":                "pictures are drawn on the page's canvas",
	"codeberg.org/go-pdf/fpdf":         "the page prints by the browser",
	"codeberg.org/go-fonts/liberation": "the page uses the system's fonts",
	"github.com/parquet-go/parquet-go": "rows of sweeps are not made here",
	"github.com/spf13/cobra":           "there is no command line",
	"github.com/spf13/pflag":           "there is no command line",
	"github.com/evanw/esbuild":         "a tool for developers",
	"net":                              "no request leaves the page",
	"net/http":                         "no request leaves the page",
	"crypto/tls":                       "no request leaves the page",
	"os/exec":                          "a browser runs no programs",
	"os/signal":                        "a browser sends no signals",
	"image/png":                        "pictures are drawn on the page's canvas",
	"lanesim/plots":                    "pictures are drawn on the page's canvas",
	"lanesim/rows":                     "rows of sweeps are not made here",
	"lanesim/page":                     "it makes the page, and runs the go command",
	"lanesim/validation":               "the program checks itself",
}

func TestEngineLinksOnlyWhatItNeeds(t *testing.T) {
	c := exec.Command("go", "list", "-deps", "./engine/wasm")
	c.Env = append(c.Environ(), "GOOS=js", "GOARCH=wasm")
	out, err := c.Output()
	if err != nil {
		t.Fatal(err)
	}
	list := strings.Fields(string(out))
	if !slices.Contains(list, "lanesim/physics") || !slices.Contains(list, "lanesim/studies/wear") || !slices.Contains(list, "lanesim/pins") {
		t.Fatalf("the engine misses the physics, wear or the pins: %q", list)
	}
	for _, name := range list {
		for never, why := range neverLinked {
			if name == never || strings.HasPrefix(name, never+"/") && strings.Contains(never, ".") {
				t.Errorf("the engine links %s: %s", name, why)
			}
		}
	}
}

// The page contains no address outside of itself.
func TestNoOutsideAddress(t *testing.T) {
	text, err := page.Page{Engine: page.Engine{Code: []byte("engine"), Glue: "// glue"}}.HTML()
	if err != nil {
		t.Fatal(err)
	}
	for _, address := range regexp.MustCompile(`(?i)\b(https?|wss?|ftp):[^\s"'<>)]*`).FindAllString(string(text), -1) {
		if address != "http://www.w3.org/2000/svg" { // a namespace, never requested
			t.Errorf("the page names %s", address)
		}
	}
	for _, want := range []string{"default-src 'none'", "base-uri 'none'"} {
		if !bytes.Contains(text, []byte(strings.ReplaceAll(want, "'", "&#39;"))) {
			t.Errorf("the policy lacks %q", want)
		}
	}
}

// A start that contains markup stays text.
func TestStartCannotEndItsScript(t *testing.T) {
	text, err := page.Page{Engine: page.Engine{Code: []byte("engine")}, Start: "title: </script><script>alert(1)</script>\n"}.HTML()
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(text, []byte("alert(1)</script>")) {
		t.Error("the start's text ends its script")
	}
}

// An interrupted build returns the context's error.
func TestBuildIsInterrupted(t *testing.T) {
	source, err := page.FindSource(".")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := (page.Builder{Source: source}).Build(ctx); err != context.Canceled {
		t.Errorf("error %v", err)
	}
}

func TestSourceIsFound(t *testing.T) {
	if root, err := page.FindSource("engine/wasm"); err != nil || !strings.HasPrefix(root, "/") {
		t.Errorf("%q, %v", root, err)
	}
	if _, err := page.FindSource(t.TempDir()); err == nil || !strings.Contains(err.Error(), "--source") {
		t.Errorf("outside of the source: %v", err)
	}
}
