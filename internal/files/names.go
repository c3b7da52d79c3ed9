package files

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// PartialEnding is the ending of files with the rows of an unfinished run.
const PartialEnding = ".partial"

// Numbered returns the name of the i-th of several files, from 0: all but the first get a
// number from 2.
func Numbered(path string, i int) string {
	if i == 0 {
		return path
	}
	end := filepath.Ext(path)
	return fmt.Sprintf("%s-%d%s", strings.TrimSuffix(path, end), i+1, end)
}

// Beside returns a free name for the partial results of an interrupted run: shots.json
// becomes shots.partial.json or shots.partial-2.json.
func Beside(path string) string {
	end := filepath.Ext(path)
	first := path[:len(path)-len(end)] + PartialEnding + end
	for i := 0; ; i++ {
		name := Numbered(first, i)
		if _, err := os.Lstat(name); err != nil {
			return name
		}
	}
}
