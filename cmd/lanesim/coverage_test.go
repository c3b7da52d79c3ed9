package main

import (
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"lanesim/scenario"

	"gopkg.in/yaml.v3"
)

// fieldsOfReference lists the paths of all fields in a page of the reference. Lists have
// the paths of their items.
func fieldsOfReference(page string) []string {
	section := regexp.MustCompile("^## (`([a-z_.]+)`)?")
	row := regexp.MustCompile("^\\| `([a-z_]+)` \\|")
	var fields []string
	at, of := "", false
	for line := range strings.Lines(page) {
		if m := section.FindStringSubmatch(line); m != nil {
			at = m[2]
			of = at != "" || slices.Contains([]string{"## Scenario", "## Measurements", "## Sweep"}, strings.TrimSpace(line))
		} else if strings.HasPrefix(line, "# ") {
			of = false
		} else if m := row.FindStringSubmatch(line); m != nil && of {
			fields = append(fields, strings.TrimPrefix(at+"."+m[1], "."))
		}
	}
	slices.Sort(fields)
	return slices.Compact(fields)
}

// one gives the singular of the keys of lists, as the reference uses it.
var one = map[string]string{"lanes": "lane", "balls": "ball", "bowlers": "bowler"}

// pathsOf collects the paths of the keys in a YAML document.
func pathsOf(n *yaml.Node, at string, into map[string]bool) {
	switch n.Kind {
	case yaml.DocumentNode, yaml.SequenceNode:
		for _, c := range n.Content {
			pathsOf(c, at, into)
		}
	case yaml.MappingNode:
		for i := 0; i < len(n.Content); i += 2 {
			key := n.Content[i].Value
			into[strings.TrimPrefix(at+"."+key, ".")] = true
			if single, several := one[key]; several {
				key = single
			}
			path := strings.TrimPrefix(at+"."+key, ".")
			into[path] = true
			if path == "scenario" {
				path = "" // a scenario written out
			}
			pathsOf(n.Content[i+1], path, into)
		}
	}
}

// setPaths collects the paths given to --set in command lines.
func setPaths(text string, into map[string]bool) {
	index := regexp.MustCompile(`\[\d+\]`)
	for _, m := range regexp.MustCompile(`--set '?"?([a-z_.\[\]0-9]+)=`).FindAllStringSubmatch(text, -1) {
		path := index.ReplaceAllString(m[1], "")
		for several, single := range one {
			path = strings.Replace(path, several+".", single+".", 1)
		}
		into[path] = true
	}
}

// Every field of the reference occurs in an example or in a command of the gallery.
func TestEveryFieldOccursInAnExample(t *testing.T) {
	seen := map[string]bool{}
	files, err := filepath.Glob(filepath.Join(examples, "*.yaml"))
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		var document yaml.Node
		text := contents(t, file)
		if err := yaml.Unmarshal(text, &document); err != nil {
			t.Fatal(file, err)
		}
		at := ""
		if strings.Contains("\n"+string(text), "\nkind:") {
			at = "lane.oil" // a pattern file
		}
		pathsOf(&document, at, seen)
	}
	text := contents(t, galleryFile)
	setPaths(string(text), seen)
	fields := fieldsOfReference(scenario.Reference() + "\n" + scenario.SweepReference())
	if len(fields) < 150 {
		t.Fatalf("only %d fields", len(fields))
	}
	var missing []string
	for _, field := range fields {
		// The keys of vary in a sweep are paths of fields.
		varied := strings.HasPrefix(field, "vary.") && slices.ContainsFunc(keys(seen), func(s string) bool {
			return strings.HasPrefix(s, "vary.") && strings.HasSuffix(s, strings.TrimPrefix(field, "vary"))
		})
		if !seen[field] && !varied {
			missing = append(missing, field)
		}
	}
	if len(missing) > 0 {
		t.Errorf("%d of %d fields occur in no example and in no command of the gallery:\n%s", len(missing), len(fields), strings.Join(missing, "\n"))
	}
}

func keys(m map[string]bool) []string {
	var list []string
	for k := range m {
		list = append(list, k)
	}
	return list
}
