package main

import (
	"go/ast"
	"go/token"
	"slices"
	"strings"
	"testing"
)

// showing lists the packages that only show results. The others give the same results, bit
// for bit, in the program and in the browser.
var showing = []string{"plots", "cmd/lanesim"}

// machineDependent lists functions, by package, whose last digits depend on the machine:
// they are written in assembly on amd64 or s390x (in Go on js/wasm), call such a function,
// or use fused multiply-add. The packages in lanesim/internal replace them.
var machineDependent = map[string][]string{
	"math": {"Exp", "Exp2", "Expm1", "Log", "Log1p", "Log2", "Log10", "Pow", "Hypot", "Cbrt", "Sinh", "Cosh", "Tanh",
		"Asinh", "Acosh", "Atanh", "Erf", "Erfc", "Erfinv", "Erfcinv", "Gamma", "Lgamma", "J0", "J1", "Jn", "Y0", "Y1", "Yn", "FMA"},
	"gonum.org/v1/gonum/spatial/r3": {"Norm", "Unit", "Cos", "Rotate", "NewRotation", "Divergence", "Gradient"},
	"math/rand/v2":                  {"NormFloat64", "ExpFloat64"},
}

// portableLibraries are the packages of gonum that computing packages may import. The
// others use assembly on amd64, which adds up in another order. mathext uses math.Exp and
// math.Log, and the program uses mathext only to decide whether to print a warning.
var portableLibraries = map[string]string{
	"gonum.org/v1/gonum/spatial/r3":     "",
	"gonum.org/v1/gonum/integrate/quad": "",
	"gonum.org/v1/gonum/mathext":        "ball/oilring/ring.go",
}

func TestSameBitsEverywhere(t *testing.T) {
	calls := 0
	for _, f := range folders {
		if slices.Contains(showing, f.folder) {
			continue
		}
		for _, name := range codeFiles(t, f.folder) {
			files := token.NewFileSet()
			file := parsed(t, files, name, 0)
			packages := importedBy(file)
			for _, imported := range packages {
				only, fine := portableLibraries[imported]
				if strings.HasPrefix(imported, "gonum.org/") && (!fine || only != "" && only != name) || imported == "math/cmplx" {
					t.Errorf("%s imports %s, whose results depend on the machine", name, imported)
				}
			}
			ast.Inspect(file, func(n ast.Node) bool {
				selector, ok := n.(*ast.SelectorExpr)
				if !ok {
					return true
				}
				of, ok := selector.X.(*ast.Ident)
				if !ok {
					return true
				}
				if strings.HasPrefix(packages[of.Name], "math") {
					calls++
				}
				exact := name == "internal/portable/exp.go" && selector.Sel.Name == "Pow" // only for zero, infinities and NaN
				if slices.Contains(machineDependent[packages[of.Name]], selector.Sel.Name) && !exact {
					t.Errorf("%s: the last digit of %s.%s depends on the machine: use lanesim/internal/portable or statistics",
						files.Position(selector.Pos()), of.Name, selector.Sel.Name)
				}
				return true
			})
		}
	}
	if calls < 100 {
		t.Errorf("only %d uses of package math seen", calls)
	}
}
