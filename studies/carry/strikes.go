package carry

import (
	"context"
	"math"
	"slices"

	"lanesim/physics"
	"lanesim/pins"
	"lanesim/studies"
)

// Strikes finds the results of bowlers' first balls from the stored table of racks. Each delivery is drawn
// from the setup's repeatability, with the same deviates for all setups, and has the table's shares of
// strikes and leaves at its entry.
type Strikes struct {
	Setups []studies.Setup
	Shots  int // deliveries of each setup
	Misses int // deliveries thrown again without each deviation
	Seed   uint64

	Settings physics.Settings

	studies.Work // its progress counts shots
}

// StrikesResult has the results of one setup's first balls.
type StrikesResult struct {
	Share, Splits, Down studies.Mean               // shares of strikes and of splits; number of pins down
	Leaves              [pins.All + 1]studies.Mean // shares
	Without             []Without

	shares []float64 // probability of a strike, by delivery
}

// Without is the gain in the share of strikes without a deviation.
type Without struct {
	Of   studies.Varied
	Gain studies.Mean
}

// Less returns the difference of the shares of strikes, this setup minus the other, over the same deliveries.
func (s StrikesResult) Less(other StrikesResult) studies.Mean {
	off := slices.Clone(s.shares)
	for k := range off {
		off[k] -= other.shares[k]
	}
	return studies.MeanOf(off)
}

// Run throws the deliveries. If the context ends, it returns the finished setups with the context's error.
func (q Strikes) Run(ctx context.Context) ([]StrikesResult, error) {
	var list []StrikesResult
	done, total := 0, 0
	misses := min(q.Misses, q.Shots)
	for _, s := range q.Setups {
		total += q.Shots + len(s.Repeatability.Deviating())*misses
	}
	step := func(shots int) {
		done += shots
		q.Report(done, total)
	}
	for _, s := range q.Setups {
		deliveries := Deliveries{s, q.Seed, q.Settings, studies.Work{Workers: q.Workers}}
		thrown, err := deliveries.throw(ctx, 0, q.Shots)
		if err != nil {
			return list, err
		}
		step(q.Shots)
		one := sharesOf(thrown)
		deliverer, err := s.Repeatability.Deliverer(s.Release)
		if err != nil {
			return list, err
		}
		for _, v := range s.Repeatability.Deviating() {
			again, err := deliveries.throwBy(ctx, deliverer.Without(v), 0, misses)
			if err != nil {
				return list, err
			}
			step(misses)
			gains := make([]float64, misses)
			for k, t := range again {
				gains[k] = t.strikes() - one.shares[k]
			}
			one.Without = append(one.Without, Without{v, studies.MeanOf(gains)})
		}
		for l, share := range one.Leaves {
			if turned := turned(pins.Leave(l), s.Release.Hand); int(turned) > l {
				one.Leaves[l], one.Leaves[turned] = one.Leaves[turned], share
			}
		}
		list = append(list, one)
	}
	return list, nil
}

// strikes returns the probability of a strike for a delivery.
func (t arrival) strikes() float64 {
	if !t.Reached {
		return 0
	}
	return pins.Stored().Strikes(t.entry())
}

func sharesOf(list []arrival) (s StrikesResult) {
	table := pins.Stored()
	var splits, down []float64
	var squares [pins.All + 1]float64
	n := float64(len(list))
	for _, t := range list {
		var leaves [pins.All + 1]float64
		if t.Reached {
			table.AddLeaves(t.entry(), 1, &leaves)
		} else {
			leaves[pins.All] = 1
		}
		split, fallen := 0.0, 0.0
		for l, share := range leaves {
			if share == 0 {
				continue
			}
			s.Leaves[l].Value += share / n
			squares[l] += share * share / n
			fallen += share * float64(pins.Count-pins.Leave(l).Len())
			if pins.Leave(l).Split() {
				split += share
			}
		}
		s.shares = append(s.shares, leaves[0])
		splits, down = append(splits, split), append(down, fallen)
	}
	for l := range s.Leaves {
		m := &s.Leaves[l]
		half := studies.Confident * math.Sqrt(max(0, squares[l]-m.Value*m.Value)/max(n-1, 1))
		m.Interval = studies.Interval{Low: max(0, m.Value-half), High: min(1, m.Value+half)}
	}
	s.Share, s.Splits, s.Down = studies.MeanOf(s.shares), studies.MeanOf(splits), studies.MeanOf(down)
	return s
}

// Commonest returns the n most frequent leaves, without the strike.
func (s StrikesResult) Commonest(n int) []pins.Leave {
	list := commonest(func(l pins.Leave) float64 { return s.Leaves[l].Value })
	return list[:min(n, len(list))]
}
