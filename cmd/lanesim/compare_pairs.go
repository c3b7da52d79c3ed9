package main

import (
	"maps"
	"slices"
	"strconv"
	"strings"
)

// ofOneBowler reports whether two shots are of one bowler and share the ball or
// the lane.
func (c *comparison) ofOneBowler(i, j int) bool {
	a, b := c.Shots[i], c.Shots[j]
	return a.Bowler == b.Bowler && (a.Ball == b.Ball || a.Lane == b.Lane)
}

// pairs lists the shots to be compared.
func (c *comparison) pairs() [][2]int {
	var some, all [][2]int
	for i := range c.Shots {
		for j := i + 1; j < len(c.Shots); j++ {
			all = append(all, [2]int{i, j})
			if c.ofOneBowler(i, j) {
				some = append(some, [2]int{i, j})
			}
		}
	}
	if some != nil {
		return some
	}
	return all
}

// blocks lists the shots that belong together: those of each bowler or, where
// bowlers are compared with each other, all.
func (c *comparison) blocks() [][]int {
	if p := c.pairs(); !c.ofOneBowler(p[0][0], p[0][1]) {
		every := make([]int, len(c.Shots))
		for i := range every {
			every[i] = i
		}
		return [][]int{every}
	}
	var names []string
	byName := map[string][]int{}
	for i, t := range c.Shots {
		if byName[t.Bowler] == nil {
			names = append(names, t.Bowler)
		}
		byName[t.Bowler] = append(byName[t.Bowler], i)
	}
	var blocks [][]int
	for _, n := range names {
		blocks = append(blocks, byName[n])
	}
	return blocks
}

// aims reports whether a shot's scenario leaves its launch angle to be found.
func (c *comparison) aims(i int) bool {
	bowler := c.scenario[i].Bowlers[c.deliveries[i].Bowler]
	return bowler.AimAtPocket && !bowler.LineToFind()
}

// lines tells whose launch angle each shot takes, as [compare.Study] has it:
// the balls of a bowler on a lane that start from one board take the angle of the
// first. An angle that is written in the scenario stays.
func (c *comparison) lines(aim string) []int {
	type start struct {
		bowler, lane      string
		laydown, distance float64
	}
	lines := make([]int, len(c.list))
	first := map[start]int{}
	for i, d := range c.list {
		from := start{c.Shots[i].Bowler, c.Shots[i].Lane, d.Release.Laydown, d.Release.LaydownDistance}
		finder, known := first[from]
		switch {
		case aim == aimEach:
			lines[i] = i
		case known && c.aims(i):
			lines[i] = lines[finder]
			c.list[i].Release.Angle = c.list[finder].Release.Angle
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

// detailed lists the pairs of which details are told: those that are named, or
// the first.
func (c *comparison) detailed(names []string) ([]int, error) {
	if len(names) == 0 {
		return []int{0}, nil
	}
	chosen := map[int]bool{}
	for _, name := range names {
		found := false
		for k, p := range c.pairs() {
			a, b := c.Names(p[0], p[1])
			if name == "all" || sameNames(name, a, b) || sameNames(name, b, a) {
				chosen[k], found = true, true
			}
		}
		if !found {
			var have []string
			for _, p := range c.pairs() {
				a, b := c.Names(p[0], p[1])
				if pair := strconv.Quote(a + ", " + b); !slices.Contains(have, pair) {
					have = append(have, pair)
				}
			}
			return nil, wrongInput("--pair %q is no pair: there are %s", name, strings.Join(have, ", "))
		}
	}
	return slices.Sorted(maps.Keys(chosen)), nil
}

// sameNames reports whether a flag names two shots, with a comma between them.
func sameNames(flag, a, b string) bool {
	rest, ok := strings.CutPrefix(strings.TrimSpace(flag), a)
	if !ok {
		return false
	}
	rest, ok = strings.CutPrefix(strings.TrimSpace(rest), ",")
	return ok && strings.TrimSpace(rest) == b
}
