package main

import (
	"bytes"
	"go/ast"
	"go/doc"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// Limits that keep the project easy to read.
const (
	mostLines    = 500 // of a file
	mostExported = 60  // lines of  go doc -short
	mostFields   = 20  // of a struct, with those of the structs that it embeds
)

// manyFields are the types with more fields: how many they have, and why.
var manyFields = map[string]struct {
	fields int
	why    string
}{
	"pins.Settings":         {22, "each is a constant of the pins that is assumed and can be set on its own, as the scenario's rack has it"},
	"physics.Thrower":       {42, "the state of one shot, embedded in parts by how long they last; steps use all parts together"},
	"physics.machine":       {32, "the equations of motion, embedded in parts by how long they last: the ball, the lane, the present stretch"},
	"physics.contact":       {21, "the last evaluation of the equations: what acts, and by how much friction holds"},
	"studies/wear.planWork": {22, "the plan that is asked, each of its fields an input, with the work on it"},
	"plots.page":            {31, "the drawing, its measures and its letterings, which all that is drawn on a page uses together"},
	"plots.sheetPage":       {32, "a page, with its paper"},
	"plots.panel":           {34, "a page, with an area of it and two scales"},
	"plots.lanePanel":       {37, "a page, with the lane on it"},
	"plots.motionPanel":     {38, "a panel, with the quantity that it draws"},
	"plots.ballPage":        {35, "a page, with the ball that its panels draw"},
	"plots.ballPanel":       {42, "a page of a ball, with one view of it"},
}

// root is that of the project.
const root = "../.."

// sourceFiles lists the files below a folder of the project, by their names from its root,
// without those that are generated.
func sourceFiles(t *testing.T, folder string) (list []string) {
	t.Helper()
	err := fs.WalkDir(os.DirFS(root), folder, func(name string, entry fs.DirEntry, err error) error {
		if err == nil && entry.IsDir() && (entry.Name() == "dist" || entry.Name() == ".git") {
			return fs.SkipDir
		}
		if err == nil && !entry.IsDir() {
			list = append(list, name)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// codeFiles are the Go files among them, without tests.
func codeFiles(t *testing.T, folder string) []string {
	t.Helper()
	return slices.DeleteFunc(sourceFiles(t, folder), func(name string) bool { return path.Ext(name) != ".go" || strings.HasSuffix(name, "_test.go") })
}

// parsed parses a Go file of the project.
func parsed(t *testing.T, set *token.FileSet, name string, mode parser.Mode) *ast.File {
	t.Helper()
	file, err := parser.ParseFile(set, filepath.Join(root, name), nil, mode)
	if err != nil {
		t.Fatal(err)
	}
	return file
}

// importedBy are the paths that a file imports, by the names that they have there; by
// themselves where they have none.
func importedBy(file *ast.File) map[string]string {
	paths := map[string]string{}
	for _, spec := range file.Imports {
		imported := strings.Trim(spec.Path.Value, `"`)
		local := path.Base(strings.TrimSuffix(imported, "/v2"))
		if spec.Name != nil {
			local = spec.Name.Name
		}
		if _, taken := paths[local]; taken || local == "_" {
			local = imported
		}
		paths[local] = imported
	}
	return paths
}

// sources checks the number of lines of the files in Go, TypeScript and CSS, and returns
// the parsed Go files by folder, without tests.
func sources(t *testing.T) (*token.FileSet, map[string][]*ast.File) {
	t.Helper()
	set, packages, read := token.NewFileSet(), map[string][]*ast.File{}, map[string]int{}
	for _, name := range sourceFiles(t, ".") {
		kind := path.Ext(name)
		if !slices.Contains([]string{".go", ".ts", ".css"}, kind) {
			continue
		}
		if n := bytes.Count(contents(t, filepath.Join(root, name)), []byte("\n")); n > mostLines {
			t.Errorf("%s has %d lines, more than %d", name, n, mostLines)
		}
		if read[kind]++; kind == ".go" && !strings.HasSuffix(name, "_test.go") {
			packages[path.Dir(name)] = append(packages[path.Dir(name)], parsed(t, set, name, parser.ParseComments))
		}
	}
	if read[".ts"] < 20 || read[".css"] == 0 {
		t.Errorf("files read by kind: %v", read)
	}
	return set, packages
}

// Files, exports of packages and types are small enough to be read in one go.
func TestPartsStaySmall(t *testing.T) {
	set, packages := sources(t)
	structs, seen := structsOf(packages), map[string]bool{}
	for name := range structs {
		fields := structs.fields(name)
		most := mostFields
		if many, listed := manyFields[name]; listed {
			most, seen[name] = many.fields, fields > mostFields
		}
		if fields > most {
			t.Errorf("%s has %d fields, more than %d: divide it, or say why it has them", name, fields, most)
		}
	}
	for folder, files := range packages {
		p, err := doc.NewFromFiles(set, files, "lanesim/"+folder)
		if err != nil {
			t.Fatal(err)
		}
		if n := exportedLines(p); n >= mostExported {
			t.Errorf("%s exports %d things, not fewer than %d: divide it by question", folder, n, mostExported)
		}
	}
	for name := range manyFields {
		if !seen[name] {
			t.Errorf("%s has few fields or is gone: it needs no reason", name)
		}
	}
	if len(packages) < 30 {
		t.Errorf("only %d packages", len(packages))
	}
}

// structs are the project's structs by folder and name.
type structs map[string]structParts

// structParts are the names of what a struct embeds, and how many fields it has beside that.
type structParts struct {
	own      int
	embedded []string
}

func structsOf(packages map[string][]*ast.File) structs {
	all := structs{}
	for folder, files := range packages {
		for _, file := range files {
			imports := map[string]string{}
			for _, spec := range file.Imports {
				if own, ours := strings.CutPrefix(strings.Trim(spec.Path.Value, `"`), "lanesim/"); ours {
					imports[path.Base(own)] = own
				}
			}
			ast.Inspect(file, func(n ast.Node) bool {
				spec, ok := n.(*ast.TypeSpec)
				if !ok {
					return true
				}
				made, ok := spec.Type.(*ast.StructType)
				if !ok {
					return true
				}
				var s structParts
				for _, f := range made.Fields.List {
					s.own += len(f.Names)
					if len(f.Names) > 0 {
						continue
					}
					of := f.Type
					if pointer, ok := of.(*ast.StarExpr); ok {
						of = pointer.X
					}
					switch of := of.(type) {
					case *ast.Ident:
						s.embedded = append(s.embedded, folder+"."+of.Name)
					case *ast.SelectorExpr:
						s.embedded = append(s.embedded, imports[of.X.(*ast.Ident).Name]+"."+of.Sel.Name)
					default:
						s.own++
					}
				}
				all[folder+"."+spec.Name.Name] = s
				return true
			})
		}
	}
	return all
}

// fields counts the fields of a struct, with those of the structs that it embeds. An embedded
// type that is no struct of the project counts as one.
func (all structs) fields(name string) int {
	parts, ours := all[name]
	if !ours {
		return 1
	}
	n := parts.own
	for _, e := range parts.embedded {
		n += all.fields(e)
	}
	return n
}

// prefixed matches the name at the beginning of an error's text.
var prefixed = regexp.MustCompile(`^"([a-z]+): `)

// An error that begins with the name of a package names its own.
func TestErrorsBeginWithTheirPackage(t *testing.T) {
	_, packages := sources(t)
	names, seen := map[string]bool{}, 0
	for folder := range packages {
		names[path.Base(folder)] = true
	}
	for folder, files := range packages {
		for _, file := range files {
			ast.Inspect(file, func(n ast.Node) bool {
				call, ok := n.(*ast.CallExpr)
				if !ok || len(call.Args) == 0 {
					return true
				}
				made, ok := call.Fun.(*ast.SelectorExpr)
				text, literal := call.Args[0].(*ast.BasicLit)
				if !ok || !literal || made.Sel.Name != "New" && made.Sel.Name != "Errorf" {
					return true
				}
				if begins := prefixed.FindStringSubmatch(text.Value); begins != nil && names[begins[1]] {
					seen++
					if begins[1] != path.Base(folder) {
						t.Errorf("an error of package %s is %s", folder, text.Value)
					}
				}
				return true
			})
		}
	}
	if seen < 80 {
		t.Errorf("only %d errors", seen)
	}
}

// exportedLines returns the number of lines that go doc -short prints: one for each group
// of constants or variables, each function and each type.
func exportedLines(p *doc.Package) int {
	n := len(p.Consts) + len(p.Vars) + len(p.Funcs) + len(p.Types)
	for _, t := range p.Types {
		n += len(t.Consts) + len(t.Vars) + len(t.Funcs)
	}
	return n
}
