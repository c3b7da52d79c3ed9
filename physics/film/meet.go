package film

import (
	"math"
	"slices"
	"sort"

	"lanesim/internal/portable"
)

// MostStrips is the largest number of strips across the contact. The film is uniform over each strip.
const MostStrips = 10

// crossing is where an earlier pass of the contact covers the present contact: the part from start to end of
// its width, which runs from −½ to ½.
type crossing struct {
	start, end   float64
	turned, time float64
	offer, lane  float64
}

// steepest is the least cosine used for the angle at which two passes cross. With it one pass covers the
// whole width of the other.
const steepest = 0.1

// sameTurn is the angle in rad of turning within which two touches are the same except for rounding.
const sameTurn = 1e-9

// Meet fills in the film that a touch finds and leaves on the ball and the rate at which the ball takes oil.
// It takes into account the appended touches before it, at which the ball had turned less.
func (f *Field) Meet(t *Touch) {
	offer, area := Offer(f.memory, t.Lane, t.Speed, t.Sweep), f.memory.ContactWidth*t.Sweep
	t.Met = true
	if f.findCrossings(t); len(f.crossed) == 0 {
		t.Found, t.Left = 0, min(offer, t.Lane)
		t.Taken = area * t.Left
		return
	}
	var film, last profile
	f.replay(&film, &last, t.Time)
	var sum balance
	// Sum in pairs from both sides, so that mirror images agree to the last digit.
	for i := range f.strips / 2 {
		a, b := f.strip(t, film[i], last[i], offer), f.strip(t, film[f.strips-1-i], last[f.strips-1-i], offer)
		sum.free += a.free + b.free
		sum.all += a.all + b.all
		sum.found += a.found + b.found
		sum.gained += a.gained + b.gained
	}
	n := float64(f.strips)
	t.Left, t.Taken = (sum.all+sum.gained)/n, area*sum.gained/n
	if sum.free > 0 {
		t.Found = sum.found / sum.free
	} else {
		t.Found = f.foundBefore(t)
	}
}

// MeetAll calls Meet for all appended touches that have not been met. For a long shot it builds the index
// anew, so that a search does not pass many later touches.
func (f *Field) MeetAll() {
	unmet := slices.IndexFunc(f.touches, func(t Touch) bool { return !t.Met })
	if unmet < 0 {
		return
	}
	anew := !f.passes.followed && len(f.touches) > manyTouches
	if anew {
		f.index.empty()
		unmet = 0
	}
	for i := unmet; i < len(f.touches); i++ {
		if !f.touches[i].Met {
			f.Meet(&f.touches[i])
		}
		if anew && i > 0 {
			f.enter(i - 1)
		}
	}
}

// manyTouches is the number of touches above which building the index anew saves time.
const manyTouches = 2000

// foundBefore returns the film that the previous touch found, 0 for the first.
func (f *Field) foundBefore(t *Touch) float64 {
	last := sort.Search(len(f.touches), func(i int) bool { return f.touches[i].Turned > t.Turned-sameTurn }) - 1
	met := last
	for met >= 0 && !f.touches[met].Met {
		met--
	}
	for met++; met <= last; met++ {
		f.Meet(&f.touches[met])
	}
	if last < 0 {
		return 0
	}
	return f.touches[last].Found
}

// balance holds sums over strips: the number that can be touched again, the film on all strips, the film on
// those that can be touched, and the film gained.
type balance struct{ free, all, found, gained float64 }

// strip returns the balance of one strip.
func (f *Field) strip(t *Touch, film, last, offer float64) balance {
	if t.Turned-last <= untouched {
		return balance{all: film}
	}
	gained := offer - f.memory.GiveBack*film
	if gained > t.Lane { // rather than min, which under wasm is a call
		gained = t.Lane
	}
	return balance{free: 1, all: film, found: film, gained: gained}
}

// profile is a value for each strip.
type profile [MostStrips]float64

// edge holds the strips' edges across the contact, by the number of strips.
var edge = func() (e [MostStrips + 1][MostStrips + 1]float64) {
	for n := range e {
		for i := range n + 1 {
			e[n][i] = float64(2*i-n) / float64(2*n)
		}
	}
	return e
}()

// replay computes the film under the contact at a time by going through the crossings, the earliest first.
// last becomes the angle turned at which each strip was last touched.
func (f *Field) replay(film, last *profile, time float64) {
	for i := range last {
		last[i] = math.Inf(-1)
	}
	q, n, edges, strips := f.memory.GiveBack, f.strips, &edge[f.strips], float64(f.strips)
	// The film is film × lasting.
	lasting, at := 1.0, f.crossed[len(f.crossed)-1].time
	for k := len(f.crossed) - 1; k >= 0; k-- {
		c := &f.crossed[k]
		lasting *= f.decay(c.time - at)
		at = c.time
		if lasting < leastLasting {
			for i := range film {
				film[i] *= lasting
			}
			lasting = 1
		}
		offer, most := c.offer, c.lane
		if lasting < 1 {
			more := 1 / lasting
			offer, most = offer*more, most*more
		}
		for i := range n {
			low, high := edges[i], edges[i+1]
			if c.end <= low || c.start >= high || c.turned-last[i] <= untouched {
				continue
			}
			// Instead of min and max, which are calls under wasm.
			gained := offer - q*film[i]
			if gained > most {
				gained = most
			}
			if c.start > low || c.end < high {
				if c.start > low {
					low = c.start
				}
				if c.end < high {
					high = c.end
				}
				gained *= (high - low) * strips
			}
			film[i] += gained
			last[i] = c.turned
		}
	}
	lasting *= f.decay(time - at)
	for i := range film {
		film[i] *= lasting
	}
}

