package carry

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"lanesim/physics"
	"lanesim/pins"
	"lanesim/studies"
	"lanesim/units"
)

// Spares finds lines at leaves for one bowler with one ball on one lane. Call [Spares.Prepare] first: it
// throws the shots from which lines are picked.
type Spares struct {
	Setup studies.Setup

	// Laydowns are the boards to choose from; empty means the setup's own.
	Laydowns []float64

	Deliveries int // number from which a line's share is counted; 0 means DefaultSpareDeliveries
	Seed       uint64
	Deck       pins.Settings
	Settings   physics.Settings

	studies.Work // its progress counts the shots of Prepare

	lines   [][]arrival // for each laydown, by launch angle
	scatter []float64   // boards by which sample deliveries miss at the pins
}

// SpareResult is a line at a leave.
type SpareResult struct {
	Leave   pins.Leave
	Release physics.Release
	Arrows  float64       // board at the arrows at which the ball is launched
	Entry   physics.State // at the head pin's distance, without deviations

	Converted studies.Count // the bowler's own deliveries
	Outcomes  []pins.Leave  // pins left standing after each of them

	// Window is the range of boards at the head pin's distance, about the line or nearest to it, from which
	// the leave is converted in more than half of the racks. It is empty if there is none, and before
	// [Spares.FindWindow].
	Window physics.Window
}

// Numbers of the search.
const (
	DefaultSpareDeliveries = 300

	widestAngle   = 6.0 // degrees to either side
	angleStep     = 0.1 // degrees
	perStep       = 4   // places at which racks are rolled, for each step of the angle
	racksPerPlace = 2
	missSamples   = 60   // deliveries that sample a bowler's scatter
	tried         = 3    // lines tried with deliveries before one is chosen
	trial         = 60   // deliveries of each of these
	climbed       = 120  // deliveries by which the angle is chosen: paired, they distinguish shares four points apart
	leastClimbed  = 0.03 // share
	mostClimbed   = 0.9  // share
	trialFrom     = 1 << 20
	windowRacks   = 8
	mostBeside    = 3.0 // boards from the line to its window
)

// NoSpareError means that no line reaches a leave.
type NoSpareError struct{ Leave pins.Leave }

func (e *NoSpareError) Error() string {
	return fmt.Sprintf("no launch angle within ±%g° brings the ball to %v", widestAngle, e.Leave)
}

// Prepare throws the shots from which lines are picked.
func (q *Spares) Prepare(ctx context.Context) error {
	if q.Deliveries <= 0 {
		q.Deliveries = DefaultSpareDeliveries
	}
	if len(q.Laydowns) == 0 {
		q.Laydowns = []float64{q.Setup.Release.Laydown}
	}
	q.Settings = studies.ForManyShots(q.Settings)
	q.Settings.EndOnly = true
	angles := int(math.Round(2*widestAngle/angleStep)) + 1
	q.lines = make([][]arrival, len(q.Laydowns))
	for i := range q.lines {
		q.lines[i] = make([]arrival, angles)
	}
	err := studies.InParallel(ctx, q.Workers, len(q.Laydowns)*len(q.lines[0]), q.Progress, func(t *physics.Thrower, job int) error {
		i, k := job/len(q.lines[0]), job%len(q.lines[0])
		shot, err := t.Throw(q.Setup.Lane, q.Setup.Ball, q.release(i, q.angle(float64(k))), q.Settings)
		if err == nil {
			q.lines[i][k] = arrivalOf(q.Setup, shot)
		}
		return err
	})
	if err != nil {
		return err
	}
	// The scatter at the pins differs little between lines: it is sampled on the middle one of those that
	// reach the pins.
	var reached [][2]int
	for i, line := range q.lines {
		for k, t := range line {
			if t.Reached {
				reached = append(reached, [2]int{i, k})
			}
		}
	}
	if len(reached) == 0 {
		return &NotAtPinsError{physics.Gutter}
	}
	middle := reached[len(reached)/2]
	s := q.Setup
	s.Release = q.release(middle[0], q.angle(float64(middle[1])))
	list, err := Deliveries{s, q.Seed, q.Settings, studies.Work{Workers: q.Workers}}.throw(ctx, trialFrom, missSamples)
	if err != nil {
		return err
	}
	q.scatter = nil
	for _, t := range list {
		if t.Reached {
			q.scatter = append(q.scatter, t.Board-q.lines[middle[0]][middle[1]].Board)
		} else {
			q.scatter = append(q.scatter, math.Inf(1))
		}
	}
	return nil
}

