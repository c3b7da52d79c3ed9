package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	starting "lanesim/examples"
	"lanesim/internal/files"
	"lanesim/internal/input"
	"lanesim/report"

	"github.com/spf13/cobra"
)

func (p *program) newCommand() *cobra.Command {
	var out string
	c := helped("new", &cobra.Command{
		Use:     "new [QUESTION]",
		GroupID: groupLearn,
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return startNames(), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, words []string) error {
			if len(words) == 0 {
				if out != "" {
					return input.Wrong("-o needs the name of an example: new without one lists them")
				}
				return p.print([]byte(startList(starting.Starts())))
			}
			return p.start(strings.Join(words, " "), out)
		},
	})
	c.Flags().StringVarP(&out, "out", "o", "", "`PATH` of the new file; - is standard output")
	return c
}

func startNames() []string { return input.Each(starting.Starts(), starting.Example.Start) }

func startList(list []starting.Example) string {
	g := report.Grid{Left: []bool{true, true}}
	for _, e := range list {
		g.Rows = append(g.Rows, []string{e.Start(), e.Question})
	}
	return g.String()
}

// findStart returns the example with a name, or the only one that has all words.
func findStart(question string) (starting.Example, error) {
	found, fitting, ok := starting.Find(question)
	if ok {
		return found, nil
	}
	if len(fitting) > 0 {
		return found, input.Wrong("%d examples fit %q:\n%s", len(fitting), question, strings.TrimRight(startList(fitting), "\n"))
	}
	return found, input.Wrong("no example has the name or question %q: %s", question, cmp.Or(input.DidYouMean(question, startNames()), "lanesim new lists them"))
}

// start writes an example and the files that it needs.
func (p *program) start(question, out string) error {
	found, err := findStart(question)
	if err != nil {
		return err
	}
	if out == files.Standard {
		return p.print(found.Content)
	}
	if out == "" {
		out = found.Name
	}
	folder := filepath.Dir(out)
	paths, list := []string{out}, starting.With(found)
	for _, e := range list[1:] {
		paths = append(paths, filepath.Join(folder, e.Name))
	}
	for _, path := range paths {
		if _, err := os.Lstat(path); err == nil {
			return input.Wrong("%s already exists: give another name or folder with -o", path)
		}
	}
	for i, path := range paths {
		if err := createNew(path, list[i].Content); err != nil {
			for _, made := range paths[:i] {
				os.Remove(made)
			}
			return err
		}
	}
	if !p.common.quiet {
		fmt.Fprintf(p.err, "wrote %s\nrun: lanesim %s\n", input.Message(strings.Join(paths, ", ")), input.Message(found.Command(out, paths[1:])))
	}
	return nil
}

// createNew writes a file that must not exist yet.
func createNew(path string, content []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return input.Wrong("%s already exists: give another name or folder with -o", path)
	}
	if err != nil {
		return input.AsWrong(err)
	}
	_, err = f.Write(content)
	if err = errors.Join(err, f.Close()); err != nil {
		os.Remove(path)
	}
	return err
}
