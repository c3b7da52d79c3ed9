package docs_test

import (
	"go/ast"
	"go/doc"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// A guide is what a package's comment has at least, in characters.
const guide = 130

// Every public package begins with a guide, all that it exports is documented, and the
// tables of packages list it: DEVELOPERS.md all, the library's page what can be imported.
func TestPackagesAreDocumented(t *testing.T) {
	packages := 0
	listed := map[string]string{"../DEVELOPERS.md": "", "library.md": ""}
	for page := range listed {
		_, table, _ := strings.Cut(read(t, page), "\n## Packages\n")
		listed[page], _, _ = strings.Cut(strings.TrimSpace(table), "\n\n")
	}
	err := filepath.WalkDir("..", func(folder string, entry fs.DirEntry, err error) error {
		if err != nil || !entry.IsDir() {
			return err
		}
		if name := entry.Name(); name == "internal" || name == "testdata" || len(name) > 2 && strings.HasPrefix(name, ".") {
			return filepath.SkipDir
		}
		sources, err := filepath.Glob(filepath.Join(folder, "*.go"))
		if err != nil {
			return err
		}
		set := token.NewFileSet()
		var files []*ast.File
		for _, name := range sources {
			if !strings.HasSuffix(name, "_test.go") {
				file, err := parser.ParseFile(set, name, nil, parser.ParseComments)
				if err != nil {
					return err
				}
				files = append(files, file)
			}
		}
		if len(files) == 0 {
			return nil
		}
		packages++
		p, err := doc.NewFromFiles(set, files, folder)
		if err != nil {
			return err
		}
		name := strings.TrimPrefix(filepath.ToSlash(folder), "../")
		for page, table := range listed {
			if !strings.Contains(table, "`"+name+"`") && (p.Name != "main" || page != "library.md") {
				t.Errorf("the table of %s has no `%s`", page, name)
			}
		}
		if name == "cmd/lanesim" { // it says what it does in its help
			return nil
		}
		if len(p.Doc) < guide {
			t.Errorf("%s: the package's comment has %d characters", folder, len(p.Doc))
		}
		bare := func(name, comment string) {
			if strings.TrimSpace(comment) == "" && !strings.HasSuffix(name, ".Error") { // which needs none
				t.Errorf("%s: %s has no comment", folder, name)
			}
		}
		functions := func(list []*doc.Func, of string) {
			for _, f := range list {
				bare(of+f.Name, f.Doc)
			}
		}
		values := func(list []*doc.Value) {
			for _, v := range list {
				for _, spec := range v.Decl.Specs {
					spec := spec.(*ast.ValueSpec)
					for _, name := range spec.Names {
						if name.IsExported() {
							bare(name.Name, v.Doc+spec.Doc.Text()+spec.Comment.Text())
						}
					}
				}
			}
		}
		functions(p.Funcs, "")
		values(p.Vars)
		values(p.Consts)
		for _, typ := range p.Types {
			bare(typ.Name, typ.Doc)
			functions(typ.Funcs, "")
			values(typ.Vars)
			values(typ.Consts)
			functions(typ.Methods, typ.Name+".")
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if packages < 15 {
		t.Errorf("only %d packages", packages)
	}
}