func (q *Spares) angle(k float64) float64 { return (k*angleStep - widestAngle) * units.Degree }

func (q *Spares) release(laydown int, angle float64) physics.Release {
	r := q.Setup.Release
	r.Laydown, r.Angle = q.Laydowns[laydown], angle
	return r
}

// place is a launch angle between two shots of a laydown at which racks are rolled.
type place struct {
	at        float64 // in steps of the angle
	slope     float64 // boards at the pins per step
	board     float64
	delivery  pins.Delivery
	converted float64 // share of racks
}

// between interpolates the delivery between two shots: share 0 gives a, share 1 gives b.
func between(a, b arrival, share float64) pins.Delivery {
	mix := func(x, y float64) float64 { return x + share*(y-x) }
	d := a.Delivery
	for i := range d.Position {
		d.Position[i] = mix(a.Delivery.Position[i], b.Delivery.Position[i])
		d.Velocity[i] = mix(a.Delivery.Velocity[i], b.Delivery.Velocity[i])
	}
	for i := range d.Spin {
		d.Spin[i] = mix(a.Delivery.Spin[i], b.Delivery.Spin[i])
	}
	return d
}

// touches reports whether a ball that goes straight would come near a pin of the leave.
func touches(d pins.Delivery, l pins.Leave) bool {
	const near = 4.9 * units.Inch // a pin's radius with a margin for scatter
	for n := 1; n <= pins.Count; n++ {
		if !l.Has(n) {
			continue
		}
		spot := pins.Spots[n-1]
		y := d.Position[1] + (spot[0]-d.Position[0])*d.Velocity[1]/d.Velocity[0]
		if math.Abs(y-spot[1]) < d.Radius+near {
			return true
		}
	}
	return false
}

// mostBoards is the largest distance in boards at the pins between shots to interpolate.
const mostBoards = 4.0

// places lists the places of a laydown at which the ball comes near the leave.
func (q *Spares) places(laydown int, l pins.Leave) []place {
	var list []place
	line := q.lines[laydown]
	for k := 1; k < len(line); k++ {
		a, b := line[k-1], line[k]
		if !a.Reached || !b.Reached || math.Abs(b.Board-a.Board) > mostBoards {
			continue
		}
		for j := range perStep {
			share := (float64(j) + 0.5) / perStep
			if d := between(a, b, share); touches(d, l) {
				list = append(list, place{at: float64(k-1) + share, slope: b.Board - a.Board, board: a.Board + share*(b.Board-a.Board), delivery: d})
			}
		}
	}
	return list
}

func (q *Spares) roll(ctx context.Context, list []place, l pins.Leave, racks int) error {
	if len(list) == 0 {
		return nil
	}
	_, err := pins.Rolls{
		Settings: q.Deck, Standing: l, Seed: q.Seed, Racks: racks * len(list), Workers: q.Workers,
		Delivery: func(k int) pins.Delivery { return list[k/racks].delivery },
		Each: func(k int, r pins.Result) {
			if r.Standing == 0 {
				list[k/racks].converted += 1 / float64(racks)
			}
		},
	}.Run(ctx)
	return err
}

