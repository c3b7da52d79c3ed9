// Package page makes the page: one HTML file with markup, style, scripts and the engine,
// which opens from disk and loads nothing else.
package page

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html"
	"strings"
)

//go:embed web/page.html web/dist
var web embed.FS

// Page is the variable content of the file.
type Page struct {
	Engine Engine

	// Start is the scenario to start from, as a file; "" for the standard one.
	Start string

	// Installable adds the links with which a browser can install the page. They work
	// only from a server; from disk the browser would report errors.
	Installable bool
}

// Engine is a built engine.
type Engine struct {
	Code []byte // WebAssembly, compressed by gzip
	Glue string // Go's script that runs it, which belongs to the version of Go
}

// The marks in the markup that HTML replaces.
const (
	headMark = "<!--HEAD-->"
	bodyMark = "<!--BODY-->"
)

// Files that an installable page loads.
const (
	ManifestName      = "page.webmanifest"
	ServiceWorkerName = "service-worker.js"
	IconName          = "icon.png"
)

// HTML writes the page.
func (p Page) HTML() ([]byte, error) {
	markup, err := web.ReadFile("web/page.html")
	if err != nil {
		return nil, err
	}
	var parts [3]string
	for i, name := range []string{"page.js", "worker.js", "page.css"} {
		text, err := web.ReadFile("web/dist/" + name)
		if err != nil {
			return nil, err
		}
		parts[i] = strings.TrimSpace(string(text))
	}
	script, worker, style := parts[0], parts[1], parts[2]
	for _, text := range []string{script, worker, p.Engine.Glue} {
		if strings.Contains(strings.ToLower(text), "</script") || strings.Contains(text, "<!--") {
			return nil, fmt.Errorf("page: a script contains </script or <!--, which HTML does not allow")
		}
	}
	start, err := json.Marshal(p.Start) // it writes < and > as \u003c and \u003e
	if err != nil {
		return nil, err
	}
	var install string
	if p.Installable {
		install = "navigator.serviceWorker?.register(\"" + ServiceWorkerName + "\");"
	}
	var head, body bytes.Buffer
	fmt.Fprintf(&head, "<meta http-equiv=\"Content-Security-Policy\" content=\"%s\">\n", html.EscapeString(p.policy(script, install)))
	icon := "data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString([]byte(iconSVG()))
	fmt.Fprintf(&head, "<link rel=\"icon\" href=\"%s\">\n", icon)
	if p.Installable {
		fmt.Fprintf(&head, "<link rel=\"manifest\" href=\"%s\">\n<link rel=\"apple-touch-icon\" href=\"%s\">\n", ManifestName, IconName)
	}
	fmt.Fprintf(&head, "<style>%s</style>", style)
	fmt.Fprintf(&body, "<script type=\"application/json\" id=\"start\">%s</script>\n", start)
	fmt.Fprintf(&body, "<script type=\"text/plain\" id=\"worker\">%s\n%s</script>\n", p.Engine.Glue, worker)
	fmt.Fprintf(&body, "<script type=\"text/plain\" id=\"engine\">%s</script>\n", base64.StdEncoding.EncodeToString(p.Engine.Code))
	fmt.Fprintf(&body, "<script>%s</script>", script)
	if install != "" {
		fmt.Fprintf(&body, "\n<script>%s</script>", install)
	}
	made := string(markup)
	for _, part := range []struct {
		mark string
		text []byte
	}{{headMark, head.Bytes()}, {bodyMark, body.Bytes()}} {
		before, after, found := strings.Cut(made, part.mark)
		if !found {
			return nil, fmt.Errorf("page: the markup has no %s", part.mark)
		}
		made = before + string(part.text) + after
	}
	return []byte(made), nil
}

// policy lets the page run its own scripts, WebAssembly and workers made of its own text,
// and nothing else: no request leaves it.
func (p Page) policy(script, install string) string {
	scripts := "'wasm-unsafe-eval' blob: " + hash(script)
	rules := []string{"default-src 'none'", "base-uri 'none'", "form-action 'none'", "style-src 'unsafe-inline'", "img-src data: blob:"}
	workers := "worker-src blob:"
	if p.Installable {
		scripts += " " + hash(install)
		workers += " 'self'"
		rules = append(rules, "manifest-src 'self'")
		rules[4] += " 'self'"
	}
	return strings.Join(append(rules, "script-src "+scripts, workers), "; ")
}

func hash(script string) string {
	sum := sha256.Sum256([]byte(script))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}
