package scripts_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"lanesim/page/bundle/scripts"
)

// The colours and scripts that are kept are those that theme and sources make.
func TestScriptsAreCurrent(t *testing.T) {
	web := filepath.Join("..", "..", "web")
	for _, step := range scripts.Steps {
		made, err := step(web)
		if err != nil {
			t.Fatal(err)
		}
		for name, text := range made {
			kept, err := os.ReadFile(filepath.Join(web, name))
			if err != nil {
				t.Error(err)
			} else if !bytes.Equal(kept, text) {
				t.Errorf("%s is not current: go run ./page/bundle", name)
			}
		}
	}
}
