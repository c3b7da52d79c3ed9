package main

import (
	"bytes"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// mayImport lists which of the project's packages each folder may use, tests
// apart. Imports point one way. "studies/*" is all studies and what they share, "report/*"
// all reports and what they are written with.
var mayImport = map[string][]string{
	"units":             {},
	"internal":          {"units"},
	"internal/chromium": {},
	"internal/files":    {},
	"lane":              {"units"},
	"ball":              {"units"},
	"ball/oilring":      {"ball"},
	"ball/rules":        {"units", "ball"},
	"patterns":          {"units", "lane"},
	"physics/ode":       {},
	"physics":           {"units", "lane", "ball", "physics/ode"},
	"pins":              {"units", "lane", "ball", "physics"},
	"studies":           {"units", "lane", "ball", "physics", "pins"},
	"studies/aim":       {"units", "lane", "ball", "physics", "pins", "studies"},
	"studies/compare":   {"units", "lane", "ball", "physics", "studies", "studies/aim"},
	"studies/spread":    {"units", "lane", "ball", "physics", "studies"},
	"studies/wear":      {"units", "lane", "ball", "physics", "pins", "studies", "studies/aim"},
	"studies/bag":       {"units", "lane", "ball", "physics", "studies", "studies/aim"},
	"studies/fit":       {"units", "lane", "ball", "physics", "studies"},
	"studies/measure":   {"units", "lane", "ball", "ball/oilring", "ball/rules", "physics", "studies"},
	"studies/drilling":  {"units", "lane", "ball", "ball/oilring", "ball/rules", "physics", "studies", "studies/compare"},
	"studies/sweep":     {"studies"},
	"studies/seek":      {"units", "physics", "studies", "studies/aim", "studies/sweep"},
	"studies/carry":     {"units", "lane", "ball", "physics", "pins", "studies"},
	"studies/internal":  {"units", "lane", "ball", "patterns", "physics", "studies", "studies/aim"},
	"report":            {"units"},
	"report/terms":      {},
	"report/thrown":     {"units", "lane", "ball", "physics", "studies/*", "report"},
	"report/studied":    {"ball", "physics", "pins", "studies/*", "report", "report/thrown"},
	"report/measured":   {"units", "lane", "ball", "physics", "studies/*", "report"},
	"report/layouts":    {"units", "ball", "ball/rules", "physics", "studies/*", "report"},
	"report/lists":      {"lane", "ball", "patterns", "physics", "report", "report/terms"},
	"scenario":          {"units", "lane", "ball", "ball/oilring", "ball/rules", "patterns", "physics", "pins", "studies/*", "report/*"},
	"rows":              {"report", "report/thrown"},
	"plots":             {"units", "lane", "ball", "ball/oilring", "ball/rules", "patterns", "physics", "pins", "studies/*", "report/*"},
	"scenario/runs":     {"units", "lane", "ball", "ball/oilring", "ball/rules", "physics", "pins", "studies/*", "report/*", "scenario", "rows", "plots"},
	"handouts":          {"lane", "physics", "studies/*", "report/*", "scenario", "scenario/runs", "plots", "handout"},
	"handout":           {"physics", "report", "report/terms"},
	"validation":        {"units", "lane", "ball", "ball/oilring", "ball/rules", "patterns", "physics", "pins", "studies/*", "report", "scenario"},
	"examples":          {},
	"page":              {},
	"page/bundle":       {},
	"page/engine":       {"examples", "units", "lane", "ball", "patterns", "physics", "pins", "studies/*", "report/*", "scenario"},
	"cmd/lanesim":       {"examples", "page", "units", "lane", "ball", "ball/oilring", "ball/rules", "patterns", "physics", "pins", "studies/*", "report/*", "scenario", "rows", "plots", "handout", "scenario/runs", "handouts", "validation"},
}

// onlyIn names libraries that few packages may use.
var onlyIn = map[string][]string{
	"gopkg.in/yaml.v3":                 {"scenario"},
	"github.com/spf13/cobra":           {"cmd/lanesim"},
	"github.com/parquet-go/parquet-go": {"rows"},
	"github.com/evanw/esbuild/pkg/api": {"page/bundle"},
	"lanesim/internal/files":           {"cmd/lanesim", "rows"}, // so that the others know no operating system
	"os":                               {"cmd/lanesim", "rows", "internal/files", "page", "page/bundle", "internal/chromium"},
	"os/exec":                          {"cmd/lanesim", "page", "internal/chromium"},
	"os/signal":                        {"cmd/lanesim"},
	"syscall":                          {"cmd/lanesim", "rows"},
}

func TestImportsPointOneWay(t *testing.T) {
	root := filepath.Join("..", "..")
	seen := 0
	err := filepath.WalkDir(root, func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return err
		}
		relative, err := filepath.Rel(root, name)
		if err != nil {
			return err
		}
		folder := path.Dir(filepath.ToSlash(relative))
		for strings.Contains(folder, "/") && mayImport[folder] == nil {
			folder = path.Dir(folder) // a folder within another keeps its rules
		}
		allowed, known := mayImport[folder]
		if !known {
			t.Errorf("%s lies in no folder of this list", relative)
			return nil
		}
		if folder == "plots" {
			source, err := os.ReadFile(name)
			if err != nil {
				return err
			}
			if bytes.Contains(source, []byte("physics.Throw(")) || bytes.Contains(source, []byte("physics.NewThrower(")) {
				t.Errorf("%s runs physics; figures are drawn from results", relative)
			}
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		seen++
		for _, spec := range file.Imports {
			imported, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return err
			}
			if owners, limited := onlyIn[imported]; limited && !slices.Contains(owners, folder) {
				t.Errorf("%s imports %s, which only %v may", relative, imported, owners)
			}
			own, ours := strings.CutPrefix(imported, "lanesim/")
			within := own == folder || strings.HasPrefix(own, folder+"/") || strings.HasPrefix(own, "internal/")
			top, _, _ := strings.Cut(own, "/")
			if ours && !within && !slices.Contains(allowed, top+"/*") && !slices.Contains(allowed, own) {
				t.Errorf("%s imports %s: %s may import only %v", relative, own, folder, allowed)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen < len(mayImport) {
		t.Errorf("only %d files found below %s", seen, root)
	}
}

// Draws that differ from run to run fail at random, so each package that tests
// with rapid fixes the seed.
func TestRandomTestsHaveAFixedSeed(t *testing.T) {
	draws, fixed := map[string]bool{}, map[string]bool{}
	err := filepath.WalkDir(filepath.Join("..", ".."), func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || !strings.HasSuffix(name, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, spec := range file.Imports {
			switch spec.Path.Value {
			case `"pgregory.net/rapid"`:
				draws[filepath.Dir(name)] = true
			case `"lanesim/internal/seed"`:
				fixed[filepath.Dir(name)] = true
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
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
