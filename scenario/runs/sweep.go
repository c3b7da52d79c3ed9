package runs

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"runtime"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/scenario"
	"lanesim/studies"
)

// Sweep computes the rows of a sweep file. A row is a shot: its number, the fields that vary, and the
// requested columns. It depends only on the file and its number.
type Sweep struct {
	*scenario.Sweep
	Keys        []string      // of the cells of a row
	Kinds       []report.Kind // of the cells of a row
	Fingerprint string        // identifies the inputs of the rows, except their numbers

	several [3]bool // whether there are several lanes, balls and bowlers, named in rows
}

// NewSweep prepares the rows of a sweep. The error is that of [scenario.Sweep.Identity].
func NewSweep(read *scenario.Sweep) (*Sweep, error) {
	identity, err := read.Identity()
	if err != nil {
		return nil, err
	}
	s := &Sweep{Sweep: read}
	add := func(key string, kind report.Kind) { s.Keys, s.Kinds = append(s.Keys, key), append(s.Kinds, kind) }
	add("row", report.CountKind)
	for i := range read.Parameters {
		q, kind := &read.Parameters[i], report.TextKind
		if q.Numeric {
			kind = report.NumberKind
		}
		add(q.Column, kind)
	}
	for i, n := range []int{len(read.Base.Lanes), len(read.Base.Balls), len(read.Base.Bowlers)} {
		if s.several[i] = n > 1; n > 1 {
			add([]string{"lane", "ball", "bowler"}[i], report.TextKind)
		}
	}
	if read.Aims() {
		add(lineColumn, report.TextKind)
	}
	for i, c := range read.Columns {
		add(read.ColumnNames[i], c.Kind)
	}
	// Rows of different processors can differ in their last digits.
	h := sha256.New()
	fmt.Fprintf(h, "lanesim sweep, model %d, %s\n%s\n", rowsModel, runtime.GOARCH, s.Keys)
	h.Write(identity)
	s.Fingerprint = hex.EncodeToString(h.Sum(nil))
	return s, nil
}

// rowsModel is the version of the physics and the settings of rows: rows of another version are not
// continued.
const rowsModel = 3

// lineColumn is the column that says whether a row of a bowler who aims is thrown on the bowler's own line.
// It is the last before the requested columns.
const lineColumn = "line"

// throw throws delivery i of point k.
func (s *Sweep) throw(ctx context.Context, r *scenario.Resolver, t *physics.Thrower, k uint64, i int, point scenario.Point) (physics.Release, scenario.SweepLine, physics.Shot, error) {
	d, made := point.Deliveries[i], point.Scenario
	bowler, l, line := made.Bowlers[d.Bowler], made.Lanes[d.Lane], scenario.SweepLine("")
	settings, release := studies.ForManyShots(made.Settings), bowler.Release
	if bowler.AimAtPocket {
		var err error
		if release.Angle, line, err = r.Aim(ctx, t, k, i); err != nil || line == scenario.NoLine {
			return release, line, physics.Shot{}, err
		}
	}
	settings.EndOnly = thrown.EndWillDo(s.Columns)
	shot, err := t.Throw(l, d.Prepared, release, settings)
	return release, line, shot, err
}

// Worker returns a function that computes the cells of row k, counted from 0. The next call overwrites them,
// and calls must not be concurrent. Its errors name the row.
func (s *Sweep) Worker(ctx context.Context) func(k uint64) ([]report.Cell, error) {
	resolver, aiming, thrower := s.Resolver(), s.Resolver(), physics.NewThrower()
	var point scenario.Point
	resolved := uint64(math.MaxUint64)
	cells, aims := make([]report.Cell, len(s.Keys)), s.Aims()
	return func(k uint64) ([]report.Cell, error) {
		at := k / uint64(s.Deliveries)
		if at != resolved {
			var err error
			if point, err = resolver.Point(at); err != nil {
				resolved = math.MaxUint64
				return nil, s.Explain(at, err)
			}
			resolved = at
		}
		i := int(k % uint64(s.Deliveries))
		release, line, shot, err := s.throw(ctx, aiming, thrower, at, i, point)
		if err != nil {
			return nil, fmt.Errorf("row %d: %w", k, err)
		}
		d, made := point.Deliveries[i], point.Scenario
		row := append(cells[:0], report.Cell{Number: float64(k)})
		for i := range s.Parameters {
			row = append(row, s.Parameters[i].Value(point.Coordinates[i]))
		}
		for i, name := range []string{made.Lanes[d.Lane].Name, made.Balls[d.Ball].Name, made.Bowlers[d.Bowler].Name} {
			if s.several[i] {
				row = append(row, report.Cell{Text: name})
			}
		}
		if aims {
			row = append(row, report.Cell{Text: string(line)})
		}
		for _, c := range s.Columns {
			cell := report.Cell{Absent: true}
			if line != scenario.NoLine {
				cell = c.Of(thrown.Shot{Release: release, FootToBall: made.Bowlers[d.Bowler].FootToBall, Shot: shot, Pocket: thrown.Pocket(made.Settings, release)})
			}
			row = append(row, cell)
		}
		return row, nil
	}
}
