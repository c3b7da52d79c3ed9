package sweeps

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"lanesim/internal/input"
	"lanesim/plots"
	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/rows"
	"lanesim/scenario"
	"lanesim/studies/sweep"
)

// view describes the picture of a sweep: curves over one field, or maps over two. Other
// fields that vary give several curves or maps.
type view struct {
	axes   []int // columns of the header
	others []int
	drawn  []int
}

// axisLevels is the number of values from which a field gets its own axis.
const axisLevels = 5

// mostPictured is the largest number of rows of a picture: more cannot be distinguished.
const mostPictured = 100_000

// lineAt returns the index of the cell with a row's line, if bowlers aim at the pocket.
func (s *Sweep) lineAt() int { return len(s.Keys) - len(s.Columns) - 1 }

// view chooses how to draw the sweep.
func (s *Sweep) view() (v view, err error) {
	var numeric, long []int
	for i := range s.Parameters {
		q := &s.Parameters[i]
		if !q.Numeric || q.Levels == 1 {
			continue
		}
		numeric = append(numeric, i+1)
		if q.Levels == 0 || q.Levels >= axisLevels {
			long = append(long, i+1)
		}
	}
	if v.axes = long; len(long) == 0 && len(numeric) > 0 {
		v.axes = numeric[len(numeric)-1:]
	}
	fixed := len(s.Keys) - len(s.Columns)
	if s.Aims() {
		fixed = s.lineAt()
	}
	for i := 1; i < fixed; i++ {
		if !slices.Contains(v.axes, i) {
			v.others = append(v.others, i)
		}
	}
	for i := fixed; i < len(s.Kinds); i++ {
		if k := s.Kinds[i]; k == report.NumberKind || k == report.CountKind {
			v.drawn = append(v.drawn, i)
		}
	}
	curves := uint64(s.Deliveries)
	for _, i := range v.others {
		if i <= len(s.Parameters) {
			curves *= uint64(s.Parameters[i-1].Levels)
		}
	}
	switch two := len(v.axes) == 2; {
	case len(v.axes) == 0:
		return v, errors.New("a picture needs a field that varies by numbers")
	case len(v.axes) > 2:
		return v, fmt.Errorf("%d fields have %d values or more, and a picture shows two: give fewer values of the others", len(v.axes), axisLevels)
	case len(v.drawn) == 0:
		return v, errors.New("a picture needs a column of numbers")
	case s.Header.Rows > mostPictured:
		return v, fmt.Errorf("%d rows are too many for a picture, which shows up to %d", s.Header.Rows, mostPictured)
	case two && s.Design.Kind != sweep.Grid:
		return v, errors.New("a picture of two fields needs  design: grid")
	case two && curves*uint64(len(v.drawn)) > plots.MaxSweepPanels:
		return v, fmt.Errorf("%d maps are too many for a picture, which shows up to %d: give fewer columns or values", curves*uint64(len(v.drawn)), plots.MaxSweepPanels)
	case !two && curves > plots.MaxSweepCurves:
		return v, fmt.Errorf("%d curves are too many for a picture, which shows up to %d: give fewer values of the other fields", curves, plots.MaxSweepCurves)
	case !two && len(v.drawn) > plots.MaxSweepPanels:
		return v, fmt.Errorf("%d columns are too many for a picture, which shows up to %d", len(v.drawn), plots.MaxSweepPanels)
	}
	return v, nil
}

// CanDraw returns nil if the sweep can be drawn, else an error with the reason.
func (s *Sweep) CanDraw() error {
	_, err := s.view()
	return err
}

// Picture returns a sink that draws the rows and writes the picture in a format such as "svg".
func (s *Sweep) Picture(to io.Writer, format string, size plots.Size) rows.Sink {
	return &picture{to: to, sweep: s, format: format, size: size}
}

// picture is a sink that collects rows and draws them.
type picture struct {
	to     io.Writer
	sweep  *Sweep
	format string
	size   plots.Size

	rows [][]report.Cell
}

func (s *picture) Row(line []byte) error {
	cells, err := s.sweep.Header.Cells(line)
	s.rows = append(s.rows, cells)
	return err
}

func (s *picture) Close() error {
	v, err := s.sweep.view()
	if err != nil {
		return err
	}
	var d *plots.Drawing
	if len(v.axes) == 2 {
		d, err = s.maps(v)
	} else {
		d, err = s.curves(v)
	}
	if err != nil {
		return err
	}
	return d.Write(s.to, s.format)
}

// numberOf returns the number in a cell, NaN if it is absent.
func numberOf(c report.Cell) float64 {
	if c.Absent {
		return math.NaN()
	}
	return c.Number
}

// brief prints a number exactly if that is short, else rounded.
func brief(v float64) string {
	const longest = 6
	if text := strconv.FormatFloat(v, 'f', -1, 64); len(text) <= longest {
		return text
	}
	return report.Figure(v)
}

// axisName returns the path of a field that varies, with its unit.
func (s *Sweep) axisName(column int) string {
	q := &s.Parameters[column-1]
	return strings.TrimSuffix(q.Path+", "+q.Unit, ", ")
}

