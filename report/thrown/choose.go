package thrown

import (
	"slices"

	"lanesim/report"
)

// Choice has the chosen columns: of rows, or of the points within rows. One of the two is nil, or both if
// nothing was chosen.
type Choice[R, P any] struct {
	Rows   report.Columns[R]
	Points report.Columns[P]
}

// Choose finds columns by name. row returns the columns of rows of a name, points are found by their keys. If
// a column of points is among them, lift converts the columns of rows, which are then repeated for each
// point. unknown has the names without a column.
func Choose[R, P any](names []string, row func(name string) report.Columns[R], points report.Columns[P], lift func(report.Columns[R]) report.Columns[P]) (c Choice[R, P], unknown []string) {
	var all report.Columns[P]
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

// ChooseOfThrow finds columns of shots and of the points of their paths.
func ChooseOfThrow(names []string) (Choice[Shot, PathPoint], []string) {
	return Choose(names, func(name string) report.Columns[Shot] {
		if c, known := nameColumns.Find(name); known {
			return report.Columns[Shot]{c}
		}
		if c, known := FindShotColumn(name); known {
			return report.Columns[Shot]{c}
		}
		return nil
	}, pointColumns(), OfPoints)
}

// ChooseOfComparison finds columns of pairs, quantities of their shots, and columns of
// the distances along the paths.
func ChooseOfComparison(names []string) (Choice[Pair, Apart], []string) {
	return Choose(names, func(name string) report.Columns[Pair] {
		if c, known := pairColumns.Find(name); known {
			return report.Columns[Pair]{c}
		}
		if c, known := FindShotColumn(name); known {
			return OfBoth(c)
		}
		return nil
	}, apartColumns, OfDistances)
}

// ListOfThrow describes the columns of a throw.
func ListOfThrow() string {
	return "Of a shot:\n\n" + slices.Concat(nameColumns, shotColumns).List() +
		"\nOf a point of its path; what is of the shot is then repeated:\n\n" + stateColumns.List()
}

// ListOfComparison describes the columns of a comparison.
func ListOfComparison() string {
	return "Of a pair:\n\n" + pairColumns.List() +
		"\nOf a distance along the paths; what is of the pair is then repeated:\n\n" + apartColumns.List() +
		"\nOf both shots of a pair, and their difference if it is a number:\n\n" + shotColumns.List()
}

// KeysOfThrow returns the names of the columns of a throw.
func KeysOfThrow() []string {
	return slices.Concat(nameColumns.Keys(), shotColumns.Keys(), stateColumns.Keys())
}

// KeysOfComparison returns the names of the columns of a comparison.
func KeysOfComparison() []string {
	return slices.Concat(pairColumns.Keys(), apartColumns.Keys(), shotColumns.Keys())
}
