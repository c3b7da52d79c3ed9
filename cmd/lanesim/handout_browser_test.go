//go:build !js

package main

import (
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
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

// opened is a handout in a browser.
type opened struct {
	context.Context
	testing.TB
	lock               sync.Mutex
	messages, requests []string // that came since they were last taken
}

// taken returns what came, and forgets it.
func (o *opened) taken() (messages, requests []string) {
	o.lock.Lock()
	defer o.lock.Unlock()
	messages, requests = o.messages, o.requests
	o.messages, o.requests = nil, nil
	return messages, requests
}

// evaluate runs a script in the page.
func evaluate[T any](o *opened, script string) T {
	o.Helper()
	v, err := chromedp.Run(o.Context, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		o.Fatal(err)
	}
	return v
}

// call gives the browser a command.
func call[P, R any](o *opened, command cdp.Command[P, R], parameters P) {
	o.Helper()
	if _, err := chromedp.Call(o.Context, command, parameters); err != nil {
		o.Fatal(err)
	}
}

// openFile opens a file in Chromium with the network off.
func openFile(t testing.TB, path string) *opened {
	t.Helper()
	var chromium string
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			chromium = found
			break
		}
	}
	if chromium == "" {
		t.Skip("NOT CHECKED: there is no Chromium here (Debian: apt-get install chromium)")
	}
	allocated, cancel := chromedp.NewExecAllocator(context.Background(), append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(chromium), chromedp.NoSandbox, chromedp.Flag("disable-dev-shm-usage", true),
		chromedp.Flag("proxy-server", "127.0.0.1:9"), chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND"))...)
	t.Cleanup(cancel)
	ctx, cancel := chromedp.NewContext(allocated)
	t.Cleanup(cancel)
	ctx, cancel = context.WithTimeout(ctx, 10*time.Minute)
	t.Cleanup(cancel)
	o := &opened{Context: ctx, TB: t}
	if err := chromedp.Listen(ctx, func(event any) {
		o.lock.Lock()
		defer o.lock.Unlock()
		switch e := event.(type) {
		case *log.EventEntryAdded:
			o.messages = append(o.messages, e.Entry.Text)
		case *runtime.EventConsoleAPICalled:
			o.messages = append(o.messages, string(e.Type))
		case *runtime.EventExceptionThrown:
			o.messages = append(o.messages, "exception: "+e.ExceptionDetails.Text)
		case *network.EventRequestWillBeSent:
			o.requests = append(o.requests, e.Request.URL)
		}
	}); err != nil {
		t.Fatal(err)
	}
	call(o, network.Enable, network.EnableParams{})
	call(o, log.Enable, cdp.Empty{})
	call(o, runtime.Enable, cdp.Empty{})
	absolute, err := filepath.Abs(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := chromedp.Do(ctx, chromedp.Navigate("file://"+absolute)); err != nil {
		t.Fatal(err)
	}
	return o
}

// Handouts are laid out for phones and desktops, in light and dark, and their balls roll.
// LANESIM_HANDOUT_PICTURES names a folder for pictures of them, and LANESIM_AXE a file of
// axe-core with which they are checked, too.
func TestHandoutsInABrowser(t *testing.T) {
	folder := t.TempDir()
	var o *opened
	for _, arguments := range [][]string{
		{"throw", "low-flare.yaml"}, {"throw", "house-and-flat.yaml"}, {"compare", "compare-flare.yaml", "--assumed", "0"}, {"layout", "drill-symmetric.yaml"},
		{"aim", "aim-house.yaml", "--laydown", "24:26", "--shots", "40"}, {"spread", "spread-two-balls.yaml", "--shots", "60"},
		{"wear", "wear-two-layouts.yaml", "--shots", "24"}, {"carry", "carry-light-and-flush.yaml", "--racks", "10"}, {"spares", "spare-ten-pin.yaml", "--leaves", "10", "--shots", "10"},
	} {
		name := arguments[0] + "-" + strings.TrimSuffix(arguments[1], ".yaml")
		path := filepath.Join(folder, name+".html")
		arguments[1] = filepath.Join(examples, arguments[1])
		good(t, "", append(arguments, "-q", "-o", path)...)
		if o == nil {
			o = openFile(t, path)
		} else if err := chromedp.Do(o.Context, chromedp.Navigate("file://"+path)); err != nil {
			t.Fatal(err)
		}
		for _, view := range []struct {
			name          string
			width, height int64
			dark          string
		}{{"phone", 360, 740, "light"}, {"desktop", 1280, 800, "light"}, {"dark", 390, 844, "dark"}, {"dark-desktop", 1280, 800, "dark"}} {
			if err := chromedp.Do(o.Context, chromedp.EmulateViewport(view.width, view.height)); err != nil {
				t.Fatal(err)
			}
			call(o, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: view.dark}}})
			if wide := evaluate[int64](o, `document.documentElement.scrollWidth`); wide > view.width {
				t.Errorf("%s on %s: is %d pixels wide", name, view.name, wide)
			}
			if shown := evaluate[int](o, `[...document.querySelectorAll("figure")].filter(f => [...f.querySelectorAll("svg[role=img]")].filter(s => s.getBoundingClientRect().width > 0).length !== 1).length`); shown != 0 {
				t.Errorf("%s on %s: %d figures show not one picture", name, view.name, shown)
			}
			if small := evaluate[string](o, `[...document.querySelectorAll("button, select, input")].filter(c => c.getBoundingClientRect().height < 44).map(c => c.id).join(" ")`); small != "" {
				t.Errorf("%s on %s: %s are small", name, view.name, small)
			}
			o.checkAccessibility(name + " on " + view.name)
			if view.name == "phone" {
				evaluate[string](o, `document.querySelector("a.term").click() ?? ""`)
				o.checkAccessibility(name + " on " + view.name + ", with a term explained")
				o.keepPicture(name + "-term")
				evaluate[string](o, `document.getElementById("explained").hidePopover() ?? ""`)
			}
			o.keepPicture(name + "-" + view.name)
		}
		if evaluate[bool](o, `document.getElementById("playback") !== null`) {
			o.checkPlayback(name)
		}
		o.checkTerm(name)
		messages, requests := o.taken()
		if len(messages) > 0 {
			t.Errorf("%s: the console has %q", name, messages)
		}
		if other := slices.DeleteFunc(requests, func(r string) bool { return strings.HasPrefix(r, "data:image/png;") }); len(other) != 1 {
			t.Errorf("%s: asks for %q", name, other)
		}
	}
}

