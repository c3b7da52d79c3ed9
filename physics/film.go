package physics

import (
	"math"

	"lanesim/ball"
	"lanesim/internal/portable"
)

// film is the oil on the ball's surface: the contact's trace over the ball and
// what each pass left there. The ball paints its own track, and where flare
// moves the track by less than the contact's width per turn, it runs on the oil
// that it took up one turn before.
type film struct {
	ball.FilmMemory
	present bool // there is oil to exchange

	// The trace. Two samples at the same time mark a jump of the film
	// between them.
	trace []trail
	spots []spot // its other half

	// books are the oil in m³ exchanged up to each sample, once they are written.
	books []ledger

	// lag is by how much the ball turns, in rad, between passes over one place,
	// as found after the last step: a turn, but for the migration of its axis.
	lag float64

	at    int   // sample last found
	jumps []int // samples at which the film jumps to the next one's

	reach2  float64 // square of the chord on the unit sphere that a contact's width spans
	narrow  float64 // (R/w)², the square of that angle's reciprocal
	soaking float64 // 1/s

	fading float64 // turns in which film fades to a given share as it is laid down on the lane
}

// sampleAngle is the angle in rad between samples of the trace at the default
// tolerance. The cubic between them strays from a circle by angle⁴/384 of its
// radius across the track, a millionth of the contact's width; the spacing
// follows the fourth root of the tolerance.
const sampleAngle = 0.075

// coarsestSampling is the widest spacing of samples in rad: successive turns
// cross within a few of them.
const coarsestSampling = 0.26

// idleSampling is the spacing in rad where what the ball carries hardly matters yet:
// it strays by half a thousandth of the ball's radius.
const idleSampling = 0.7

// faded is the share of the film laid now that may be left when friction takes
// notice of it, for the film to hardly matter yet.
const faded = 0.22

// filmStep is the change of film between samples, as a share of it, above which
// more are taken at the default tolerance, and deepest how often an interval is
// halved for it.
const (
	filmStep = 0.1
	deepest  = 6

	// filmFloor is a film in m, a tenth of an ordinary roughness; of less
	// friction takes little notice.
	filmFloor = 5e-8
)

// sampleWay is the way over the lane, in m, that asks for as many samples as a
// radian of turning: a ball that hardly turns meets other oil long before it has
// turned by the angle.
const sampleWay = 0.2

// turnWindow is the stretch of earlier contact, in rad of turning before the
// present, in which the pass one revolution ago lies: half a turn to one and a
// half.
const (
	turnWindowNear = math.Pi
	turnWindowFar  = 3 * math.Pi
)

// slowest is the share of the ball's speed that stands in for a surface speed
// below it, where the film per turn would otherwise grow without bound.
const slowest = 0.2

func (f *film) set(memory ball.FilmMemory, radius float64, present bool) {
	f.FilmMemory, f.present = memory, present
	f.trace, f.jumps, f.lag, f.at = f.trace[:0], f.jumps[:0], 2*math.Pi, 0
	f.spots = f.spots[:0]
	angle := min(memory.ContactWidth/radius, math.Pi)
	chord := 2 * math.Sin(angle/2)
	f.reach2, f.narrow = chord*chord, 1/(angle*angle)
	f.fading = math.Inf(1)
	if memory.GiveBack > 0 {
		f.fading = portable.Log(faded) / portable.Log1p(-min(memory.GiveBack, 1))
	}
	f.soaking = 0
	if memory.SoakIn > 0 {
		f.soaking = 1 / memory.SoakIn
	}
}

// remembers reports whether the ball meets the film that it carries.
func (f *film) remembers() bool { return f.present && !f.Off }

// pass is what the contact finds on the ball's surface.
type pass struct {
	own float64 // film brought into the gap, m

	// Of the film that the pass one turn ago left at the nearest point of the
	// track, what stays behind beside the contact and what has soaked in, m.
	beside, soaked float64

	chord2 float64 // square of the chord to that point on the unit sphere; NaN if there is none

	sample        int     // of the trace, before that point
	when          float64 // s, time of the pass
	overlap, kept float64
}

// found returns what lies on the ball at the contact point c, in body axes:
//
//	B = o(s) B⁺ exp(−Δt/τ),   o(s) = (1 − s²/w²)³ for s < w, else 0
//
// with s the distance on the sphere to the nearest point of the trace between
// half a turn and one and a half turns ago.
func (f *film) found(t, turned float64, c vector) pass {
	var p pass
	f.find(&p, t, turned, c, false)
	return p
}

