package docs_test

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"
)

// Links of the pages, and the files that they name, are there.
func TestLinksLeadSomewhere(t *testing.T) {
	pages, err := filepath.Glob("*.md")
	if err != nil {
		t.Fatal(err)
	}
	links := regexp.MustCompile(`\]\(([^)#:]+)\)`)
	files := regexp.MustCompile("`([a-z]+/[a-z_/]+\\.(?:go|json|py|cpp|yaml))`")
	count := 0
	for _, page := range append(pages, "../README.md", "../DEVELOPERS.md") {
		text := read(t, page)
		for _, m := range links.FindAllStringSubmatch(text, -1) {
			count++
			if _, err := os.Stat(filepath.Join(filepath.Dir(page), m[1])); err != nil {
				t.Errorf("%s: %v", page, err)
			}
		}
		for _, m := range files.FindAllStringSubmatch(text, -1) {
			count++
			if _, err := os.Stat(filepath.Join("..", m[1])); err != nil {
				t.Errorf("%s names %s: %v", page, m[1], err)
			}
		}
	}
	if count < 100 {
		t.Errorf("only %d links and files", count)
	}
}
