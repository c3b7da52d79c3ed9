//go:build !js

package page_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image/png"
	"regexp"
	"strings"
	"testing"

	"lanesim/page"
)

// An installable page requests only files of its site. A page on disk requests nothing.
func TestSiteHasWhatItAsksFor(t *testing.T) {
	made := page.Page{Engine: page.Engine{Code: []byte("engine"), Glue: "// glue"}}
	disk, err := made.HTML()
	if err != nil {
		t.Fatal(err)
	}
	asks := regexp.MustCompile(`(?:href|src)="([^"]+)"|register\("([^"]+)"`)
	for _, m := range asks.FindAllStringSubmatch(string(disk), -1) {
		if !strings.HasPrefix(m[1], "data:") && !strings.HasPrefix(m[1], "#") {
			t.Errorf("a page on disk asks for %s", m[1]+m[2])
		}
	}
	site, err := made.Site()
	if err != nil {
		t.Fatal(err)
	}
	asked := 0
	for _, m := range asks.FindAllStringSubmatch(string(site["/"].Content), -1) {
		name := m[1] + m[2]
		if strings.HasPrefix(name, "data:") || strings.HasPrefix(name, "#") {
			continue
		}
		asked++
		if _, there := site["/"+name]; !there {
			t.Errorf("the site lacks %s", name)
		}
	}
	var manifest struct {
		Name  string
		Icons []struct{ Src, Sizes string }
	}
	if err := json.Unmarshal(site["/"+page.ManifestName].Content, &manifest); err != nil || manifest.Name == "" {
		t.Fatal(manifest, err)
	}
	for _, icon := range manifest.Icons {
		image, err := png.Decode(bytes.NewReader(site["/"+icon.Src].Content))
		if err != nil {
			t.Fatal(err)
		}
		if size := image.Bounds().Size(); icon.Sizes != fmt.Sprintf("%dx%d", size.X, size.Y) || size.X < 192 {
			t.Errorf("%s is %v", icon.Src, size)
		}
		asked++
	}
	worker := string(site["/"+page.ServiceWorkerName].Content)
	for path := range site {
		if name := strings.TrimPrefix(path, "/"); name != "" && name != page.ServiceWorkerName && !strings.Contains(worker, name) {
			t.Errorf("the service worker does not keep %s", path)
		}
	}
	if asked < 4 {
		t.Errorf("%d files asked for", asked)
	}
}
