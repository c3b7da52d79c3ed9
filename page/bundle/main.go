// Command bundle makes the scripts of the page from its TypeScript and the theme. Run
// go run ./page/bundle after a change there. It is a tool for developers; the program
// contains the scripts and does not need it.
package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"lanesim/page/bundle/scripts"
)

func main() {
	folder := flag.String("page", "page", "`folder` of the page")
	flag.Parse()
	for _, step := range scripts.Steps {
		if err := write(filepath.Join(*folder, "web"), step); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
}

func write(web string, step func(web string) (map[string][]byte, error)) error {
	made, err := step(web)
	for name, text := range made {
		err = errors.Join(err, os.WriteFile(filepath.Join(web, name), text, 0o644))
	}
	return err
}
