package main

import (
	"go/parser"
	"go/token"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// folders are the project's folders in their order, each with the packages of the project
// that it imports, tests apart: they stand before it. "studies/*" is all studies and what
// they share, "report/*" all reports and what they are written with. What lies below
// internal any may import but those of nothingOfOurs.
var folders = []struct {
	folder string
	uses   []string
}{
	{"units", nil},
	{"internal", []string{"units"}},
	{"internal/chromium", nil},
	{"internal/files", nil},
	{"internal/theme", nil},
	{"lane", []string{"units"}},
	{"ball", []string{"units"}},
	{"ball/oilring", []string{"ball"}},
	{"ball/rules", []string{"units", "ball"}},
	{"patterns", []string{"units", "lane"}},
	{"physics/ode", nil},
	{"physics", []string{"units", "lane", "ball", "physics/ode"}},
	{"pins", []string{"units", "lane", "ball", "physics"}},
	{"studies", []string{"lane", "ball", "physics"}},
	{"studies/aim", []string{"units", "lane", "ball", "physics", "pins", "studies"}},
	{"studies/compare", []string{"units", "lane", "ball", "physics", "studies", "studies/aim"}},
	{"studies/spread", []string{"physics", "studies"}},
	{"studies/wear", []string{"units", "lane", "ball", "physics", "pins", "studies", "studies/aim"}},
	{"studies/bag", []string{"lane", "ball", "physics", "studies", "studies/aim"}},
	{"studies/fit", []string{"units", "lane", "ball", "physics", "studies"}},
	{"studies/measure", []string{"units", "ball", "ball/oilring", "physics", "studies"}},
	{"studies/drilling", []string{"units", "ball", "physics", "studies", "studies/compare"}},
	{"studies/sweep", []string{"studies"}},
	{"studies/seek", []string{"units", "physics", "studies", "studies/aim", "studies/sweep"}},
	{"studies/carry", []string{"units", "lane", "ball", "physics", "pins", "studies"}},
	{"studies/internal", []string{"units", "lane", "ball", "patterns", "physics", "studies", "studies/aim"}},
	{"report", []string{"units"}},
	{"report/terms", nil},
	{"report/thrown", []string{"units", "lane", "ball", "physics", "studies/*", "report"}},
	{"report/studied", []string{"ball", "physics", "pins", "studies/*", "report", "report/thrown"}},
	{"report/measured", []string{"units", "lane", "ball", "physics", "studies/*", "report"}},
	{"report/layouts", []string{"units", "ball", "ball/rules", "physics", "studies/*", "report"}},
	{"report/lists", []string{"lane", "ball", "patterns", "physics", "report", "report/terms"}},
	{"report/handout", []string{"physics", "report", "report/terms"}},
	{"scenario", []string{"units", "lane", "ball", "ball/oilring", "ball/rules", "patterns", "physics", "pins", "studies/*", "report/*"}},
	{"scenario/runs", []string{"units", "lane", "ball", "ball/rules", "physics", "pins", "studies/*", "report/*", "scenario"}},
	{"rows", []string{"report", "report/thrown"}},
	{"plots", []string{"units", "lane", "ball", "patterns", "physics", "pins", "studies/*", "report/*"}},
	{"plots/handouts", []string{"lane", "physics", "pins", "report/*", "scenario", "scenario/runs", "plots"}},
	{"plots/sweeps", []string{"studies/*", "report/*", "scenario", "scenario/runs", "rows", "plots"}},
	{"validation", []string{"units", "lane", "ball", "patterns", "physics", "pins", "report"}},
	{"examples", nil},
	{"page/bundle", nil},
	{"page/engine", []string{"examples", "units", "lane", "ball", "patterns", "physics", "pins", "studies/*", "report/*", "scenario"}},
	{"page", nil},
	{"cmd/lanesim", []string{"examples", "page", "lane", "ball", "patterns", "physics", "pins", "studies/*", "report/*", "scenario", "rows", "plots", "scenario/runs", "validation", "plots/handouts", "plots/sweeps"}},
}

// nothingOfOurs are the folders that import no other package of the project.
var nothingOfOurs = []string{"units", "internal/chromium", "internal/files", "internal/theme", "report/terms", "examples"}

// throwing matches source that throws shots or rolls racks.
var throwing = regexp.MustCompile(`"context"|\.(Throw\w*|NewThrower|Run|Worker|Typical|Again|InOrder|InParallel)[({\[]`)

// onlyIn lists libraries that only a few packages may use.
var onlyIn = map[string][]string{
	"gopkg.in/yaml.v3":                 {"scenario"},
	"github.com/spf13/cobra":           {"cmd/lanesim"},
	"github.com/parquet-go/parquet-go": {"rows"},
	"github.com/evanw/esbuild/pkg/api": {"page/bundle"},
	"lanesim/internal/files":           {"cmd/lanesim", "rows"}, // the others do not depend on the operating system
	"lanesim/report/handout":           {"cmd/lanesim", "plots/handouts"},
	"os":                               {"cmd/lanesim", "rows", "internal/files", "page", "page/bundle", "internal/chromium"},
	"os/exec":                          {"cmd/lanesim", "page", "internal/chromium"},
	"os/signal":                        {"cmd/lanesim"},
	"syscall":                          {"cmd/lanesim", "rows"},
}

func TestImportsPointOneWay(t *testing.T) {
	seen, place, unused := 0, map[string]int{}, map[string]bool{}
	for i, f := range folders {
		place[f.folder] = i
		for _, use := range f.uses {
			unused[f.folder+" "+use] = true
		}
	}
	placeOf := func(folder string) (int, bool) {
		i, known := place[folder]
		for !known && strings.Contains(folder, "/") {
			folder = path.Dir(folder) // a folder within another follows its rules
			i, known = place[folder]
		}
		return i, known
	}
	for _, name := range codeFiles(t, ".") {
		at, known := placeOf(path.Dir(name))
		if !known {
			t.Errorf("%s: its folder is missing from the list of folders", name)
			continue
		}
		folder, uses := folders[at].folder, folders[at].uses
		if strings.HasPrefix(folder+"/", "plots/") {
			if found := throwing.Find(contents(t, filepath.Join(root, name))); found != nil {
				t.Errorf("%s throws shots by %s: pictures are drawn from results", name, found)
			}
		}
		seen++
		for _, imported := range importedBy(parsed(t, token.NewFileSet(), name, parser.ImportsOnly)) {
			if owners, limited := onlyIn[imported]; limited && !slices.Contains(owners, folder) {
				t.Errorf("%s imports %s, which only %v may", name, imported, owners)
			}
			own, ours := strings.CutPrefix(imported, "lanesim/")
			before, _ := placeOf(own)
			if ours && slices.Contains(nothingOfOurs, folder) {
				t.Errorf("%s imports %s: %s may import nothing of the project", name, own, folder)
			}
			if !ours || before == at || strings.HasPrefix(own, "internal/") {
				continue
			}
			top, _, _ := strings.Cut(own, "/")
			use := own
			if slices.Contains(uses, top+"/*") {
				use = top + "/*"
			}
			if before >= at || !slices.Contains(uses, use) {
				t.Errorf("%s imports %s: package %s may import only %v, all of them before it in the list of folders", name, own, folder, uses)
			}
			delete(unused, folder+" "+use)
		}
	}
	for use := range unused {
		folder, imported, _ := strings.Cut(use, " ")
		t.Errorf("package %s does not import %s: remove it from the list of folders", folder, imported)
	}
	if seen < len(folders) {
		t.Errorf("only %d files found below %s", seen, root)
	}
}

// Random draws that differ from run to run let tests fail at random. So each package that
// tests with rapid fixes the seed.
func TestRandomTestsHaveAFixedSeed(t *testing.T) {
	draws, fixed := map[string]bool{}, map[string]bool{}
	for _, name := range sourceFiles(t, ".") {
		if !strings.HasSuffix(name, "_test.go") {
			continue
		}
		for _, imported := range importedBy(parsed(t, token.NewFileSet(), name, parser.ImportsOnly)) {
			switch imported {
			case "pgregory.net/rapid":
				draws[path.Dir(name)] = true
			case "lanesim/internal/seed":
				fixed[path.Dir(name)] = true
			}
		}
	}
	if len(draws) == 0 {
		t.Error("no package tests with rapid")
	}
	for folder := range draws {
		if !fixed[folder] {
			t.Errorf("the tests in %s do not import lanesim/internal/seed", folder)
		}
	}
}
