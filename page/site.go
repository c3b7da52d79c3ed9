package page

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"

	"lanesim/internal/theme"
)

// File is a file for a server, with its media type.
type File struct {
	Type    string
	Content []byte
}

// Site returns an installable page with the files that it loads, by path.
func (p Page) Site() (map[string]File, error) {
	p.Installable = true
	html, err := p.HTML()
	if err != nil {
		return nil, err
	}
	site := map[string]File{"/": {"text/html; charset=utf-8", html}}
	type icon struct {
		Source  string `json:"src"`
		Sizes   string `json:"sizes"`
		Type    string `json:"type"`
		Purpose string `json:"purpose"`
	}
	var icons []icon
	for _, one := range []struct {
		name string
		size int
	}{{IconName, 192}, {"icon-512.png", 512}} {
		image, err := Icon(one.size)
		if err != nil {
			return nil, err
		}
		site["/"+one.name] = File{"image/png", image}
		icons = append(icons, icon{one.name, fmt.Sprintf("%dx%[1]d", one.size), "image/png", "any maskable"})
	}
	manifest, err := json.MarshalIndent(map[string]any{
		"name": "lanesim", "short_name": "lanesim", "description": "Two shots of a bowling ball, side by side",
		"start_url": "./", "scope": "./", "display": "standalone", "background_color": theme.Hex(theme.IconGround), "theme_color": theme.Hex(theme.IconGround), "icons": icons,
	}, "", "  ")
	if err != nil {
		return nil, err
	}
	site["/"+ManifestName] = File{"application/manifest+json", manifest}
	sum := sha256.Sum256(html)
	site["/"+ServiceWorkerName] = File{"text/javascript; charset=utf-8", []byte(fmt.Sprintf(serviceWorker, hex.EncodeToString(sum[:8]), ManifestName, IconName))}
	return site, nil
}

// serviceWorker stores the page, so that it opens without the server. It is replaced when the
// server has a newer one.
const serviceWorker = `const name = "page-%s";
const files = ["./", "%s", "%s", "icon-512.png"];
self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(name).then((cache) => cache.addAll(files)).then(() => self.skipWaiting()));
});
self.addEventListener("activate", (event) => {
  event.waitUntil(caches.keys()
    .then((all) => Promise.all(all.filter((other) => other !== name).map((other) => caches.delete(other))))
    .then(() => self.clients.claim()));
});
self.addEventListener("fetch", (event) => {
  event.respondWith(fetch(event.request).catch(() => caches.match(event.request, { ignoreSearch: true })));
});
`
