//go:build !js

package page_test

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/websocket"
)

// firefox is a tab of Firefox, driven by WebDriver BiDi (W3C).
type firefox struct {
	testing.TB
	connection *websocket.Conn
	tab        string
	last       int
	messages   []string // of the console
}

// startFirefox starts Firefox with an empty profile and the network off.
func startFirefox(t testing.TB) *firefox {
	t.Helper()
	var path string
	for _, name := range []string{"firefox-esr", "firefox"} {
		if found, err := exec.LookPath(name); err == nil {
			path = found
			break
		}
	}
	if path == "" {
		t.Skip("NOT CHECKED: there is no Firefox here (Debian: apt-get install firefox-esr)")
	}
	profile := t.TempDir()
	const offline = `user_pref("network.proxy.type", 1);
user_pref("network.proxy.http", "127.0.0.1");
user_pref("network.proxy.http_port", 9);
user_pref("network.proxy.ssl", "127.0.0.1");
user_pref("network.proxy.ssl_port", 9);
`
	if err := os.WriteFile(filepath.Join(profile, "user.js"), []byte(offline), 0o644); err != nil {
		t.Fatal(err)
	}
	const origin = "http://localhost"
	c := exec.Command(path, "--headless", "--no-remote", "--profile", profile, "--remote-debugging-port", "0", "--remote-allow-origins", origin)
	messages, err := c.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		c.Process.Kill()
		c.Wait()
	})
	address := make(chan string)
	go func() {
		for lines := bufio.NewScanner(messages); lines.Scan(); {
			if _, found, ok := strings.Cut(lines.Text(), "WebDriver BiDi listening on "); ok {
				address <- found + "/session"
			}
		}
	}()
	f := &firefox{TB: t}
	select {
	case at := <-address:
		if f.connection, err = websocket.Dial(at, "", origin); err != nil {
			t.Fatal(err)
		}
	case <-time.After(time.Minute):
		t.Fatal("Firefox does not listen")
	}
	t.Cleanup(func() { f.connection.Close() })
	f.call("session.new", object{"capabilities": object{}}, nil)
	f.call("session.subscribe", object{"events": []string{"log.entryAdded"}}, nil)
	var tree struct{ Contexts []struct{ Context string } }
	f.call("browsingContext.getTree", object{}, &tree)
	f.tab = tree.Contexts[0].Context
	return f
}

// call runs a command and decodes its result. It keeps console messages that arrive
// meanwhile.
func (f *firefox) call(method string, parameters object, result any) {
	f.Helper()
	f.last++
	if err := websocket.JSON.Send(f.connection, object{"id": f.last, "method": method, "params": parameters}); err != nil {
		f.Fatal(err)
	}
	f.connection.SetReadDeadline(time.Now().Add(2 * time.Minute))
	for {
		var m struct {
			Type, Method, Error, Message string
			ID                           int
			Params                       struct{ Level, Text string }
			Result                       json.RawMessage
		}
		if err := websocket.JSON.Receive(f.connection, &m); err != nil {
			f.Fatal(err)
		}
		switch {
		case m.Type == "event" && m.Method == "log.entryAdded":
			f.messages = append(f.messages, m.Params.Level+": "+m.Params.Text)
		case m.ID != f.last:
		case m.Type == "error":
			f.Fatalf("%s: %s: %s", method, m.Error, m.Message)
		default:
			if result != nil {
				if err := json.Unmarshal(m.Result, result); err != nil {
					f.Fatal(err)
				}
			}
			return
		}
	}
}

// eval evaluates a script and returns its value as text.
func (f *firefox) eval(script string) string {
	f.Helper()
	var r struct {
		Type             string
		Result           struct{ Value any }
		ExceptionDetails struct{ Text string }
	}
	f.call("script.evaluate", object{"expression": script, "target": object{"context": f.tab}, "awaitPromise": true}, &r)
	if r.Type != "success" {
		f.Fatalf("%s: %s", script, r.ExceptionDetails.Text)
	}
	return fmt.Sprint(r.Result.Value)
}

// wait waits until the value of a script is the wanted text.
func (f *firefox) wait(script, want string) {
	f.Helper()
	got := ""
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if got = f.eval(script); got == want {
			return
		}
	}
	f.Fatalf("%s is %q, not %q; console: %q", script, got, want, f.messages)
}

// In Firefox the page opens from disk with the network off, shows the numbers that the
// engine computes here for the same requests, and writes nothing to the console.
func TestPageInFirefox(t *testing.T) {
	address := made(t, "")
	f := startFirefox(t)
	f.call("browsingContext.navigate", object{"context": f.tab, "url": address, "wait": "complete"}, nil)
	start := standard(t)
	cell := func(row string) string {
		return fmt.Sprintf(`[...document.querySelectorAll('#numbers tr[data-row=%q] td.a, #numbers tr[data-row=%q] td.b')].map((c) => c.textContent).join("|")`, row, row)
	}
	shown := func(state object) {
		t.Helper()
		for row, want := range rowsOf(natively(t, object{"do": "throw", "state": state, "rest": true})) {
			f.wait(cell(row), want[0]+"|"+want[1])
		}
	}
	shown(start)
	f.eval(`(() => { const s = document.getElementById("both-bowler.speed"); s.value = 19; for (const e of ["input", "change"]) s.dispatchEvent(new Event(e, { bubbles: true })); return ""; })()`)
	moved := with(start, object{"bowler.speed": "19 mph"})
	shown(moved)
	f.eval(fmt.Sprintf(`location.hash = %q`, "#"+linkOf(t, with(start, object{"bowler.speed": "17.5 mph", "lane.oil": "flat"}))))
	shown(with(start, object{"bowler.speed": "17.5 mph", "lane.oil": "flat"}))
	f.eval(`(document.getElementById("play").click(), "")`)
	f.wait(`String((window.clocks ??= new Set()).add(document.getElementById("clock").textContent).size > 5)`, "true")
	f.wait(`String(document.getElementById("explanation").textContent.length > 40)`, "true")
	f.wait(`String(document.documentElement.scrollWidth <= innerWidth)`, "true")
	f.eval(`(console.error("heard"), "")`)
	if len(f.messages) != 1 || f.messages[0] != "error: heard" {
		t.Errorf("console: %q", f.messages)
	}
}
