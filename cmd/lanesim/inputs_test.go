package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"lanesim/internal/files"
)

const plainScenario = "lane: {oil: flat}\nball: {rg: 2.5 in, differential: 0 in}\nbowler: {like: medium revs, angle: 2 deg}\n"

// Files that are too large are refused, whichever argument names them.
func TestLargeFilesAreRefused(t *testing.T) {
	t.Chdir(t.TempDir())
	for name, size := range map[string]int64{"large.csv": files.MostInput + 1, "large.yaml": 1 << 40, "most.csv": files.MostInput} {
		f, err := os.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := f.Truncate(size); err != nil { // a sparse file
			t.Skip(err)
		}
		f.Close()
	}
	for name, text := range map[string]string{
		"plain.yaml": plainScenario,
		"names.yaml": strings.Replace(plainScenario, "flat", "large.csv", 1),
		"sweep.yaml": "scenario: large.yaml\nvary: {bowler.speed: [17 mph, 18 mph]}\ncolumns: [entry_board]\n",
		"oils.yaml":  "scenario: plain.yaml\nvary: {lane.oil: [flat, large.yaml]}\ncolumns: [entry_board]\n",
	} {
		write(t, name, text)
	}
	for _, arguments := range []string{
		"throw large.yaml", "throw names.yaml", "throw plain.yaml --set lane.oil=large.csv", "sweep sweep.yaml", "sweep oils.yaml",
		"pattern large.csv", "pattern convert large.yaml", "bowler large.yaml", "fit plain.yaml large.csv",
	} {
		code, output, problems := lanesim(t, "", strings.Fields(arguments)...)
		if code != exitUsage || output != "" || !strings.Contains(problems, "is larger than 64 MiB") {
			t.Errorf("%s: exit code %d\n%.500s", arguments, code, problems)
		}
	}
	if code, _, problems := lanesim(t, strings.Repeat("#", files.MostInput+1), "throw", "-"); code != exitUsage || !strings.Contains(problems, "stdin is larger") {
		t.Errorf("standard input: exit code %d\n%.500s", code, problems)
	}
	if _, data, err := (&program{}).read("most.csv"); err != nil || len(data) != files.MostInput {
		t.Errorf("a file of %d bytes: %d, %v", files.MostInput, len(data), err)
	}
}

