package files

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// PartialEnding is that of files that hold rows on their way.
const PartialEnding = ".partial"

// Numbered puts a number from 2 into the names of all files but the first.
func Numbered(path string, i int) string {
	if i == 0 {
		return path
	}
	end := filepath.Ext(path)
	return fmt.Sprintf("%s-%d%s", strings.TrimSuffix(path, end), i+1, end)
}

// Beside is a name that is free, for what is finished of a file when the run is
// interrupted: shots.json becomes shots.partial.json or shots.partial-2.json.
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