// leastLasting is the share of film not soaked in at which the film is rescaled, so that the share does not
// underflow.
const leastLasting = 1e-100

// decay returns the share of film that has not soaked in after a time in s. For short times, as between
// turns, it uses the exponential series; the first omitted term is below 2⁻⁵³.
func (f *Field) decay(time float64) float64 {
	x := time * f.soaking
	if x > shortDecay {
		return portable.Exp(-x)
	}
	x2 := x * x
	return (1 - x) + x2*((1./2-1./6*x)+x2*((1./24-1./120*x)+x2*(1./720-1./5040*x)))
}

// shortDecay is the longest time, in terms of τ, for the series of decay: x⁸/8! = 2⁻⁵³ there.
const shortDecay = 0.038

// findCrossings lists where earlier passes cover the contact, the latest first. A pass at a lateral distance
// x, in widths, covers the part of −½ ≤ y ≤ ½ where |x + y cos γ| ≤ ½, with γ the angle between the two
// directions.
func (f *Field) findCrossings(t *Touch) {
	f.crossed = f.crossed[:0]
	along := direction(t)
	if f.passes.followed {
		if f.follow(t, &along) {
			return
		}
		f.useIndex()
		f.crossed = f.crossed[:0]
	}
	for r := f.index.latest(&t.Point); r >= 0; r = f.index.runs[r].next {
		run := &f.index.runs[r]
		ahead := dot(t.Point, f.places[run.last+1].along) // distance of the contact past a place
		for k := run.last; k >= run.first; k-- {
			behind, past := dot(t.Point, f.places[k].along), ahead
			if ahead = behind; behind < 0 || past >= 0 {
				continue
			}
			if f.addPass(t, &along, k, behind, past); len(f.crossed) == f.mostCrossed {
				return
			}
		}
	}
}

// addPass lists the part of a touch that the piece of the path after place k covers. behind and past are the
// distances of the touch past the piece's two ends.
func (f *Field) addPass(t *Touch, along *Vector, k int32, behind, past float64) {
	c, from, to := &t.Point, &f.places[k], &f.places[k+1]
	u := behind / (behind - past)
	v := 1 - u
	x := v*(dot(from.axis, *c)-from.height) + u*(dot(to.axis, *c)-to.height)
	// From the height above a circle to the angle from it.
	x *= f.perWidth * (1 + x*(v*from.height+u*to.height)/2)
	if x <= -1 || x >= 1 || to.turned > t.Turned-sameTurn || len(f.crossed) == f.mostCrossed { // or at the touch itself, or later
		return
	}
	f.addCrossing(k, u, x, along)
}

// addCrossing lists the part of the contact that the piece of the path after place k covers. The piece passes the
// contact after a share u of its length, at a distance of x widths.
func (f *Field) addCrossing(k int32, u, x float64, along *Vector) {
	v, from, to := 1-u, &f.places[k], &f.places[k+1]
	// per is one over the cosine of the angle between the two directions, limited by steepest.
	per := math.Sqrt(1-2*u*v*(1-dot(from.along, to.along))) / (v*dot(*along, from.along) + u*dot(*along, to.along))
	if !(per <= 1/steepest && per >= -1/steepest) {
		per = math.Copysign(1/steepest, per)
	}
	middle, half := -x*per, math.Abs(per)/2
	start, end := middle-half, middle+half
	if start < -0.5 {
		start = -0.5
	}
	if end > 0.5 {
		end = 0.5
	}
	if !(start < end) {
		return
	}
	a, b := &f.touches[k], &f.touches[k+1]
	f.crossed = append(f.crossed, crossing{
		start, end, v*a.Turned + u*b.Turned, v*a.Time + u*b.Time,
		v*a.offer + u*b.offer, v*a.Lane + u*b.Lane,
	})
}

// Spacing returns the distance in m on the ball's surface from a touch to the nearest point of the contact's
// path one turn earlier; NaN if there is none.
func (f *Field) Spacing(t *Touch) float64 {
	nearest := math.NaN()
	for i := 0; i+1 < len(f.places); i++ {
		from, to := &f.places[i], &f.places[i+1]
		lag := t.Turned - to.turned
		if lag < math.Pi || lag > 3*math.Pi {
			continue
		}
		behind, ahead := dot(t.Point, from.along), dot(t.Point, to.along)
		if behind < 0 || ahead >= 0 || dot(t.Point, f.touches[i].Point) < 0 {
			continue
		}
		u := behind / (behind - ahead)
		d := math.Abs(angle(from, t.Point)*(1-u) + angle(to, t.Point)*u)
		if !(d > nearest/f.radius) {
			nearest = d * f.radius
		}
	}
	return nearest
}

// angle returns the angle in rad between a point and the circle on which the contact moved at a place.
func angle(p *place, point Vector) float64 {
	sine := 1 / math.Sqrt(dot(p.axis, p.axis))
	return math.Acos(max(-1, min(1, sine*p.height))) - math.Acos(max(-1, min(1, sine*dot(p.axis, point))))
}
