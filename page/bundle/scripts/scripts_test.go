package scripts_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"lanesim/page/bundle/scripts"
)

// The scripts that are kept are those that the sources make.
func TestScriptsAreCurrent(t *testing.T) {
	web := filepath.Join("..", "..", "web")
	made, err := scripts.Bundle(web)
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range made {
		kept, err := os.ReadFile(filepath.Join(web, "dist", name))
		if err != nil {
			t.Error(err)
		} else if !bytes.Equal(kept, text) {
			t.Errorf("%s is not current: go run ./page/bundle", name)
		}
	}
}
