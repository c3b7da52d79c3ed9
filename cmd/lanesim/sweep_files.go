package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"lanesim/internal/files"
	"lanesim/internal/input"
	"lanesim/plots/sweeps"
	"lanesim/rows"
	"lanesim/scenario"
	"lanesim/studies"
)

// openPartial creates a partial file or, with --resume, continues the existing one.
func (p *program) openPartial(path string, h rows.Header, resume bool) (*rows.Journal, error) {
	if !resume {
		j, err := rows.Create(path, h)
		if errors.Is(err, fs.ErrExist) {
			return nil, input.Wrong("%s exists, from an interrupted run: continue with --resume, or remove it", path)
		}
		return j, err
	}
	j, err := rows.Resume(path, h)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return rows.Create(path, h)
	case errors.Is(err, rows.ErrOtherRows), errors.Is(err, rows.ErrNoHeader), errors.Is(err, rows.ErrDamaged), errors.Is(err, rows.ErrInUse):
		return nil, input.AsWrong(err)
	case err == nil:
		p.say("%s has %d of %d rows", path, j.Rows(), h.Count())
		if j.Dropped() > 0 {
			p.warn(fmt.Sprintf("%s is cut off or damaged after %d rows: the rest is computed again", path, j.Rows()))
		}
	}
	return j, err
}

// readSweep reads a sweep file.
func (p *program) readSweep(ctx context.Context, path string, flags scenarioFlags) (*sweeps.Sweep, error) {
	read, err := readInput(ctx, p, path, func(name string, data []byte) (*scenario.Sweep, error) {
		return scenario.ReadSweep(name, data, p.claims.Open, flags.all())
	})
	if err != nil {
		return nil, err
	}
	p.warnAll(read.Warnings)
	return sweeps.New(read)
}

// compute computes the rows from the i-th of the shard on and gives each to a function, in
// their order: as many at a time as there are jobs, or processors if jobs is 0.
func (p *program) compute(ctx context.Context, s *sweeps.Sweep, jobs int, i uint64, to func(line []byte) error) error {
	progress := p.sweepProgress(i, s.Header.Count())
	defer progress.wipe()
	return studies.InOrder[[]byte]{
		From: s.Header.Row(i), Step: s.Header.Of, End: s.Header.Rows, Workers: jobs,
		Worker: func() func(uint64) ([]byte, error) {
			cells := s.Worker(ctx)
			return func(k uint64) ([]byte, error) {
				row, err := cells(k)
				return s.Header.Line(row), err
			}
		},
		Emit: func(_ uint64, line []byte) error {
			progress.step()
			return to(line)
		},
	}.Run(ctx)
}

// filled computes the rows that a partial file lacks and finishes it. If that fails, the
// file stays sound and can be resumed.
func (p *program) filled(ctx context.Context, s *sweeps.Sweep, partial string, o sweepOptions) (*rows.Journal, error) {
	j, err := p.openPartial(partial, s.Header, o.resume)
	if err != nil {
		return nil, err
	}
	if err := p.keep(j, partial, p.compute(ctx, s, o.jobs, j.Rows(), j.Row)); err != nil {
		return nil, err
	}
	return j, j.Finish()
}

// keep closes a partial file if filling it failed, and prints how to continue.
func (p *program) keep(j *rows.Journal, path string, err error) error {
	if err == nil {
		return nil
	}
	kept, of := j.Rows(), j.Header().Count()
	if closed := j.Close(); closed != nil {
		return errors.Join(err, closed)
	}
	fmt.Fprintf(p.err, "lanesim: %d of %d rows are kept in %s; the same command with --resume continues from there\n", kept, of, input.Printable(path))
	return err
}

// sweepPart computes a part of a sweep.
func (p *program) sweepPart(ctx context.Context, s *sweeps.Sweep, o sweepOptions) error {
	folder := o.output.paths[0]
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return input.AsWrong(err)
	}
	path := filepath.Join(folder, rows.PartName(s.Header.Shard, s.Header.Of))
	if _, err := os.Lstat(path); err == nil {
		if err := rows.CheckPart(path, s.Header); err != nil {
			return input.Wrong("%s %w", path, err)
		}
		p.say("%s is already complete", path)
		return nil
	}
	partial := path + files.PartialEnding
	if err := p.claim(path, partial); err != nil {
		return err
	}
	j, err := p.filled(ctx, s, partial, o)
	if err != nil {
		return err
	}
	if err := j.PutAway(func() error { return os.Rename(partial, path) }); err != nil {
		return err
	}
	p.say("wrote %s", path)
	return nil
}

// sweepWhole computes a sweep, with a partial file next to the first file if there is one.
func (p *program) sweepWhole(ctx context.Context, s *sweeps.Sweep, o sweepOptions) error {
	paths := o.output.files()
	for _, path := range paths {
		if err := files.Writable(path); err != nil {
			return err
		}
	}
	all := sweepRows{header: s.Header, draw: s, phone: o.phone.size()}
	regular := slices.IndexFunc(paths, func(path string) bool { _, special, _ := files.Destination(path); return !special })
	if regular < 0 {
		// What is printed, or goes to a device, has no folder for a partial file.
		return p.deliverRows(ctx, all, paths, o.output, func(take func([]byte) error) error {
			return p.compute(ctx, s, o.jobs, 0, take)
		})
	}
	partial := paths[regular] + files.PartialEnding
	if err := p.claim(partial); err != nil {
		return err
	}
	j, err := p.filled(ctx, s, partial, o)
	if err != nil {
		return err
	}
	return p.writeKept(j, partial, func() error {
		return p.deliverRows(ctx, all, paths, o.output, j.Each)
	})
}

// writeKept writes results whose rows are kept in a partial file, and removes that when
// they are written.
func (p *program) writeKept(j *rows.Journal, partial string, write func() error) error {
	if err := write(); err != nil {
		fmt.Fprintf(p.err, "lanesim: all rows are kept in %s; the same command with --resume writes the files\n", input.Printable(partial))
		return errors.Join(err, j.Release())
	}
	return j.PutAway(func() error { return os.Remove(partial) })
}
