package scenario

import (
	"errors"
	"fmt"
	"strconv"

	"lanesim/lane"
	"lanesim/patterns"
)

func crownNumbers(c *patterns.Crown) quantities {
	return quantities{{"length", &c.Length}, {"volume", &c.Volume}, {"ratio", &c.Ratio}, {"plateau", &c.Plateau}, {"shoulder", &c.Shoulder},
		{"front_to_back", &c.FrontToBack}, {"fall_off", &c.FallOff}}
}

// pattern builds a pattern, nil after a problem.
func (r *reader) pattern(v *value, stem string) *Pattern {
	if v.form == nil {
		return nil
	}
	name, about := stem, v.field("about").text
	if v.has("name") {
		name = v.field("name").text
	}
	if v.form.word == kindGrid {
		return r.gridOf(v, name, about)
	}
	for _, set := range []string{"inside", "outside"} {
		if s := v.field("boards").field(set); s.sound() && s.items[1].number < s.items[0].number {
			r.fail(s, "boards are given from low to high", "")
		}
	}
	if !v.sound() {
		return nil
	}
	sets := v.field("boards")
	crown := patterns.Crown{Name: name, About: about, Sets: patterns.BoardSets{Inside: boards(sets.field("inside")), Outside: boards(sets.field("outside"))}}
	crownNumbers(&crown).read(v)
	film, err := crown.Build()
	if err != nil {
		for _, e := range unjoin(err) {
			at, message := v, e.Error()
			if s := (*patterns.ShapeError)(nil); errors.As(e, &s) && v.has(s.Field) {
				at, message = v.field(s.Field), s.Reason
			}
			r.complain(v, at, message)
		}
		return nil
	}
	return &Pattern{Name: name, About: about, Kind: kindCrown, Crown: &crown, Oil: film}
}

// complain reports a problem at a value or, if that is a default, at the whole that it is
// part of.
func (r *reader) complain(whole, part *value, message string) {
	if part.given {
		r.fail(part, message, "")
		return
	}
	whole.bad = true
	r.add(whole.at, part.path, message, "")
}

// boards resolves a run of boards.
func boards(v *value) patterns.BoardRange {
	return patterns.BoardRange{From: int(v.items[0].number), To: int(v.items[1].number)}
}

// gridOf builds a grid, nil after a problem.
func (r *reader) gridOf(v *value, name, about string) *Pattern {
	distances, units := v.field("distances"), v.field("units")
	if distances.sound() {
		for i := 1; i < len(distances.items); i++ {
			if d := distances.items; d[i].number <= d[i-1].number {
				r.fail(d[i], d[i].text+" does not come after "+d[i-1].text, "")
			}
		}
		if last := distances.items[len(distances.items)-1]; last.number == 0 && last.sound() {
			r.fail(last, "the oil ends at the foul line", "")
		}
	}
	if !distances.bad && !units.bad && len(units.items) != len(distances.items) {
		r.fail(units, fmt.Sprintf("has %s of film for %s", plural(len(units.items), "row"), plural(len(distances.items), "distance")), "")
	}
	if !v.sound() {
		return nil
	}
	grid := patterns.Grid{Name: name, About: about}
	for i, d := range distances.items {
		grid.Distances = append(grid.Distances, d.number)
		row := make([]float64, lane.Boards)
		for j, u := range units.items[i].items {
			row[j] = u.number
		}
		grid.Units = append(grid.Units, row)
	}
	return r.grid(v, grid)
}

// grid builds a grid, nil after a problem.
func (r *reader) grid(v *value, grid patterns.Grid) *Pattern {
	made, err := GridPattern(grid)
	if err != nil {
		for _, e := range unjoin(err) {
			message := e.Error()
			if g := (*patterns.GridError)(nil); errors.As(e, &g) && g.Row >= 0 {
				message = "row " + strconv.Itoa(g.Row+1) + ": " + g.Reason
			}
			r.fail(v, message, "")
		}
	}
	return made
}