// blurred returns the share converted about a place, averaged over the bowler's scatter.
func (q *Spares) blurred(list []place, i int) float64 {
	sum := 0.0
	for _, miss := range q.scatter {
		at := list[i].at + miss/list[i].slope
		k, found := slices.BinarySearchFunc(list, at, func(p place, at float64) int { return cmp.Compare(p.at, at) })
		if !found && k > 0 && (k == len(list) || at-list[k-1].at < list[k].at-at) {
			k--
		}
		if math.Abs(list[k].at-at) < 1 {
			sum += list[k].converted
		}
	}
	return sum / float64(len(q.scatter))
}

// plateau is the difference below which shares count as equal.
const plateau = 0.015

// best returns the index of the place with the largest share, the middle one of those about it with equal
// shares, and the share; −1 if there is none.
func (q *Spares) best(list []place) (int, float64) {
	shares := make([]float64, len(list))
	at := -1
	for k := range list {
		if shares[k] = q.blurred(list, k); at < 0 || shares[k] > shares[at] {
			at = k
		}
	}
	if at < 0 {
		return -1, 0
	}
	low, high := stretch(list, at, func(k int) bool { return shares[k] >= shares[at]-plateau })
	return (low + high) / 2, shares[at]
}

// stretch returns the first and the last of the consecutive places about one that satisfy a condition.
func stretch(list []place, at int, holds func(k int) bool) (low, high int) {
	low, high = at, at
	for low > 0 && holds(low-1) && list[low].at-list[low-1].at < 1 {
		low--
	}
	for high+1 < len(list) && holds(high+1) && list[high+1].at-list[high].at < 1 {
		high++
	}
	return low, high
}

type candidate struct {
	laydown int
	place   place
	share   float64
}

func moreFirst(a, b candidate) int { return cmp.Compare(b.share, a.share) }

// Find returns the line that converts a leave most often. It rolls racks at places between launch angles a
// tenth of a degree apart and averages them over the bowler's scatter, which gives the best angle of each
// laydown. Deliveries then choose the best of these lines and the best angle about it. The reported share is
// counted from other deliveries. Package aim can interpolate shares of a window at the pins; only racks show
// from which boards a leave is converted. The error is a [*NoSpareError] if no line reaches the leave.
func (q *Spares) Find(ctx context.Context, leave pins.Leave) (SpareResult, error) {
	l := turned(leave, q.Setup.Release.Hand)
	var list []candidate
	for i := range q.Laydowns {
		places := q.places(i, l)
		if err := q.roll(ctx, places, l, racksPerPlace); err != nil {
			return SpareResult{}, err
		}
		if k, share := q.best(places); k >= 0 {
			list = append(list, candidate{i, places[k], share})
		}
	}
	if len(list) == 0 {
		return SpareResult{}, &NoSpareError{leave}
	}
	slices.SortStableFunc(list, moreFirst)
	list = list[:min(tried, len(list))]
	if len(list) > 1 {
		for i := range list {
			c, _, err := q.deliver(ctx, q.release(list[i].laydown, q.angle(list[i].place.at)), leave, trialFrom+missSamples, trial)
			if err != nil {
				return SpareResult{}, err
			}
			list[i].share = c.Share()
		}
		slices.SortStableFunc(list, moreFirst)
	}
	best, err := q.climb(ctx, list[0], leave)
	if err != nil {
		return SpareResult{}, err
	}
	r := q.release(best.laydown, q.angle(best.place.at))
	line := SpareResult{Leave: leave, Release: r, Arrows: studies.BoardAtArrows(r)}
	shot, err := physics.NewThrower().Throw(q.Setup.Lane, q.Setup.Ball, r, q.Settings)
	if err != nil {
		return line, err
	}
	if shot.Events.Pins == nil {
		return line, &NoSpareError{leave}
	}
	line.Entry = *shot.Events.Pins
	line.Converted, line.Outcomes, err = q.deliver(ctx, r, leave, 0, q.Deliveries)
	return line, err
}

