package report

import "slices"

// ChooseOfThrow finds columns of shots and of the points of their paths.
func ChooseOfThrow(names []string) (Choice[Shot, PathPoint], []string) {
	return Choose(names, func(name string) Columns[Shot] {
		if c, known := nameColumns.Find(name); known {
			return Columns[Shot]{c}
		}
		if c, known := FindShotColumn(name); known {
			return Columns[Shot]{c}
		}
		return nil
	}, pointColumns(), OfPoints)
}

// ChooseOfComparison finds columns of pairs, quantities of their shots, and columns of
// the distances along the paths.
func ChooseOfComparison(names []string) (Choice[Pair, Apart], []string) {
	return Choose(names, func(name string) Columns[Pair] {
		if c, known := pairColumns.Find(name); known {
			return Columns[Pair]{c}
		}
		if c, known := FindShotColumn(name); known {
			return OfBoth(c)
		}
		return nil
	}, apartColumns, OfDistances)
}

// ListOfThrow tells which columns a throw has.
func ListOfThrow() string {
	return "Of a shot:\n\n" + ColumnList(slices.Concat(nameColumns, shotColumns)) +
		"\nOf a point of its path; what is of the shot is then repeated:\n\n" + ColumnList(stateColumns)
}

// ListOfComparison tells which columns a comparison has.
func ListOfComparison() string {
	return "Of a pair:\n\n" + ColumnList(pairColumns) +
		"\nOf a distance along the paths; what is of the pair is then repeated:\n\n" + ColumnList(apartColumns) +
		"\nOf both shots of a pair, and their difference if it is a number:\n\n" + ColumnList(shotColumns)
}

// KeysOfThrow and KeysOfComparison are the names that can be chosen.
func KeysOfThrow() []string {
	return slices.Concat(nameColumns.Keys(), shotColumns.Keys(), stateColumns.Keys())
}

// KeysOfComparison is described at KeysOfThrow.
func KeysOfComparison() []string {
	return slices.Concat(pairColumns.Keys(), apartColumns.Keys(), shotColumns.Keys())
}