// find is found; it writes into p. Unless all is asked, of a place where no film lies
// that is all it tells.
func (f *film) find(p *pass, t, turned float64, c vector, all bool) {
	n := len(f.trace)
	if n == 0 || turned-turnWindowNear < f.trace[0].turned {
		*p = pass{chord2: math.NaN()}
		return
	}
	j := f.nearest(turned, c)
	near := &f.trace[j]
	if !all && near.left == 0 && j+1 < n && f.trace[j+1].left == 0 {
		// Nor does any lie between, as the cubic starts down and ends up.
		*p = pass{chord2: math.NaN(), sample: j, when: near.time}
		return
	}
	when := near.time
	var u, chord2 float64
	if j+1 < n {
		u, chord2 = f.closest(j, c)
		when += u * (f.trace[j+1].time - when)
	} else if chord2 = 2 * (1 - dot(c, near.point)); chord2 < 0 {
		chord2 = 0
	}
	p.chord2, p.sample, p.when, p.kept, p.overlap = chord2, j, when, decay((t-when)*f.soaking), 0
	if chord2 < f.reach2 {
		o := 1 - f.narrow*arc2(chord2)
		p.overlap = o * o * o
	}
	p.share(f.between(j, u))
	if j == 0 && u == 0 {
		// The trace begins here: what lies before it is clean, and all that
		// leaves the track is what the contact meets.
		p.beside, p.soaked = 0, p.overlap*p.soaked
	}
}

// share tells what becomes of the film that the last pass left.
func (p *pass) share(old float64) {
	p.own = p.overlap * old * p.kept
	p.beside, p.soaked = old*p.kept*(1-p.overlap), old*(1-p.kept)
}

// decay returns exp(−x) for x ≥ 0; for the small x of one turn by a series,
// whose first omitted term is below 2⁻⁵³.
func decay(x float64) float64 {
	if x > 0.008 {
		return portable.Exp(-x)
	}
	x2 := x * x
	return (1 - x) + x2*((1./2-x/6)+x2*((1./24-x/120)+x2/720))
}

// arc2 returns the square of the angle that a chord of the unit circle spans,
// from the chord's square: (2 arcsin(c/2))² = 2 Σ c²ⁿ/(n² C(2n, n)). For chords
// to somewhat more than a usual contact's width the first omitted term,
// c¹⁴/84084, is below 2⁻⁵³ of it.
func arc2(chord2 float64) float64 {
	if chord2 > 0.0064 {
		a := 2 * math.Asin(min(1, math.Sqrt(chord2)/2))
		return a * a
	}
	square := chord2 * chord2
	return chord2 * ((1 + chord2/12) + square*((1./90+chord2/560)+square*(1./3150+chord2/16632)))
}

// between interpolates the film left between samples j and j+1: a cubic with
// the trends there.
func (f *film) between(j int, u float64) float64 {
	from := &f.trace[j]
	if u == 0 {
		return from.left
	}
	to := &f.trace[j+1]
	h := to.time - from.time
	chord := to.left - from.left
	s0, s1 := h*from.trend, h*to.trend
	left := from.left + u*(s0+u*(3*chord-2*s0-s1+u*(s0+s1-2*chord)))
	if left < 0 { // a cubic may overshoot where the film falls to nothing
		return 0
	}
	return left
}

// after is the film that a pass leaves: B⁺ = B + Φ/(w S), Φ = w (p h |v| − q B S)
// with S the speed at which the contact sweeps the ball's surface; no more than
// was in the gap.
func (f *film) after(h, own, speed, sweep float64) float64 {
	if sweep <= 0 {
		return own
	}
	left := own + f.PickUp*h*speed/sweep - f.GiveBack*own
	if left > h+own {
		return h + own
	}
	return left
}

// exchange notes the film in the gap and, for a ball that remembers none, fills
// in the rate at which the lane loses oil; up is the vertical in body axes.
func (m *machine) exchange(t float64, y []float64, up vector, vx, vy, turning2 float64, dydt []float64) {
	m.now.gap, m.now.own = 0, 0
	dydt[iLane] = 0
	f := &m.memory
	if !f.present {
		return
	}
	h := 0.0
	if m.oiled {
		h = m.laneFilm(y[ix], y[iy])
	}
	m.now.gap = h
	switch {
	case !f.Off:
		m.now.own = f.found(t, y[iTurned], scale(-1, up)).own
		m.now.gap += m.now.own
	case h > 0:
		dydt[iLane] = f.clean(h, math.Sqrt(vx*vx+vy*vy), m.radius*math.Sqrt(turning2))
	}
}

// clean is the rate in m³/s at which the lane gains oil from a ball without any:
// all that it takes stays on its track.
func (f *film) clean(h, speed, sweep float64) float64 {
	return -f.ContactWidth * h * min(f.PickUp*speed, max(sweep, slowest*speed))
}
