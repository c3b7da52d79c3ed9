package scenario

import "lanesim/patterns"

// Sets are the boards on which a pattern's ratio is meant.
func (p Pattern) Sets() patterns.BoardSets {
	if p.Crown != nil {
		return p.Crown.Sets
	}
	return patterns.BoardSets{}
}

// Table writes a pattern out as a table.
func (p Pattern) Table() (patterns.Grid, error) {
	if p.Grid != nil {
		return *p.Grid, nil
	}
	grid, err := patterns.GridOf(p.Oil)
	grid.Name, grid.About = p.Name, p.About
	return grid, err
}
