// Command bundle makes the scripts of the page out of its TypeScript: run
// go run ./page/bundle after a change below page/web. It is a tool for developers; the
// program has the scripts and does not need it.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"lanesim/page/bundle/scripts"
)

func main() {
	folder := flag.String("page", "page", "`folder` of the page")
	flag.Parse()
	made, err := scripts.Bundle(filepath.Join(*folder, "web"))
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	for name, text := range made {
		if err := os.WriteFile(filepath.Join(*folder, "web", "dist", name), text, 0o644); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
}
