// Package sweeps draws the rows of a sweep, which package rows keeps and writes: curves
// over one field that varies, or maps over two.
package sweeps

import (
	"lanesim/rows"
	"lanesim/scenario"
	"lanesim/scenario/runs"
)

// Sweep is a sweep with the header of its rows.
type Sweep struct {
	*runs.Sweep
	Header rows.Header
}

// New makes a sweep from its file. Errors are those of [runs.NewSweep].
func New(read *scenario.Sweep) (*Sweep, error) {
	s, err := runs.NewSweep(read)
	if err != nil {
		return nil, err
	}
	h := rows.HeaderOf(s.Keys, s.Kinds)
	h.Title, h.Rows, h.Fingerprint = read.Title, read.Rows(), s.Fingerprint
	return &Sweep{s, h}, nil
}
