package plots

import (
	"sort"

	"lanesim/lane"
	"lanesim/physics"
)

// phase is a moment of a shot that figures mark.
type phase struct {
	word     string
	distance float64 // m
	lateral  float64 // m
}

// Words for the moments.
const (
	hookStarts  = "hook starts"
	breakpoint  = "breakpoint"
	sharpestRun = "sharpest bend"
	rolls       = "rolls"
)

// phases lists a shot's moments in the order in which they are to be
// labelled: what the bowler looks for first comes first.
func phases(s physics.Shot) []phase {
	var all []phase
	if b := turning(s); b != nil {
		word := breakpoint
		if b.Kind == physics.Curvature {
			word = sharpestRun
		}
		all = append(all, phase{word, b.Distance, b.Lateral})
	}
	if h := s.Events.HookStart; h != nil {
		all = append(all, phase{hookStarts, h.Distance, h.Lateral})
	}
	if r := s.Events.RollStart; r != nil {
		all = append(all, phase{rolls, r.Distance, r.Lateral})
	}
	return all
}

// sameSpot is the distance in m within which a breakpoint and the end of a shot
// that never reached the pins are told as one: such a shot was still going
// outward or bending when it ended.
const sameSpot = lane.Foot

// turning is the shot's breakpoint, if the shot went on from there.
func turning(s physics.Shot) *physics.Breakpoint {
	b := s.Events.Breakpoint
	if b != nil && s.Events.Pins == nil && len(s.Path) > 0 &&
		s.Path[len(s.Path)-1].Distance-b.Distance < sameSpot {
		return nil
	}
	return b
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

// label is the word, with the distance where one mark stands alone in its
// figure.
func (c cluster) label(withDistance bool) string {
	if withDistance && len(c.marks) == 1 {
		return c.word + " " + decimal(c.marks[0].distance/lane.Foot, 1) + " ft"
	}
	return c.word
}