// keepPicture keeps a picture of the page in the folder that was named, if one was.
func (o *opened) keepPicture(name string) {
	folder := os.Getenv("LANESIM_HANDOUT_PICTURES")
	if folder == "" {
		return
	}
	shot, err := chromedp.Run(o.Context, chromedp.FullScreenshot(100))
	if err != nil {
		o.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, name+".png"), shot, 0o644); err != nil {
		o.Fatal(err)
	}
}

// checkPlayback moves the time to the start, plays, and reads where the balls are.
func (o *opened) checkPlayback(name string) {
	const cells = `[...document.querySelectorAll("#where tbody tr")].map(r => [...r.querySelectorAll("td.number")].map(c => c.textContent).join("|")).join("\n")`
	end := evaluate[string](o, cells)
	places := `[...document.querySelectorAll("#playback svg[role=img] > g")].map(g => g.getAttribute("transform")).join("\n")`
	last := evaluate[string](o, places)
	start := evaluate[string](o, `(() => { const t = document.getElementById("time"); t.value = 0; t.dispatchEvent(new Event("input")); return document.getElementById("clock").textContent; })()`)
	if start != "0.00 s" {
		o.Errorf("%s: the clock begins with %s", name, start)
	}
	if first := evaluate[string](o, cells); first == end || !strings.Contains(first, "0.0|") {
		o.Errorf("%s: at the start the balls are at %q, at the end at %q", name, first, end)
	}
	if evaluate[string](o, places) == last {
		o.Errorf("%s: the balls do not move in the picture", name)
	}
	moved := evaluate[string](o, `(async () => {
		document.getElementById("play").click();
		const words = document.getElementById("play").textContent;
		for (let i = 0; i < 200 && document.getElementById("clock").textContent === "0.00 s"; i++) await new Promise(r => setTimeout(r, 20));
		document.getElementById("play").click();
		return words + " " + document.getElementById("clock").textContent + " " + document.getElementById("play").textContent;
	})()`)
	if !strings.HasPrefix(moved, "Pause ") || !strings.HasSuffix(moved, " Play") || strings.Contains(moved, " 0.00 s") {
		o.Errorf("%s: playing gives %q", name, moved)
	}
	back := evaluate[string](o, `(() => { const t = document.getElementById("time"); t.value = t.max; t.dispatchEvent(new Event("input")); })() ?? ""`)
	if again := evaluate[string](o, cells); again != end {
		o.Errorf("%s: at the end the balls are at %q, before at %q%s", name, again, end, back)
	}
}

// checkTerm opens the explanation of the first term and closes it.
func (o *opened) checkTerm(name string) {
	got := evaluate[string](o, `(() => {
		const link = document.querySelector("a.term"), card = document.getElementById("explained");
		link.click();
		const shown = card.matches(":popover-open") + "|" + card.innerText.includes(document.querySelector(link.hash + " + dd").textContent.trim().slice(0, 40));
		card.querySelector("button").click();
		return shown + "|" + card.matches(":popover-open") + "|" + location.hash;
	})()`)
	if got != "true|true|false|" {
		o.Errorf("%s: a term's explanation gives %q", name, got)
	}
}

// checkAccessibility runs axe-core, if there is one.
func (o *opened) checkAccessibility(name string) {
	path := os.Getenv("LANESIM_AXE")
	if path == "" {
		return
	}
	script, err := os.ReadFile(path)
	if err != nil {
		o.Fatal(err)
	}
	evaluate[bool](o, string(script)+"\n;true")
	found := evaluate[string](o, `axe.run(document, {resultTypes: ["violations"]}).then(r => JSON.stringify(r.violations.map(v => ({id: v.id, impact: v.impact, help: v.help, nodes: v.nodes.slice(0, 3).map(n => n.html.slice(0, 160) + " " + (n.any[0] || {}).message)}))))`)
	var violations []struct {
		ID, Impact, Help string
		Nodes            []string
	}
	if err := json.Unmarshal([]byte(found), &violations); err != nil {
		o.Fatal(err)
	}
	for _, v := range violations {
		o.Errorf("%s: %s, %s: %s\n%s", name, v.ID, v.Impact, v.Help, strings.Join(v.Nodes, "\n"))
	}
}
