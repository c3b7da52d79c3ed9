package carry

import (
	"context"
	"errors"
	"math"
	"slices"

	"lanesim/pins"
	"lanesim/studies"
)

// Games plays games. First balls are a bowler's deliveries on the line of a setup, with leaves drawn from the
// stored table of racks. Second balls are the bowler's deliveries, each at a rack, on the line that converts
// the leave most often. No delivery is used twice, so games are independent. The [OwnLines] most frequent
// leaves have their own lines; each other leave uses the line of the most similar of these.
type Games struct {
	Setups []studies.Setup
	Spares []Spares // the second balls of each setup, as many as games need
	Games  int
	Seed   uint64

	studies.Work // its progress counts lines at leaves, of all setups
}

// GamesResult has the results of one setup's games.
type GamesResult struct {
	Scores []int

	Mean, SD float64
	Interval studies.Interval // of the mean, 95 %

	First             int // first balls at full racks, the tenth frame's included
	Strikes           int
	Leaves            int // left by first balls, with a second ball to follow
	Converted         int
	Splits            int // of the leaves
	SinglePins        int
	SinglesConverted  int
	LeavesWithoutLine int // kinds of leaves that no line reached
}

var errNoGames = errors.New("carry: there are no games to play")

// OwnLines is the number of leaves of a setup with their own lines in games.
const OwnLines = 24

// frames is the largest number of balls at full racks in a game.
const frames = 12

// Run plays the games. If the context ends there is no result.
func (q Games) Run(ctx context.Context) ([]GamesResult, error) {
	if q.Games < 1 || len(q.Setups) != len(q.Spares) {
		return nil, errNoGames
	}
	table := pins.Stored()
	firsts := make([][]pins.Leave, len(q.Setups)) // of each game's balls at full racks
	counts := make([][pins.All + 1]int, len(q.Setups))
	kinds := make([][]pins.Leave, len(q.Setups)) // the most frequent first
	total := 0
	for i, s := range q.Setups {
		thrown, err := Deliveries{s, q.Seed, q.Spares[i].Settings, studies.Work{Workers: q.Workers}}.throw(ctx, 0, q.Games*frames)
		if err != nil {
			return nil, err
		}
		for g := range q.Games {
			r := studies.Draws(q.Seed, studies.ForGames, uint64(g))
			for _, t := range thrown[g*frames : (g+1)*frames] {
				leave, u, v := pins.All, r.Float64(), r.Float64()
				if t.Reached {
					leave = turned(table.Draw(t.entry(), u, v), s.Release.Hand)
				}
				firsts[i] = append(firsts[i], leave)
			}
		}
		count := &counts[i]
		for _, l := range firsts[i] {
			count[l]++
		}
		kinds[i] = commonest(func(l pins.Leave) int { return count[l] })
		total += len(kinds[i])
	}
	var all []GamesResult
	done := 0
	for i := range q.Setups {
		spares := &q.Spares[i]
		if err := spares.Prepare(ctx); err != nil {
			return nil, err
		}
		outcomes := map[pins.Leave][]pins.Leave{}
		var played GamesResult
		var lines []SpareResult
		for _, l := range kinds[i] {
			spares.Deliveries = counts[i][l]
			line, err := spares.forGame(ctx, l, &lines)
			if none := (*NoSpareError)(nil); errors.As(err, &none) {
				played.LeavesWithoutLine++
				line.Outcomes = slices.Repeat([]pins.Leave{l}, counts[i][l])
			} else if err != nil {
				return nil, err
			}
			outcomes[l] = line.Outcomes
			done++
			q.Report(done, total)
		}
		for g := range q.Games {
			played.game(firsts[i][g*frames:(g+1)*frames], outcomes)
		}
		played.summarize()
		all = append(all, played)
	}
	return all, nil
}

// forGame returns the line at a leave: its own while there are fewer than OwnLines, else that of the most
// similar leave.
func (q *Spares) forGame(ctx context.Context, l pins.Leave, lines *[]SpareResult) (SpareResult, error) {
	if len(*lines) < OwnLines {
		line, err := q.Find(ctx, l)
		if err == nil {
			*lines = append(*lines, line)
		}
		return line, err
	}
	nearest := 0
	for i, line := range *lines {
		if (line.Leave ^ l).Len() < ((*lines)[nearest].Leave ^ l).Len() {
			nearest = i
		}
	}
	line := (*lines)[nearest]
	line.Leave = l
	var err error
	line.Converted, line.Outcomes, err = q.deliver(ctx, line.Release, l, 0, q.Deliveries)
	return line, err
}

// game plays one game with the leaves of its balls at full racks; second balls use up the outcomes at their
// leave.
func (p *GamesResult) game(firsts []pins.Leave, outcomes map[pins.Leave][]pins.Leave) {
	var balls []int
	next := 0
	// full rolls a ball at a full rack and returns the leave.
	full := func() pins.Leave {
		l := firsts[next]
		next++
		p.First++
		if l == 0 {
			p.Strikes++
		}
		balls = append(balls, pins.Count-l.Len())
		return l
	}
	// second rolls a ball at a leave and reports whether it is converted.
	second := func(l pins.Leave) bool {
		rest := outcomes[l][0]
		outcomes[l] = outcomes[l][1:]
		balls = append(balls, l.Len()-rest.Len())
		p.Leaves++
		if l.Split() {
			p.Splits++
		}
		if l.Len() == 1 {
			p.SinglePins++
			if rest == 0 {
				p.SinglesConverted++
			}
		}
		if rest == 0 {
			p.Converted++
		}
		return rest == 0
	}
	for frame := range 10 {
		l := full()
		last := frame == 9
		switch {
		case l != 0:
			if second(l) && last {
				full()
			}
		case last:
			if l = full(); l != 0 {
				second(l)
			} else {
				full()
			}
		}
	}
	p.Scores = append(p.Scores, Score(balls))
}

func (p *GamesResult) summarize() {
	n := float64(len(p.Scores))
	for _, s := range p.Scores {
		p.Mean += float64(s) / n
	}
	for _, s := range p.Scores {
		p.SD += (float64(s) - p.Mean) * (float64(s) - p.Mean)
	}
	p.SD = math.Sqrt(p.SD / max(n-1, 1))
	half := studies.Confident * p.SD / math.Sqrt(n)
	p.Interval = studies.Interval{Low: p.Mean - half, High: p.Mean + half}
}

// Less returns the mean difference of the scores in pins a game, this result minus the other, over the same
// games.
func (p GamesResult) Less(other GamesResult) studies.Mean {
	off := make([]float64, len(p.Scores))
	for g, s := range p.Scores {
		off[g] = float64(s - other.Scores[g])
	}
	return studies.MeanOf(off)
}
