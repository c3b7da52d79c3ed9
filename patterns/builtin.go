package patterns

import (
	"embed"
	"io/fs"
	"slices"
	"strings"

	"lanesim/internal/input"
)

//go:embed builtin/*.yaml
var builtinFiles embed.FS

const (
	builtinFolder = "builtin"
	builtinEnding = ".yaml"
)

// Builtin is a pattern that comes with the program. All of them are invented
// for it and represent no real pattern.
type Builtin struct {
	// Name is the word that a scenario uses for the pattern.
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
	names := input.Each(entries, func(e fs.DirEntry) string { return strings.TrimSuffix(e.Name(), builtinEnding) })
	// The folder's order is by file name, where "-" comes before ".".
	slices.Sort(names)
	return input.Each(names, func(name string) Builtin {
		source, _ := BuiltinSource(name)
		return Builtin{name, source}
	})
}

// BuiltinSource returns the pattern file of the built-in with the name, and
// whether there is one.
func BuiltinSource(name string) ([]byte, bool) {
	source, err := builtinFiles.ReadFile(builtinFolder + "/" + name + builtinEnding)
	return source, err == nil
}
