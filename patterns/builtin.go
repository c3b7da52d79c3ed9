package patterns

import (
	"cmp"
	"embed"
	"slices"
	"strings"
)

//go:embed builtin/*.yaml
var builtinFiles embed.FS

const (
	builtinFolder = "builtin"
	builtinEnding = ".yaml"
)

// Builtin is a pattern that comes with the program. All of them are invented
// for it and stand for no real pattern.
type Builtin struct {
	// Name is the plain word by which a scenario calls the pattern.
	Name string

	// Source is its pattern file, YAML.
	Source []byte
}

// Builtins returns the patterns that come with the program, sorted by name.
func Builtins() []Builtin {
	entries, err := builtinFiles.ReadDir(builtinFolder)
	if err != nil {
		panic(err) // the folder is part of the program
	}
	var list []Builtin
	for _, entry := range entries {
		name := strings.TrimSuffix(entry.Name(), builtinEnding)
		source, _ := BuiltinSource(name)
		list = append(list, Builtin{name, source})
	}
	// The folder's order is by file name, where "-" comes before ".".
	slices.SortFunc(list, func(a, b Builtin) int { return cmp.Compare(a.Name, b.Name) })
	return list
}

// BuiltinSource returns the pattern file of the built-in with the name, and
// whether there is one.
func BuiltinSource(name string) ([]byte, bool) {
	source, err := builtinFiles.ReadFile(builtinFolder + "/" + name + builtinEnding)
	return source, err == nil
}
