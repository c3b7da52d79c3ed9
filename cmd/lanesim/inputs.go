package main

import (
	"cmp"
	"context"
	"os"
	"path/filepath"

	"lanesim/internal/files"
	"lanesim/internal/input"
	"lanesim/scenario"
	"lanesim/scenario/runs"
)

// read reads a file, or standard input for "-". The name returned is the one
// for messages.
func (p *program) read(path string) (name string, data []byte, err error) {
	name = path
	if path == files.Standard {
		name = "stdin"
		if f, ok := p.in.(*os.File); ok {
			if info, err := f.Stat(); err == nil && info.Mode().IsRegular() {
				p.claims.Read(name, info)
			}
		}
		data, err = files.ReadAll(name, p.in)
	} else {
		data, err = p.claims.Open(path)
	}
	if err != nil {
		return "", nil, input.AsWrong(err)
	}
	return name, data, nil
}

// readInput reads and parses a file. Reading may wait for a person or another program,
// and large files take long; an interrupt ends either at once.
func readInput[T any](ctx context.Context, p *program, path string, parse func(name string, data []byte) (T, error)) (T, error) {
	type outcome struct {
		parsed T
		err    error
	}
	done := make(chan outcome, 1)
	go func() {
		var o outcome
		name, data, err := p.read(path)
		if o.err = err; err == nil {
			o.parsed, o.err = parse(filepath.ToSlash(name), data)
		}
		done <- o
	}()
	select {
	case o := <-done:
		return o.parsed, cmp.Or(o.err, input.AsWrong(p.claims.Check()))
	case <-ctx.Done():
		var none T
		return none, ctx.Err()
	}
}

// readScenario reads a scenario file with the flags' values set, and prints its
// warnings and, with --verbose, its defaults. It returns the first of the errors of the
// command line, if there is one, in place of that.
func (p *program) readScenario(ctx context.Context, path string, flags scenarioFlags, wrong ...error) (*scenario.Scenario, error) {
	if err := cmp.Or(wrong...); err != nil {
		return nil, err
	}
	list, err := p.readScenarios(ctx, path, flags, nil)
	if err != nil {
		return nil, err
	}
	return list[0], nil
}

// readScenarios reads a scenario file once for each of the sets, applied after the flags'
// values; without sets it reads it once.
func (p *program) readScenarios(ctx context.Context, path string, flags scenarioFlags, sets []string) ([]*scenario.Scenario, error) {
	list, err := readInput(ctx, p, path, func(name string, data []byte) ([]*scenario.Scenario, error) {
		var list []*scenario.Scenario
		for i := range max(1, len(sets)) {
			all := flags.all()
			if len(sets) > 0 {
				all = append(all, sets[i])
			}
			s, err := scenario.Read(name, data, p.claims.Open, all)
			if err != nil {
				return nil, err
			}
			if err := flags.checkLines(s); err != nil {
				return nil, err
			}
			list = append(list, s)
		}
		return list, nil
	})
	if err != nil {
		return nil, err
	}
	p.warnAll(list[0].Warnings)
	p.sayAssumptions(list[0])
	return list, nil
}

// players prepares every bowler × ball on every lane, with a warning for each assumption.
func (p *program) players(ctx context.Context, s *scenario.Scenario, o studyFlags, warnings *[]string) ([]runs.Player, error) {
	players, assumed, err := runs.Players(ctx, s, o.level, o.work(p.progress("aim")))
	if err == nil {
		p.note(warnings, assumed...)
	}
	return players, err
}
