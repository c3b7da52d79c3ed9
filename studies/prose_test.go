package studies

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// Results are facts: package report makes sentences of them. A text with a blank in it
// stands in studies only where it is part of an error.
func TestStudiesMakeNoSentences(t *testing.T) {
	read := 0
	err := filepath.WalkDir(".", func(path string, entry fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		read++
		files := token.NewFileSet()
		file, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		var within []ast.Node
		ast.Inspect(file, func(n ast.Node) bool {
			if n == nil {
				within = within[:len(within)-1]
				return true
			}
			if s, text := n.(*ast.BasicLit); text && s.Kind == token.STRING && strings.Contains(s.Value, " ") && !ofError(within) {
				t.Errorf("%v: %s is more than a word", files.Position(s.Pos()), s.Value)
			}
			within = append(within, n)
			return true
		})
		return nil
	})
	if err != nil || read < 50 {
		t.Errorf("%d files, %v", read, err)
	}
}

// ofError reports whether a text in some nodes is part of an error: it is given to what
// makes one, or stands in a method Error. The label of the random numbers' key is none
// that anybody reads.
func ofError(within []ast.Node) bool {
	for _, n := range within {
		switch n := n.(type) {
		case *ast.FuncDecl:
			if n.Name.Name == "Error" || n.Name.Name == "drawKey" {
				return true
			}
		case *ast.CallExpr:
			switch f := n.Fun.(type) {
			case *ast.SelectorExpr:
				if of, known := f.X.(*ast.Ident); known && (of.Name+"."+f.Sel.Name == "fmt.Errorf" || of.Name+"."+f.Sel.Name == "errors.New") {
					return true
				}
			case *ast.Ident:
				if f.Name == "fail" || f.Name == "readingError" {
					return true
				}
			}
		}
	}
	return false
}
