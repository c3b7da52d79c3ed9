package pins

import (
	"context"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"lanesim/internal/statistics"
	"lanesim/units"
)

// Tally counts the outcomes of many racks. The zero value is empty.
type Tally struct {
	Racks  int
	Leaves [All + 1]int // by leave

	// First counts, for each pin, what touched it first: index 0 of a pin is the ball,
	// n pin n. Pins that nothing touched are in none.
	First [Count][Count + 1]int

	Ball [Count]int // racks in which the ball touched the pin

	reached         int // balls that reached the deck
	exits, headings float64
	overlap         float64
}

// AddMissed counts a rack that no ball reached.
func (t *Tally) AddMissed(standing Leave) {
	t.Racks++
	t.Leaves[standing]++
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
	t.reached++
	t.exits += r.Exit
	t.headings += r.ExitHeading
	t.overlap = max(t.overlap, r.Overlap)
}

// Mirror returns the tally of the mirror image, with the numbers of the mirrored pins.
func (t Tally) Mirror() Tally {
	m := t
	for l := range t.Leaves {
		m.Leaves[Leave(l).Mirror()] = t.Leaves[l]
	}
	for i := range Count {
		to := mirrored[i+1] - 1
		m.Ball[to] = t.Ball[i]
		for by, n := range t.First[i] {
			m.First[to][mirrored[by]] = n
		}
	}
	return m
}

// Share is a share of racks with its interval of 95 % (Wilson, J. Am. Stat. Assoc. 22
// (1927) 209).
type Share struct{ Share, Low, High float64 }

// ShareOf returns a count of racks as a share of all.
func (t *Tally) ShareOf(count int) Share {
	if t.Racks == 0 {
		return Share{0, 0, 1}
	}
	low, high := statistics.Wilson(count, t.Racks, statistics.Normal(0.975))
	return Share{float64(count) / float64(t.Racks), low, high}
}

// Strikes returns the share of racks without a standing pin.
func (t *Tally) Strikes() Share { return t.ShareOf(t.Leaves[0]) }

// Exit returns the mean board at which the ball leaves the deck.
func (t *Tally) Exit() float64 { return t.exits / float64(t.reached) }

// ExitHeading returns the ball's mean heading there in rad.
func (t *Tally) ExitHeading() float64 { return t.headings / float64(t.reached) }

// Down returns the mean number of pins of a leave that fall.
func (t *Tally) Down(standing Leave) float64 {
	down := 0
	for l, n := range t.Leaves {
		down += n * (standing.Len() - Leave(l).Len())
	}
	return float64(down) / float64(t.Racks)
}

// Overlap returns the deepest overlap in m of two bodies in any rack.
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

// Rolls is a run of many racks with one leave.
type Rolls struct {
	Settings Settings

	// Delivery returns the delivery at rack k. Several goroutines call it.
	Delivery func(k int) Delivery

	Standing Leave // 0 means All
	Seed     uint64
	Racks    int

	// Workers is how many racks are computed at a time; 0 means as many as there are
	// processors. The result does not depend on it.
	Workers int

	// Progress, if not nil, is called now and then with the number of racks done.
	Progress func(done, total int)

	// Each, if not nil, is called with each rack's result, in order.
	Each func(k int, r Result)
}

// batch is how many racks are computed before they are counted.
const batch = 256

// Run rolls deliveries 0 to Racks − 1 at racks of the same numbers, and counts. If the
// context ends it returns the tally of the racks before the first that is not done, with
// the context's error; an invalid delivery ends it likewise.
func (q Rolls) Run(ctx context.Context) (Tally, error) {
	if q.Racks < 1 {
		return Tally{}, &units.FieldError{Package: "pins", Field: "Racks", Value: q.Racks, Rule: "must be 1 or more"}
	}
	if q.Standing == 0 {
		q.Standing = All
	}
	if q.Standing > All {
		return Tally{}, &units.FieldError{Package: "pins", Field: "Standing", Value: q.Standing, Rule: "must have pins from 1 to 10"}
	}
	if q.Workers < 1 {
		q.Workers = runtime.GOMAXPROCS(0)
	}
	q.Settings.PathSpacing = 0
	decks := make([]*Deck, min(q.Workers, q.Racks))
	for w := range decks {
		var err error
		if decks[w], err = NewDeck(q.Settings); err != nil {
			return Tally{}, err
		}
	}
	var tally Tally
	var results [batch]Result
	var failures [batch]error
	for from := 0; from < q.Racks; from += batch {
		n := min(batch, q.Racks-from)
		for i := range n {
			failures[i] = context.Canceled // not done
		}
		var next atomic.Int64
		var group sync.WaitGroup
		for _, deck := range decks {
			group.Go(func() {
				for i := int(next.Add(1)) - 1; i < n && ctx.Err() == nil; i = int(next.Add(1)) - 1 {
					k := from + i
					d := q.Delivery(k)
					if failures[i] = d.Validate(); failures[i] == nil {
						results[i] = deck.Roll(d, q.Standing, q.Seed, uint64(k))
					}
				}
			})
		}
		group.Wait()
		for i := range n {
			if failures[i] != nil {
				if err := ctx.Err(); err != nil {
					return tally, err
				}
				return tally, failures[i]
			}
			tally.Add(results[i])
			if q.Each != nil {
				q.Each(from+i, results[i])
			}
		}
		if q.Progress != nil {
			q.Progress(from+n, q.Racks)
		}
	}
	return tally, ctx.Err()
}
