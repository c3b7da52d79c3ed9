package main

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"lanesim/report"
	"lanesim/report/thrown"
)

// handoutRuns returns runs that write a handout of each kind from every example that the
// command takes. Settings that change the size of a handout have their defaults; the
// tolerance is coarser.
func handoutRuns(t testing.TB) [][]string {
	var runs [][]string
	for _, file := range exampleFiles(t) {
		name := filepath.Base(file)
		runs = append(runs, []string{"throw", file}, []string{"layout", file})
		for prefix, more := range map[string][]string{
			"compare": {"--assumed", "0"}, "aim": {"--laydown", "24:26", "--shots", "40"}, "spread": {"--shots", "60"}, "wear": {"--shots", "24"}, "carry": {"--racks", "4"},
		} {
			if strings.HasPrefix(name, prefix) {
				runs = append(runs, append([]string{prefix, file}, more...))
			}
		}
		if strings.HasPrefix(name, "spare") {
			runs = append(runs, []string{"spares", file, "--shots", "4", "--leaves", "10"}, []string{"carry", file, "--racks", "4"})
		}
	}
	seek := []string{"seek", filepath.Join(examples, "seek-line.yaml"), "--points", "20", "--others", "1", "--assumed", "1"}
	plan := []string{"wear", filepath.Join(examples, "wear-two-layouts.yaml"), "--plan", "alone", "--shots", "4", "--limit", "4", "--block", "2", "--sessions", "2"}
	bag := []string{"bag", filepath.Join(examples, "spread-two-balls.yaml"), "--size", "1", "--shots", "1", "--farthest", "1"}
	short := strings.Fields(withoutFilm)
	return append(runs, append(plan, short...), append(bag, short...), seek)
}

func TestEveryHandoutIsSound(t *testing.T) {
	t.Parallel()
	kinds := map[string]int{}
	without := 0 // runs without a layout
	left := 0
	for i, run := range handoutRuns(t) {
		if (run[0] == "throw" || run[0] == "layout") && i%3 > 0 && !inFull() {
			left++
			continue
		}
		out := filepath.Join(t.TempDir(), "handout.html")
		code, _, problems := lanesim(t, "", append(run, "--tolerance", "1e-4", "-q", "-o", out)...)
		if code == exitUsage && run[0] == "layout" && strings.Contains(problems, "aims at pins") {
			without++
			continue
		}
		if code != exitDone {
			t.Errorf("lanesim %s: exit code %d\n%s", strings.Join(run, " "), code, problems)
			continue
		}
		text := contents(t, out)
		const most = 300_000
		if len(text) > most {
			t.Errorf("lanesim %s: %d bytes", strings.Join(run, " "), len(text))
		}
		for _, wrong := range handoutFaults(t, string(text)) {
			t.Errorf("lanesim %s: %s", strings.Join(run, " "), wrong)
		}
		kinds[run[0]]++
	}
	if without > 1 {
		t.Errorf("%d examples have no layout", without)
	}
	for _, command := range strings.Fields("throw compare layout aim spread wear carry spares bag seek") {
		if kinds[command] == 0 {
			t.Errorf("there is no handout of %s", command)
		}
	}
	t.Logf("%v; %d throws and layouts with LANESIM_FULL=1 alone", kinds, left)
}

