//go:build !js

package chromium

import (
	"os"
	"path/filepath"
	"testing"
)

// Axe returns the script axe-core, which checks accessibility, from the folder named by
// LANESIM_NPM, in which `npm install axe-core` was run. Without it it returns "", and the
// test logs that accessibility is not checked.
func Axe(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(os.Getenv("LANESIM_NPM"), "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		t.Logf("NOT CHECKED: accessibility; LANESIM_NPM does not name a folder with axe-core: %v", err)
		return ""
	}
	return string(text)
}

// Accessible runs axe-core over the page and fails for each violation. With axe "" it does
// nothing.
func (b *Tab) Accessible(axe, name string) {
	b.Helper()
	if axe == "" {
		return
	}
	Eval[bool](b, "(() => { if (!window.axe) { "+axe+" } return true; })()")
	type violation struct {
		ID, Impact, Help string
		Nodes            []struct{ HTML, FailureSummary string }
	}
	found := Eval[struct {
		Passes     int
		Violations []violation
	}](b, `axe.run(document, { resultTypes: ["violations"] }).then((r) => ({ passes: r.passes.length, violations: r.violations.map((v) => ({ id: v.id, impact: v.impact, help: v.help,
		nodes: v.nodes.slice(0, 3).map((n) => ({ html: n.html.slice(0, 160), failureSummary: n.failureSummary.slice(0, 300) })) })) }))`)
	if found.Passes < 10 {
		b.Errorf("%s: only %d rules of accessibility apply", name, found.Passes)
	}
	for _, v := range found.Violations {
		b.Errorf("%s: %s (%s): %s: %+v", name, v.ID, v.Impact, v.Help, v.Nodes)
	}
}
