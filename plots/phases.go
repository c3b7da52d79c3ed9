package plots

import (
	"sort"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/units"
)

// phase is a moment of a shot that figures mark.
type phase struct {
	word     string
	distance float64 // m
	lateral  float64 // m
}

// phases lists a shot's moments in the order of labelling, the most important for a bowler
// first.
func phases(s physics.Shot) []phase {
	var all []phase
	for _, m := range []struct {
		word  string
		state *physics.State
	}{
		{"breakpoint", s.Events.Breakpoint},
		{"friction read", s.Events.FrictionRead},
		{"hook starts", s.Events.HookStart},
		{"rolls", s.Events.RollStart},
	} {
		if m.state != nil {
			all = append(all, phase{m.word, m.state.Distance, m.state.Lateral})
		}
	}
	return all
}

// mark is a phase on the drawing: a tick across a line.
type mark struct {
	phase
	at   point
	ends [2]point
}

// cluster is a set of marks of one word that stand close together and share a
// label.
type cluster struct {
	word  string
	marks []mark
}

// clusters joins marks with the same word that are less than reach apart.
func clusters(marks []mark, reach float64) []cluster {
	var words []string
	byWord := map[string][]mark{}
	for _, m := range marks {
		if byWord[m.word] == nil {
			words = append(words, m.word)
		}
		byWord[m.word] = append(byWord[m.word], m)
	}
	var all []cluster
	for _, w := range words {
		group := byWord[w]
		sort.SliceStable(group, func(i, j int) bool { return group[i].at.x < group[j].at.x })
		start := len(all)
		for _, m := range group {
			last := len(all) - 1
			if last >= start {
				members := all[last].marks
				if distance(members[len(members)-1].at, m.at) < reach {
					all[last].marks = append(members, m)
					continue
				}
			}
			all = append(all, cluster{w, []mark{m}})
		}
	}
	return all
}

// label returns the word, with the distance if the figure has only one mark of it.
func (c cluster) label(withDistance bool) string {
	if withDistance && len(c.marks) == 1 {
		return c.word + " " + report.Fixed(c.marks[0].distance/units.Foot, 1) + " ft"
	}
	return c.word
}
