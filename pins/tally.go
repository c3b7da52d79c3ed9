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

// Tally counts what became of many racks. The zero value is an empty one.
type Tally struct {
	Racks  int
	Leaves [All + 1]int // by leave

	// First counts, for each pin, what touched it first: index 0 of a pin is the ball,
	// n pin n. Pins that nothing touched are in none.
	First [Count][Count + 1]int

	Ball [Count]int // racks in which the ball touched the pin

	passed          int // balls that came to the deck
	exits, headings float64
	overlap         float64
}

// AddMissed counts a rack to which no ball came.
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
	t.passed++
	t.exits += r.Exit
	t.headings += r.ExitHeading
	t.overlap = max(t.overlap, r.Overlap)
}

// Mirror returns the tally of the mirror image, with the pins' own numbers.
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

// ShareOf returns the share that a count has of all racks.
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
func (t *Tally) Exit() float64 { return t.exits / float64(t.passed) }

// ExitHeading returns the mean heading in rad with which it does.
func (t *Tally) ExitHeading() float64 { return t.headings / float64(t.passed) }

// Down returns the mean number of pins of a leave that fall.
func (t *Tally) Down(standing Leave) float64 {
	down := 0
	for l, n := range t.Leaves {
		down += n * (standing.Len() - Leave(l).Len())
	}
	return float64(down) / float64(t.Racks)
}

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

// Rolls asks what becomes of many racks of one kind.
type Rolls struct {
	Settings Settings

	// Delivery returns the k-th delivery, which comes to rack k. It is called by several
	// goroutines.
	Delivery func(k int) Delivery

	Standing Leave // 0 means All
	Seed     uint64
	Racks    int

	// Workers is how many racks are computed at a time; 0 means as many as there are
	// processors. The result does not depend on it.
	Workers int

	// Progress, if not nil, is called now and then with how many racks are done.
	Progress func(done, total int)

	// Each, if not nil, is given each rack's result, in order.
	Each func(k int, r Result)
}

// batch is how many racks are computed before they are counted.
const batch = 256

// Run rolls deliveries 0 to Racks − 1 at racks of the same numbers, and counts. If the
// context ends it returns the racks before the first that is not done, with the
// context's error; a delivery that cannot be ends it too.
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