// Messages stay short for any number of errors, and say how many they leave out.
func TestMessagesStayShort(t *testing.T) {
	t.Chdir(t.TempDir())
	const many, few = 100_000, 2_000
	repeat := func(format string, times ...int) string {
		var b strings.Builder
		for i := range append(times, many)[0] {
			fmt.Fprintf(&b, format, i)
		}
		return b.String()
	}
	long := strings.Repeat("x", 1_000_000)
	for name, text := range map[string]string{
		"plain.yaml": plainScenario,
		"wide.csv":   repeat("column%d,") + "end\n1,2,3\n",
		"twice.csv":  "distance_ft,board,units,shot" + repeat(",board"+"%.0d") + "\n1,2,3,4\n",
		"rows.csv":   "distance_ft,board,units,shot\n" + repeat("%d,zz,1_0,s\n"),
		"long.csv":   "distance_ft,board,units,shot\n" + long + "," + long + ",3,4\n",
		"keys.yaml":  repeat("speed%d: 1\n", few),
		"keys.json":  `{` + repeat(`"k%d":1,`, few) + `"end":1}`,
		"deep.yaml":  "lane: {oil: flat}\nball: {" + repeat("rgx%d: 1, ", few) + "}\nbowler: {like: medium revs, angle: 2 deg}\n",
		"long.yaml":  strings.Replace(plainScenario, "flat", long, 1),
		"key.yaml":   plainScenario + long + ": 3\n",
		"sweep.yaml": "scenario: plain.yaml\nvary: {bowler." + long[:1000] + ": [1, 2]}\ncolumns: [" + long + "]\n",
	} {
		write(t, name, text)
	}
	for _, c := range []struct {
		arguments []string
		leftOut   string
	}{
		{[]string{"pattern", "wide.csv"}, "there are 99906 more faults"},
		{[]string{"fit", "plain.yaml", "wide.csv"}, "there are 99906 more faults"},
		{[]string{"pattern", "twice.csv"}, "more faults"},
		{[]string{"fit", "plain.yaml", "twice.csv"}, "more faults"},
		{[]string{"pattern", "rows.csv"}, "more faults"},
		{[]string{"fit", "plain.yaml", "rows.csv"}, "more faults"},
		{[]string{"pattern", "long.csv"}, "more characters"},
		{[]string{"fit", "plain.yaml", "long.csv"}, "more characters"},
		{[]string{"throw", "keys.yaml"}, "and 1903 more"},
		{[]string{"throw", "keys.json"}, "more"},
		{[]string{"throw", "deep.yaml"}, "more"},
		{[]string{"throw", "long.yaml"}, "999920 more characters"},
		{[]string{"throw", "key.yaml"}, "could not find"},
		{[]string{"sweep", "sweep.yaml"}, "999920 more characters"},
		{[]string{"throw", "plain.yaml", "--set", "bowler." + long + "=3"}, "more characters"},
		{[]string{"throw", "plain.yaml", "--set", "bowler.speed=" + long}, "too long"},
		{[]string{"throw", long + ".yaml"}, "more characters"},
		{[]string{"pattern", long}, "more characters"},
		{[]string{"throw", "plain.yaml", "--color", long}, "more characters"},
		{[]string{"throw", "plain.yaml", "--" + long}, "more characters"},
		{[]string{long[:100_000]}, "more characters"},
		{[]string{"help", long[:100_000]}, "more characters"},
		{[]string{"throw", "plain.yaml", "-o", long}, "more characters"},
		{[]string{"spread", "plain.yaml", "--shots", long}, "more characters"},
		{[]string{"spread", "plain.yaml", "--level", long}, "more characters"},
		{[]string{"aim", "plain.yaml", "--free", long}, "more characters"},
	} {
		code, _, problems := lanesim(t, "", c.arguments...)
		if len(c.arguments[0]) > 20 {
			c.arguments[0] = "long"
		}
		if code != exitUsage || len(problems) > 60_000 || !strings.Contains(problems, c.leftOut) {
			t.Errorf("%.60v: exit code %d, %d bytes:\n…%s", c.arguments, code, len(problems), problems[max(0, len(problems)-400):])
		}
	}
}

// Control characters in a file's name do not reach the terminal.
func TestNamesInMessagesAreEscaped(t *testing.T) {
	t.Chdir(t.TempDir())
	const hostile = "a\x1b]0;b\a\x1b[31m\r\u202e"
	if err := os.WriteFile(hostile+".yaml", []byte("lane: {oil: none}\n"), 0o666); err != nil {
		t.Skip(err)
	}
	good(t, plainScenario, "throw", "-", "--json", "-o", hostile+".json", "-q")
	write(t, "names.json", `{"lane": {"oil": "\u001b[31m.csv"}, "ball": {"differential": "0 in"}, "bowler": {"like": "medium revs", "\u001b[1m": 3}}`)
	for _, arguments := range [][]string{
		{"throw", hostile + ".yaml"}, {"throw", hostile + hostile}, {"throw", "-", "-v", "-o", hostile + ".svg"}, {"pattern", hostile + ".csv"}, {"pattern", hostile},
		{"throw", hostile + ".json", "-o", hostile + ".json"}, {"throw", "-", "-o", hostile + ".x"}, {"throw", "-", "-o", filepath.Join(hostile, "a.json")},
		{"throw", "names.json"}, {"throw", "-", "--set", hostile + "=3"}, {"throw", "-", "--set", "bowler.speed=" + hostile}, {hostile}, {"help", hostile},
		{"throw", "-", "--" + hostile}, {"fit", "-", hostile}, {"merge", hostile}, {"sweep", hostile},
	} {
		_, _, problems := lanesim(t, plainScenario, arguments...)
		if problems == "" || strings.ContainsFunc(problems, func(r rune) bool { return r != '\n' && (unicode.IsControl(r) || r == '\u202e') }) {
			t.Errorf("%q: %q", arguments, problems)
		}
	}
}
