// Package sweeps computes the rows of a sweep in their order, as package rows keeps and
// writes them, and draws them: as curves over one field that varies or as maps over two.
package sweeps

import (
	"context"

	"lanesim/rows"
	"lanesim/scenario"
	"lanesim/scenario/runs"
	"lanesim/studies"
)

// Sweep is a sweep with the header of its rows.
type Sweep struct {
	*runs.Sweep
	Header rows.Header
}

// New makes a sweep from its file. The error is that of [runs.NewSweep].
func New(read *scenario.Sweep) (*Sweep, error) {
	s, err := runs.NewSweep(read)
	if err != nil {
		return nil, err
	}
	h := rows.HeaderOf(s.Keys, s.Kinds)
	h.Title, h.Rows, h.Fingerprint = read.Title, read.Rows(), s.Fingerprint
	return &Sweep{s, h}, nil
}

// Compute computes the rows from the i-th of the shard on and calls to with each, in their
// order, after step. It computes as many rows at a time as there are jobs, or processors if
// jobs is 0.
func (s *Sweep) Compute(ctx context.Context, jobs int, i uint64, step func(), to func(line []byte) error) error {
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
			step()
			return to(line)
		},
	}.Run(ctx)
}
