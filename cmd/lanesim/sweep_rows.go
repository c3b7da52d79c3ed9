package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"math"
	"runtime"
	"strconv"

	"lanesim/physics"
	"lanesim/scenario"
	"lanesim/studies"
)

// sweepRun is a sweep on its way.
type sweepRun struct {
	*scenario.Sweep
	header  rowsHeader
	several [3]bool // whether rows tell lane, ball and bowler
}

// readSweep reads a sweep file and settles what its rows are.
func (p *program) readSweep(ctx context.Context, path string, flags scenarioFlags) (*sweepRun, error) {
	read, err := readInput(ctx, p, path, func(name string, data []byte) (*scenario.Sweep, error) {
		return scenario.ReadSweep(name, data, p.open, flags.all())
	})
	if err != nil {
		return nil, err
	}
	for _, w := range read.Warnings {
		p.warn(w)
	}
	identity, err := read.Identity()
	if err != nil {
		return nil, err
	}
	s := &sweepRun{Sweep: read}
	s.header = rowsHeader{Title: read.Title, Rows: read.Rows(), Of: 1, Columns: []rowColumn{{"row", countKind}}}
	for i := range read.Parameters {
		q, kind := &read.Parameters[i], textKind
		if q.Numeric {
			kind = numberKind
		}
		s.header.Columns = append(s.header.Columns, rowColumn{q.Column, kind})
	}
	for i, n := range []int{len(read.Base.Lanes), len(read.Base.Balls), len(read.Base.Bowlers)} {
		if s.several[i] = n > 1; n > 1 {
			s.header.Columns = append(s.header.Columns, rowColumn{[]string{"lane", "ball", "bowler"}[i], textKind})
		}
	}
	for i, c := range read.Columns {
		s.header.Columns = append(s.header.Columns, rowColumn{read.ColumnNames[i], kindOf(c.Kind)})
	}
	// Rows of different processors can differ in their last digits.
	h := sha256.New()
	fmt.Fprintf(h, "lanesim sweep, model %d, %s\n%s\n", model, runtime.GOARCH, s.header.names())
	h.Write(identity)
	s.header.Fingerprint = hex.EncodeToString(h.Sum(nil))
	return s, nil
}

// worker returns a function that computes rows.
func (s *sweepRun) worker() func(k uint64) ([]byte, error) {
	resolver, thrower := s.Resolver(), physics.NewThrower()
	var point scenario.Point
	resolved := uint64(math.MaxUint64)
	fields := make([]string, len(s.header.Columns))
	return func(k uint64) ([]byte, error) {
		if at := k / uint64(s.Deliveries); at != resolved {
			var err error
			if point, err = resolver.Point(at); err != nil {
				resolved = math.MaxUint64
				return nil, s.Explain(at, err)
			}
			resolved = at
		}
		d, made := point.Deliveries[k%uint64(s.Deliveries)], point.Scenario
		settings := made.Settings
		settings.PathSpacing, settings.ExchangeSpacing = -1, -1
		release, _, shot, err := deliver(context.Background(), thrower, made, d, settings)
		lost := (*studies.NoPocketError)(nil)
		if err != nil && !errors.As(err, &lost) {
			return nil, fmt.Errorf("row %d: %w", k, err)
		}
		row := append(fields[:0], strconv.FormatUint(k, 10))
		for i := range s.Parameters {
			kind := s.header.Columns[len(row)].Kind
			row = append(row, cellText(kind, s.Parameters[i].Value(point.Coordinates[i])))
		}
		for i, name := range []string{made.Lanes[d.Lane].Name, made.Balls[d.Ball].Name, made.Bowlers[d.Bowler].Name} {
			if s.several[i] {
				row = append(row, name)
			}
		}
		for _, c := range s.Columns {
			cell := scenario.Cell{Absent: true}
			if lost == nil {
				cell = c.Of(release, shot)
			}
			row = append(row, cellText(s.header.Columns[len(row)].Kind, cell))
		}
		return csvLine(row), nil
	}
}

// compute computes the rows from the i-th of the shard on, and gives them to a
// sink.
func (p *program) compute(ctx context.Context, s *sweepRun, jobs int, i uint64, to func(line []byte) error) error {
	progress := p.sweepProgress(i, s.header.count())
	defer progress.wipe()
	return studies.InOrder[[]byte]{
		From: s.header.row(i), Step: s.header.Of, End: s.header.Rows, Workers: jobs,
		Worker: s.worker,
		Emit: func(_ uint64, line []byte) error {
			progress.step()
			return to(line)
		},
	}.Run(ctx)
}