// columnLabel returns the meaning of a column, with its unit.
func (s *Sweep) columnLabel(column int) string {
	c := s.Columns[column-(len(s.Keys)-len(s.Columns))]
	if c.Unit == report.Board {
		return c.Meaning
	}
	return strings.TrimSuffix(c.Meaning+", "+c.Unit.Name, ", ")
}

// group returns the name of the curve or map to which a row belongs.
func (s *picture) group(v view, row []report.Cell) string {
	var parts []string
	for _, i := range v.others {
		c := row[i]
		text := c.Text
		if i <= len(s.sweep.Parameters) {
			q := &s.sweep.Parameters[i-1]
			if q.Levels == 1 {
				continue
			}
			if q.Numeric {
				text = strings.TrimSpace(brief(c.Number) + " " + q.Unit)
			}
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, ", ")
}

// curves draws quantities against one field.
func (s *picture) curves(v view) (*plots.Drawing, error) {
	x := v.axes[0]
	var names []string
	byName := map[string][][]report.Cell{}
	for _, row := range s.rows {
		name := s.group(v, row)
		if byName[name] == nil {
			names = append(names, name)
		}
		byName[name] = append(byName[name], row)
	}
	f := plots.SweepFigure{Title: s.sweep.Title, X: s.sweep.axisName(x), Size: s.size, Note: s.note(v, names)}
	for _, rows := range byName {
		slices.SortStableFunc(rows, func(a, b []report.Cell) int { return cmp.Compare(a[x].Number, b[x].Number) })
	}
	for _, column := range v.drawn {
		panel := plots.SweepPanel{Label: s.sweep.columnLabel(column)}
		for _, name := range names {
			c := plots.SweepCurve{Name: name}
			for _, row := range byName[name] {
				c.X, c.Y = append(c.X, row[x].Number), append(c.Y, numberOf(row[column]))
				c.Changed = append(c.Changed, s.changed(row))
			}
			panel.Curves = append(panel.Curves, c)
		}
		f.Panels = append(f.Panels, panel)
	}
	return plots.Sweep(f)
}

// maps draws quantities over two fields, the first upward and the second to the right.
func (s *picture) maps(v view) (*plots.Drawing, error) {
	y, x := v.axes[0], v.axes[1]
	axis := func(column int) []float64 {
		all := input.Each(s.rows, func(row []report.Cell) float64 { return row[column].Number })
		slices.Sort(all)
		return slices.Compact(all)
	}
	xs, ys := axis(x), axis(y)
	var names []string
	at := map[string][][]float64{} // by the name of the map and the column
	changed := map[string][][]bool{}
	key := func(name string, column int) string { return fmt.Sprint(column, " ", name) }
	for _, row := range s.rows {
		name := s.group(v, row)
		if !slices.Contains(names, name) {
			names = append(names, name)
			for range xs {
				changed[name] = append(changed[name], make([]bool, len(ys)))
			}
			for _, column := range v.drawn {
				grid := make([][]float64, len(xs))
				for i := range grid {
					grid[i] = slices.Repeat([]float64{math.NaN()}, len(ys))
				}
				at[key(name, column)] = grid
			}
		}
		i, _ := slices.BinarySearch(xs, row[x].Number)
		j, _ := slices.BinarySearch(ys, row[y].Number)
		changed[name][i][j] = s.changed(row)
		for _, column := range v.drawn {
			at[key(name, column)][i][j] = numberOf(row[column])
		}
	}
	f := plots.SweepMapFigure{Title: s.sweep.Title, X: s.sweep.axisName(x), Y: s.sweep.axisName(y), Size: s.size, Note: s.note(v, names)}
	for _, column := range v.drawn {
		for _, name := range names {
			f.Maps = append(f.Maps, plots.SweepMap{Label: s.sweep.columnLabel(column), Name: name, X: xs, Y: ys, Values: at[key(name, column)], Changed: changed[name]})
		}
	}
	return plots.SweepMaps(f)
}

// changed reports whether a row's line is not the bowler's own.
func (s *picture) changed(row []report.Cell) bool {
	return s.sweep.Aims() && row[s.sweep.lineAt()].Text == string(scenario.ChangedLine)
}

// note is the sentence under the title.
func (s *picture) note(v view, names []string) string {
	drawn := thrown.Swept{Shots: len(s.rows), Maps: len(v.axes) == 2}
	for _, i := range v.others {
		if i > len(s.sweep.Parameters) {
			drawn.Each = append(drawn.Each, s.sweep.Keys[i])
		} else if q := &s.sweep.Parameters[i-1]; q.Levels > 1 {
			drawn.Each = append(drawn.Each, q.Path)
		}
	}
	if len(names) < 2 {
		drawn.Each = nil
	}
	for _, row := range s.rows {
		if s.changed(row) {
			drawn.OnOtherLines++
		}
		if slices.ContainsFunc(v.drawn, func(column int) bool { return row[column].Absent }) {
			drawn.Lacking++
		}
	}
	return drawn.Note()
}
