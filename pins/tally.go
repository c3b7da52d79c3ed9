package pins

import (
	"context"
	"math"
	"slices"
	"sync"

	"lanesim/internal/statistics"
)

// Tally counts what became of many racks. The zero value is an empty one.
type Tally struct {
	Racks  int
	Leaves [All + 1]int // by leave

	// First counts, for each pin, what touched it first: index 0 of a pin is the ball,
	// n pin n. Pins that nothing touched are in none.
	First [Count][Count + 1]int

	Ball [Count]int // racks in which the ball touched the pin

	exits, headings float64
	overlap         float64
}

// Add counts a rack.
func (t *Tally) Add(r Result) {
	t.Racks++
	t.Leaves[r.Standing]++
	for i, first := range r.First {
		if first.By != Untouched {
			t.First[i][first.By]++
		}
		if r.Ball.Has(i + 1) {
			t.Ball[i]++
		}
	}
	t.exits += r.Exit
	t.headings += r.ExitHeading
	t.overlap = max(t.overlap, r.Overlap)
}

// Share is a share of racks with its interval of 95 % (Wilson, J. Am. Stat. Assoc. 22
// (1927) 209).
type Share struct{ Share, Low, High float64 }

// ShareOf returns the share that a count has of all racks.
func (t *Tally) ShareOf(count int) Share {
	if t.Racks == 0 {
		return Share{0, 0, 1}
	}
	z := statistics.Normal(0.975)
	n := float64(t.Racks)
	p := float64(count) / n
	middle := (p + z*z/(2*n)) / (1 + z*z/n)
	half := z / (1 + z*z/n) * math.Sqrt(p*(1-p)/n+z*z/(4*n*n))
	return Share{p, max(0, middle-half), min(1, middle+half)}
}

// Strikes returns the share of racks without a standing pin.
func (t *Tally) Strikes() Share { return t.ShareOf(t.Leaves[0]) }

// Exit returns the mean board, and ExitHeading the mean heading in rad, at which the
// ball leaves the deck.
func (t *Tally) Exit() float64        { return t.exits / float64(t.Racks) }
func (t *Tally) ExitHeading() float64 { return t.headings / float64(t.Racks) }

// Overlap returns the deepest in m that bodies of any rack were found in each other.
func (t *Tally) Overlap() float64 { return t.overlap }

// Commonest returns the leaves with standing pins, the commonest first, n at most.
func (t *Tally) Commonest(n int) []Leave {
	var list []Leave
	for l := Leave(1); l <= All; l++ {
		if t.Leaves[l] > 0 {
			list = append(list, l)
		}
	}
	slices.SortStableFunc(list, func(a, b Leave) int { return t.Leaves[b] - t.Leaves[a] })
	return list[:min(n, len(list))]
}

// Splits returns the share of racks that leave a split.
func (t *Tally) Splits() Share {
	count := 0
	for l, n := range t.Leaves {
		if Leave(l).Split() {
			count += n
		}
	}
	return t.ShareOf(count)
}

// Racks rolls deliveries 0 to racks − 1 at racks of the same numbers, and counts. The
// answer follows from the seed whatever the number of workers. If the context ends it
// returns what is done, with the context's error; a delivery that cannot be ends it too.
func Racks(ctx context.Context, s Settings, delivery func(k int) Delivery, standing Leave, seed uint64, racks, workers int) (Tally, error) {
	if racks < 1 {
		return Tally{}, &FieldError{"racks", racks, "must be 1 or more"}
	}
	if standing == 0 || standing > All {
		return Tally{}, &FieldError{"standing", standing, "must have pins from 1 to 10"}
	}
	workers = max(1, min(workers, racks))
	s.PathSpacing = 0
	var tally Tally
	results := make([]Result, racks)
	done := make([]bool, racks)
	failures := make([]error, workers)
	var group sync.WaitGroup
	for w := range workers {
		deck, err := NewDeck(s)
		if err != nil {
			return Tally{}, err
		}
		group.Go(func() {
			for k := w; k < racks && ctx.Err() == nil; k += workers {
				d := delivery(k)
				if err := d.Validate(); err != nil {
					failures[w] = err
					return
				}
				results[k], done[k] = deck.Roll(d, standing, seed, uint64(k)), true
			}
		})
	}
	group.Wait()
	for k, r := range results {
		if done[k] {
			tally.Add(r)
		}
	}
	for _, err := range failures {
		if err != nil {
			return tally, err
		}
	}
	return tally, ctx.Err()
}
