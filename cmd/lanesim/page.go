package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"

	"lanesim/internal/files"
	"lanesim/internal/input"
	"lanesim/page"
	"lanesim/scenario"

	"github.com/spf13/cobra"
)

// pageOptions are the flags of the page command.
type pageOptions struct {
	scenario    scenarioFlags
	out, source string
	open, serve bool
	port        int
}

// usualPage is the default name of a page.
const usualPage = "page.html"

func (p *program) pageCommand() *cobra.Command {
	var o pageOptions
	c := helped("page", &cobra.Command{
		Use:     "page [FILE]",
		GroupID: groupRun,
		Args:    cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, arguments []string) error {
			file := ""
			if len(arguments) == 1 {
				file = arguments[0]
			}
			return p.page(c.Context(), file, o)
		},
	})
	f := c.Flags()
	f.StringArrayVar(&o.scenario.sets, "set", nil, "replace a value of the scenario, as `path=value`; repeatable")
	f.StringVarP(&o.out, "out", "o", usualPage, "`PATH` of the page; - is standard output")
	f.BoolVar(&o.open, "open", false, "open the page in the browser")
	f.BoolVar(&o.serve, "serve", false, "serve the page at an address of this machine, for installing it; no file is written")
	intVar(f, &o.port, "port", 8460, "`port` of that address; 0 takes a free one")
	f.StringVar(&o.source, "source", "", "`folder` with the source of this project, instead of that around the working directory")
	return c
}

func (p *program) page(ctx context.Context, path string, o pageOptions) error {
	if o.serve && o.out != usualPage {
		return input.Wrong("--serve writes no file: leave out -o")
	}
	if o.port < 0 || o.port > 65535 {
		return input.Wrong("--port is %d: it can be 0 to 65535", o.port)
	}
	made := page.Page{Installable: o.serve}
	if path != "" {
		var err error
		if made.Start, err = p.startOfPage(ctx, path, o.scenario.sets); err != nil {
			return err
		}
	} else if len(o.scenario.sets) > 0 {
		return input.Wrong("--set needs a scenario file")
	}
	source, err := p.sourceOfPage(o.source)
	if err != nil {
		return err
	}
	b := page.Builder{Source: source, Notice: p.building}
	if cache, err := os.UserCacheDir(); err == nil {
		b.Cache = filepath.Join(cache, "lanesim")
	}
	if made.Engine, err = b.Build(ctx); err != nil {
		return err
	}
	if o.serve {
		return p.servePage(ctx, made, o)
	}
	text, err := made.HTML()
	if err != nil {
		return err
	}
	if o.out == files.Standard {
		if o.open {
			return input.Wrong("--open needs a file: leave out  -o -")
		}
		return p.print(text)
	}
	if err := p.writeFiles([]file{{Path: o.out, Content: text}}); err != nil {
		return err
	}
	if o.open {
		return openInBrowser(ctx, o.out)
	}
	return nil
}

// startOfPage reads a scenario and writes out everything from other files.
func (p *program) startOfPage(ctx context.Context, path string, sets []string) (string, error) {
	return readInput(ctx, p, path, func(name string, data []byte) (string, error) {
		d, err := scenario.Open(name, data, p.claims.Open)
		if err != nil {
			return "", err
		}
		s, err := d.Read(sets)
		if err != nil {
			return "", err
		}
		p.warnAll(s.Warnings)
		if s.Bowlers[0].AimAtPins != 0 {
			return "", input.Wrong("%s aims at pins, which the page cannot do: give an angle, a target, a line or  aim: pocket", s.Bowlers[0].Name)
		}
		alone, err := d.Alone(sets)
		if err != nil {
			return "", err
		}
		text, err := alone.YAML(nil)
		return string(text), err
	})
}

// sourceOfPage returns the root of the source from which the engine is built.
func (p *program) sourceOfPage(given string) (string, error) {
	from := cmp.Or(given, p.environment("LANESIM_SOURCE"), ".")
	source, err := page.FindSource(from)
	var none *page.NoSourceError
	if errors.As(err, &none) {
		return "", input.AsWrong(err)
	}
	return source, err
}

// building prints a long step on a terminal.
func (p *program) building(what string) {
	if !p.common.quiet && terminal(p.err) {
		fmt.Fprintf(p.err, "%s …\n", what)
	}
}

// openInBrowser opens a file or an address with the system's default program.
func openInBrowser(ctx context.Context, what string) error {
	name, arguments := "xdg-open", []string{what}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, arguments = "rundll32", []string{"url.dll,FileProtocolHandler", what}
	}
	if err := exec.CommandContext(ctx, name, arguments...).Run(); err != nil {
		return fmt.Errorf("%s could not be opened with %s: %w", what, name, err)
	}
	return nil
}
