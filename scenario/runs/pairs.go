package runs

import (
	"cmp"
	"maps"
	"slices"
	"strconv"
	"strings"

	"lanesim/internal/input"
	"lanesim/report/thrown"
)

// What the two shots of a pair differ in.
const (
	betweenBalls   = "balls"
	betweenLines   = "lines"
	betweenLanes   = "lanes"
	betweenBowlers = "bowlers"
	betweenAll     = "all"
)

// Betweens lists what the two shots of a pair may differ in.
func Betweens() []string {
	return []string{betweenBalls, betweenLines, betweenLanes, betweenBowlers, betweenAll}
}

// differ returns what two shots differ in by name, apart from their files: "" if nothing, betweenAll if
// several.
func (c *Comparison) differ(i, j int) string {
	a, b := c.Shots[i], c.Shots[j]
	found := ""
	for _, q := range []struct {
		name string
		same bool
	}{{betweenBalls, a.Ball == b.Ball}, {betweenLines, a.Line == b.Line}, {betweenLanes, a.Lane == b.Lane}, {betweenBowlers, a.Person == b.Person}} {
		switch {
		case q.same:
		case found == "":
			found = q.name
		default:
			return betweenAll
		}
	}
	return found
}

// ChoosePairs chooses the pairs of shots to compare: those that differ only in between. If between is empty,
// it is the first of balls, lines and lanes in which any shots of one bowler differ, otherwise all pairs are
// chosen. Shots that differ only in their files are always a pair. Pairs are sorted by bowler, then by lane.
func (c *Comparison) ChoosePairs(between string) error {
	by := map[string][][2]int{}
	for i := range c.Shots {
		for j := i + 1; j < len(c.Shots); j++ {
			d := c.differ(i, j)
			by[d] = append(by[d], [2]int{i, j})
			if d != betweenAll {
				by[betweenAll] = append(by[betweenAll], [2]int{i, j})
			}
		}
	}
	if between == "" {
		between = betweenAll
		tried := []string{betweenBalls, betweenLines, betweenLanes, ""}
		if i := slices.IndexFunc(tried, func(b string) bool { return len(by[b]) > 0 }); i >= 0 {
			between = tried[i]
		}
	}
	c.Chosen = by[between]
	if between != betweenAll && between != "" {
		c.Chosen = append(c.Chosen, by[""]...)
	}
	if len(c.Chosen) == 0 {
		return input.Wrong("--between %s: no two shots differ in that alone", between)
	}
	person, lane := c.places(func(s thrown.Shot) string { return s.Person }), c.places(func(s thrown.Shot) string { return s.Lane })
	slices.SortStableFunc(c.Chosen, func(p, q [2]int) int {
		return cmp.Or(cmp.Compare(person[p[0]], person[q[0]]), cmp.Compare(lane[p[0]], lane[q[0]]), cmp.Compare(p[0], q[0]), cmp.Compare(p[1], q[1]))
	})
	return nil
}

// places returns, for each shot, the index of its name among the different names.
func (c *Comparison) places(of func(thrown.Shot) string) []int {
	var seen []string
	places := make([]int, len(c.Shots))
	for i, s := range c.Shots {
		if places[i] = slices.Index(seen, of(s)); places[i] < 0 {
			places[i], seen = len(seen), append(seen, of(s))
		}
	}
	return places
}

// Panels groups the shots that are connected by pairs.
func (c *Comparison) Panels() [][]int {
	var panels [][]int
	of := func(shot int) int {
		return slices.IndexFunc(panels, func(panel []int) bool { return slices.Contains(panel, shot) })
	}
	for _, p := range c.Chosen {
		for _, shot := range p {
			if of(shot) < 0 {
				panels = append(panels, []int{shot})
			}
		}
		if first, second := min(of(p[0]), of(p[1])), max(of(p[0]), of(p[1])); first != second {
			panels[first] = slices.Sorted(slices.Values(slices.Concat(panels[first], panels[second])))
			panels = slices.Delete(panels, second, second+1)
		}
	}
	return panels
}

// aims reports whether a shot's launch angle must be found.
func (c *Comparison) aims(i int) bool {
	bowler := c.Scenarios[i].Bowlers[c.At[i].Bowler]
	return bowler.AimAtPocket && !bowler.LineToFind()
}

// Lines returns whose launch angle each shot uses, for [compare.Study]: the balls of a bowler on a lane with
// the same laydown use the angle of the first. An angle given in the scenario is kept.
func (c *Comparison) Lines(each bool) []int {
	type start struct {
		bowler, lane      string
		laydown, distance float64
	}
	lines := make([]int, len(c.Deliveries))
	first := map[start]int{}
	for i, d := range c.Deliveries {
		from := start{c.Shots[i].Bowler, c.Shots[i].Lane, d.Release.Laydown, d.Release.LaydownDistance}
		finder, known := first[from]
		switch {
		case each:
			lines[i] = i
		case known && c.aims(i):
			lines[i] = lines[finder]
			c.Deliveries[i].Release.Angle = c.Deliveries[finder].Release.Angle
		case c.aims(i):
			lines[i] = i
		default:
			lines[i] = -1
		}
		if !known {
			first[from] = i
		}
	}
	return lines
}

// Detailed returns the pairs to show in detail: the named ones, or the first.
func (c *Comparison) Detailed(names []string) ([]int, error) {
	if len(names) == 0 {
		return []int{0}, nil
	}
	chosen := map[int]bool{}
	for _, name := range names {
		found := false
		for k, p := range c.Chosen {
			a, b := c.Names(p[0], p[1])
			if name == "all" || sameNames(name, a, b) || sameNames(name, b, a) {
				chosen[k], found = true, true
			}
		}
		if !found {
			var have []string
			for _, p := range c.Chosen {
				a, b := c.Names(p[0], p[1])
				if pair := strconv.Quote(a + ", " + b); !slices.Contains(have, pair) {
					have = append(have, pair)
				}
			}
			return nil, input.Wrong("--pair %q is no pair: there are %s", name, strings.Join(have, ", "))
		}
	}
	return slices.Sorted(maps.Keys(chosen)), nil
}

// sameNames reports whether a flag names two shots, separated by a comma.
func sameNames(flag, a, b string) bool {
	rest, ok := strings.CutPrefix(strings.TrimSpace(flag), a)
	if !ok {
		return false
	}
	rest, ok = strings.CutPrefix(strings.TrimSpace(rest), ",")
	return ok && strings.TrimSpace(rest) == b
}
