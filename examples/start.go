package examples

import (
	"fmt"
	"path"
	"strings"
)

// Starts are the examples to start from.
func Starts() []Example {
	var list []Example
	for _, e := range All() {
		if e.Question != "" {
			list = append(list, e)
		}
	}
	return list
}

// Start is the name by which an example is asked for.
func (e Example) Start() string { return strings.TrimSuffix(e.Name, path.Ext(e.Name)) }

// Find returns the example of a name, or the only one that has all words. Without one
// it returns those that fit, of which there may be none.
func Find(question string) (found Example, fitting []Example, ok bool) {
	for _, e := range Starts() {
		name := e.Start()
		if question == name || question == e.Name {
			return e, nil, true
		}
		text, fits := strings.ToLower(name+" "+e.Question), true
		for _, word := range strings.Fields(strings.ToLower(strings.TrimSuffix(question, "?"))) {
			fits = fits && strings.Contains(text, word)
		}
		if fits {
			fitting = append(fitting, e)
		}
	}
	if len(fitting) == 1 {
		return fitting[0], nil, true
	}
	return Example{}, fitting, false
}

// commandsOfStarts are the commands of examples whose names do not begin with theirs.
var commandsOfStarts = map[string]string{
	"measured": "bowler", "drill": "layout", "own-pattern": "pattern", "own-grip": "layout", "box-and-shop": "layout", "spare-ten-pin": "carry",
	"layouts-": "compare", "line-three": "compare", "lines-": "compare",
}

// Command is the command that answers its question, for its file and those beside it.
func (e Example) Command(path string, beside []string) string {
	name := e.Start()
	first, _, _ := strings.Cut(name, "-")
	command := "throw"
	for _, word := range []string{"aim", "bag", "carry", "compare", "fit", "layout", "seek", "spread", "sweep", "wear"} {
		if first == word {
			command = word
		}
	}
	for begins, word := range commandsOfStarts {
		if strings.HasPrefix(name, begins) {
			command = word
		}
	}
	text := fmt.Sprintf("%s %s", command, path)
	switch {
	case command == "fit":
		text += " " + strings.Join(beside, " ")
	case name == "wear-two-layouts": // a plan says what then
		text += " --plan alone"
	}
	return text
}
