package report

// Choice is what was chosen of columns: rows, or the points of which each row has many.
// One of the two is nil; if nothing was chosen, both are.
type Choice[R, P any] struct {
	Rows   Columns[R]
	Points Columns[P]
}

// Choose finds columns by name: those of rows by the first function, which may return
// several, those of points by their keys. With a column of points among them those of
// rows are repeated for each point, by way of lift. Unknown are the names of which there
// is no column.
func Choose[R, P any](names []string, row func(name string) Columns[R], points Columns[P], lift func(Columns[R]) Columns[P]) (c Choice[R, P], unknown []string) {
	var all Columns[P]
	pointwise := false
	for _, name := range names {
		if rows := row(name); rows != nil {
			c.Rows = append(c.Rows, rows...)
			all = append(all, lift(rows)...)
		} else if point, known := points.Find(name); known {
			all, pointwise = append(all, point), true
		} else {
			unknown = append(unknown, name)
		}
	}
	if pointwise {
		return Choice[R, P]{Points: all}, unknown
	}
	return c, unknown
}
