// Package sweeps draws the rows of a sweep, as package rows keeps and writes them: as curves
// over one field that varies or as maps over two.
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