// textOf returns the text in a node, without scripts and styles.
func textOf(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode && d.Parent.DataAtom != atom.Script && d.Parent.DataAtom != atom.Style {
			b.WriteString(d.Data)
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

func attribute(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

// within reports whether a node has an ancestor of a kind.
func within(n *html.Node, kind atom.Atom) bool {
	for p := range n.Ancestors() {
		if p.DataAtom == kind {
			return true
		}
	}
	return false
}

// handoutFaults lists the errors of a handout in addresses, ids, links, headings, tables,
// figures, controls and its content policy.
func handoutFaults(t testing.TB, text string) (faults []string) {
	fault := func(words string) { faults = append(faults, words) }
	page, err := html.Parse(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(text, "://") || strings.Contains(text, "@import") || strings.Contains(text, "url(") {
		fault("it has an outside address")
	}
	ids, links := map[string]int{}, map[string]int{}
	level, tops, policy := 0, 0, ""
	var inline []string
	for n := range page.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		for _, a := range n.Attr {
			switch a.Key {
			case "id":
				ids[a.Val]++
			case "href", "src", "action", "formaction", "poster", "data", "srcset":
				if target, own := strings.CutPrefix(a.Val, "#"); own {
					links[target]++
				} else if n.Data != "image" || !strings.HasPrefix(a.Val, "data:image/png;base64,") {
					fault(n.Data + " has " + a.Key + " " + a.Val[:min(60, len(a.Val))])
				}
			case "style":
				fault(n.Data + " has a style that the policy forbids")
			}
		}
		switch n.DataAtom {
		case atom.Html:
			if attribute(n, "lang") != "en" {
				fault("it has no language")
			}
		case atom.Meta:
			if attribute(n, "http-equiv") == "Content-Security-Policy" {
				policy = attribute(n, "content")
			}
		case atom.Style:
			inline = append(inline, n.FirstChild.Data)
		case atom.Script:
			if attribute(n, "type") == "" {
				inline = append(inline, n.FirstChild.Data)
			}
		case atom.H1, atom.H2, atom.H3, atom.H4:
			at := int(n.Data[1] - '0')
			if at == 1 {
				tops++
			}
			if at > level+1 {
				fault("heading of level " + n.Data[1:] + " below one of level " + string(rune('0'+level)) + ": " + textOf(n))
			}
			level = at
			if textOf(n) == "" {
				fault("a heading is empty")
			}
		case atom.Th:
			if attribute(n, "scope") == "" || textOf(n) == "" {
				fault("a heading of a table has no scope or no words: " + textOf(n))
			}
		case atom.Table:
			if !slices.ContainsFunc(slices.Collect(n.Descendants()), func(d *html.Node) bool { return d.DataAtom == atom.Th }) {
				fault("a table has no headings: " + textOf(n))
			}
			if box := n.Parent; attribute(box, "tabindex") != "0" || attribute(box, "aria-label") == "" {
				fault("a table is in no box that the keyboard can move")
			}
		case atom.Figure:
			caption, pictures := "", 0
			for d := range n.Descendants() {
				if d.DataAtom == atom.Figcaption {
					caption = textOf(d)
				}
				if d.Data == "svg" && attribute(d, "role") == "img" && attribute(d, "aria-label") != "" {
					pictures++
				}
			}
			if caption == "" || pictures != 2 && (pictures != 1 || !within(n, atom.Section)) {
				fault("a figure lacks its caption or its pictures: " + caption)
			}
		case atom.Input, atom.Select:
			if !within(n, atom.Label) {
				fault("a control has no label")
			}
		case atom.Button:
			if textOf(n) == "" {
				fault("a button has no words")
			}
		}
	}
	for id, times := range ids {
		if times > 1 {
			fault("there are " + id + "s")
		}
		if strings.HasPrefix(id, "term-") && links[id] == 0 {
			fault("nothing leads to " + id)
		}
	}
	for target := range links {
		if ids[target] != 1 {
			fault("a link leads nowhere: " + target)
		}
	}
	if tops != 1 {
		fault("it has no one title")
	}
	if !strings.HasPrefix(policy, "default-src 'none'; ") || strings.Contains(policy, "unsafe") {
		fault("its policy is " + policy)
	}
	for _, s := range inline {
		sum := sha256.Sum256([]byte(s))
		if !strings.Contains(policy, "'sha256-"+base64.StdEncoding.EncodeToString(sum[:])+"'") {
			fault("its policy forbids its own script or style")
		}
	}
	if len(inline) != 2 {
		fault("it has not one script and one style")
	}
	return faults
}

// handoutRows returns the rows of a handout by their headings, each from the first table
// that has it.
func handoutRows(t testing.TB, text string) map[string][]string {
	page, err := html.Parse(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string][]string{}
	for n := range page.Descendants() {
		if n.DataAtom != atom.Tr {
			continue
		}
		var cells []string
		for c := range n.ChildNodes() {
			if c.Type == html.ElementNode {
				cells = append(cells, textOf(c))
			}
		}
		if len(cells) > 0 && rows[cells[0]] == nil {
			rows[cells[0]] = cells[1:]
		}
	}
	return rows
}

func TestHandoutHasTheNumbersOfTheJSON(t *testing.T) {
	out := filepath.Join(t.TempDir(), "low-flare.html")
	var result struct {
		Shots []struct {
			Ball    string
			Summary map[string]json.RawMessage
			Path    []struct {
				Time     float64 `json:"time_s"`
				Distance float64 `json:"distance_m"`
				Board    float64 `json:"board"`
			}
		}
	}
	readJSON(t, good(t, "", "throw", filepath.Join(examples, "low-flare.yaml"), "--json", "-o", out), &result)
	text := contents(t, out)
	rows := handoutRows(t, string(text))
	compared := 0
	for _, c := range thrown.ShotColumns() {
		shown := rows[c.Head()]
		for i, s := range result.Shots {
			raw, has := s.Summary[c.Key]
			if !has || c.Kind != report.NumberKind || c.Shown != c.Unit || shown == nil {
				continue
			}
			want := report.Absent
			if string(raw) != "null" {
				want = report.Fixed(decode[float64](t, raw), c.Shown.Decimals)
			}
			if shown[i] != want {
				t.Errorf("%s of %s is %s, in JSON %s", c.Key, s.Ball, shown[i], raw)
			}
			compared++
		}
	}
	if compared < 10*len(result.Shots) {
		t.Errorf("only %d numbers were compared", compared)
	}
	for _, s := range result.Shots {
		last := s.Path[len(s.Path)-1]
		got := rows[""]
		for _, cells := range rows {
			if len(cells) == 5 && cells[0] == s.Ball {
				got = cells
			}
		}
		if len(got) != 5 || got[2] != report.Fixed(last.Board, 1) || got[1] != report.Foot.Show(last.Distance) {
			t.Errorf("%s ends at %v in motion, at board %v in JSON", s.Ball, got, last.Board)
		}
	}
}

func TestHandoutsAreAlikeOnAnyNumberOfProcessors(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	var first string
	for _, n := range []int{1, 2} {
		runtime.GOMAXPROCS(n)
		out := filepath.Join(t.TempDir(), "compare.html")
		good(t, "", "compare", filepath.Join(examples, "compare-one-number.yaml"), "--assumed", "2", "-o", out)
		text := contents(t, out)
		if first == "" {
			first = string(text)
		} else if string(text) != first {
			t.Error("two processors give other bytes than one")
		}
	}
}