// climb changes the launch angle of a line for as long as the same deliveries convert more, since the scatter
// differs between lines. Lines that nearly always or hardly ever convert stay.
func (q *Spares) climb(ctx context.Context, best candidate, l pins.Leave) (candidate, error) {
	tries := func(c *candidate) error {
		count, _, err := q.deliver(ctx, q.release(c.laydown, q.angle(c.place.at)), l, trialFrom+missSamples, climbed)
		c.share = count.Share()
		return err
	}
	if err := tries(&best); err != nil || best.share < leastClimbed || best.share > mostClimbed {
		return best, err
	}
	for _, step := range []float64{2, -2, 1, -1} { // steps of the angle
		for {
			next := best
			if next.place.at += step; !q.reaches(next) {
				break
			}
			if err := tries(&next); err != nil {
				return best, err
			}
			if next.share <= best.share {
				break
			}
			best = next
		}
	}
	return best, nil
}

// reaches reports whether the shots at the angles on both sides of a line reach the pins.
func (q *Spares) reaches(c candidate) bool {
	line, k := q.lines[c.laydown], int(math.Floor(c.place.at))
	return k >= 0 && k+1 < len(line) && line[k].Reached && line[k+1].Reached
}

// deliver throws a bowler's deliveries about a line, each at its own rack.
func (q *Spares) deliver(ctx context.Context, r physics.Release, l pins.Leave, from, n int) (studies.Count, []pins.Leave, error) {
	s := q.Setup
	s.Release = r
	list, err := Deliveries{s, q.Seed, q.Settings, studies.Work{Workers: q.Workers}}.throw(ctx, from, n)
	if err != nil {
		return studies.Count{}, nil, err
	}
	left, err := roll(ctx, list, pins.Rolls{Settings: q.Deck, Standing: turned(l, r.Hand), Seed: q.Seed + 1, Workers: q.Workers})
	count := studies.Count{Of: n}
	for i, rest := range left {
		if left[i] = turned(rest, r.Hand); rest == 0 {
			count.Hits++
		}
	}
	return count, left, err
}

// FindWindow finds the boards about a line from which the leave is converted in more than half of the racks.
func (q *Spares) FindWindow(ctx context.Context, line *SpareResult) error {
	laydown := slices.Index(q.Laydowns, line.Release.Laydown)
	if laydown < 0 {
		return nil
	}
	l := turned(line.Leave, line.Release.Hand)
	places := q.places(laydown, l)
	if err := q.roll(ctx, places, l, windowRacks); err != nil {
		return err
	}
	falls := func(k int) bool { // averaged with its neighbours, since racks are few
		sum, n := 0.0, 0.0
		for j := max(0, k-1); j <= min(k+1, len(places)-1); j++ {
			if math.Abs(places[j].at-places[k].at) < 1 {
				sum, n = sum+places[j].converted, n+1
			}
		}
		return sum > n/2
	}
	// The best line may lie between two windows, as where a full hit on the 6 pin leaves the 10.
	own, at := (line.Release.Angle/units.Degree+widestAngle)/angleStep, -1
	for k := range places { // by the angle: two angles may lead to the same board
		if falls(k) && math.Abs(places[k].board-line.Entry.Board) < mostBeside && (at < 0 || math.Abs(places[k].at-own) < math.Abs(places[at].at-own)) {
			at = k
		}
	}
	if at < 0 {
		return nil
	}
	low, high := stretch(places, at, falls)
	a, b := places[low].board, places[high].board
	line.Window = physics.Window{Min: min(a, b), Max: max(a, b)}
	return nil
}

// MostLeft returns the most frequent leave after a miss; 0 without a miss.
func (l SpareResult) MostLeft() pins.Leave {
	var counts [pins.All + 1]int
	for _, rest := range l.Outcomes {
		if rest != 0 {
			counts[rest]++
		}
	}
	best := pins.Leave(0)
	for rest, n := range counts {
		if n > counts[best] {
			best = pins.Leave(rest)
		}
	}
	return best
}
