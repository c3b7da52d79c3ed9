package layouts

import (
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r3"

	"lanesim/ball"
	"lanesim/internal/linear"
	"lanesim/internal/vector"
	"lanesim/physics"
	"lanesim/report"
	"lanesim/studies/drilling"
	"lanesim/units"
)

// Flare has the tracks of a shot on the ball.
type Flare struct {
	Lane  string
	Shot  *physics.Shot // nil if there was none
	Why   string        // why there was none
	Oiled int           // number of turns with an oily film anywhere: the oil rings
	Turns []Turn

	// BowTies are the places where successive tracks cross, usually two on opposite sides; none if the tracks
	// do not cross.
	BowTies []BowTie

	// Tolerances has the effects of small errors of drilling, nil if not requested.
	Tolerances *drilling.Result
}

// Turn is the track of one revolution; the last one may be incomplete.
type Turn struct {
	Points []TrackPlace
	Oiled  bool // whether it has an oily film anywhere

	// Spacing is the largest distance in m along the surface from the track one turn earlier; NaN for the
	// first.
	Spacing float64
}

// TrackPlace is one point of a track.
type TrackPlace struct {
	Direction r3.Vec  // unit vector from the ball's centre, in grip axes
	Film      float64 // m, film after the pass
}

// Oily reports whether the film there is more than [OilyFilm].
func (p TrackPlace) Oily() bool { return p.Film > OilyFilm }

// BowTie is a place where tracks cross.
type BowTie struct {
	Place     r3.Vec  // unit vector to the middle of the crossings, in grip axes
	Crossings int     // number of crossings with the track one turn earlier
	Scatter   float64 // m, root mean square distance of the crossings from the middle
}

// OilyFilm is the film in m on the ball above which a track counts as oily: a quarter of an oil unit, about
// the least that is visible (assumed).
const OilyFilm = units.OilUnit / 4

// TrackSpacing is the turning in rad between the points of a track that [ReadFlare] needs: 3°, which is 6 mm
// on the ball. Between two points a ring tilted by 20° deviates by 0.02 mm from their chord.
const TrackSpacing = 3 * units.Degree

// leastApart is the distance in m that a turn must have reached from the previous one for a crossing to
// count: turns that are nearer, by less than a tenth of the track's width, lie on each other.
const leastApart = 0.5e-3

// ReadFlare converts a shot's track from the body axes of the drilled ball to grip axes and finds its turns,
// their distances and their crossings. Crossings count while the track is oily or, if it never is,
// everywhere. To find all of them the track needs points at [TrackSpacing] or closer.
func ReadFlare(shot *physics.Shot, d ball.Drilling) Flare {
	t := Flare{Shot: shot}
	track := shot.Track
	if len(track) < 2 {
		return t
	}
	f := d.After.Frame
	places := make([]TrackPlace, len(track))
	oily := false
	for i, p := range track {
		v := r3.Add(r3.Scale(p.Point[0], f.Pin), r3.Add(r3.Scale(p.Point[1], f.Intermediate), r3.Scale(p.Point[2], f.PSA)))
		places[i] = TrackPlace{v, p.Left}
		oily = oily || places[i].Oily()
	}
	var crossings [][]r3.Vec // turn by turn
	last := 0.0              // signed distance of the previous point, 0 if unknown
	turn := -1
	for i, p := range track {
		// The last point of a turn is the first of the next.
		for p.Turned >= 2*math.Pi*float64(turn+1) && (turn < 0 || i < len(track)-1) {
			if turn >= 0 {
				t.Turns[turn].Points = append(t.Turns[turn].Points, places[i])
			}
			t.Turns = append(t.Turns, Turn{Spacing: math.NaN()})
			crossings = append(crossings, nil)
			turn++
		}
		now := &t.Turns[turn]
		now.Points = append(now.Points, places[i])
		now.Oiled = now.Oiled || places[i].Oily()
		apart, ok := beside(track, places, i)
		if !ok {
			last = 0
			continue
		}
		if !(now.Spacing >= math.Abs(apart)*d.Radius) {
			now.Spacing = math.Abs(apart) * d.Radius
		}
		if last*apart < 0 && (places[i].Oily() || !oily) {
			share := last / (last - apart)
			crossings[turn] = append(crossings[turn], vector.Unit(r3.Add(r3.Scale(1-share, places[i-1].Direction), r3.Scale(share, places[i].Direction))))
		}
		last = apart
	}
	var apart []r3.Vec
	for i, turn := range t.Turns {
		if turn.Oiled {
			t.Oiled++
		}
		if turn.Spacing > leastApart {
			apart = append(apart, crossings[i]...)
		}
	}
	t.BowTies = bowTies(apart, d.Radius)
	return t
}

// beside returns the angle in rad from the track one turn earlier to point i, positive to the left of the
// direction of the track, and false in the first turn. The nearest point is searched within half a turn about
// the point of equal phase.
func beside(track []physics.TrackPoint, places []TrackPlace, i int) (float64, bool) {
	p, phase := places[i].Direction, track[i].Turned-2*math.Pi
	if phase < 0 {
		return 0, false
	}
	nearest, side := math.Inf(1), 1.0
	behind := func(turned float64) int {
		return sort.Search(i, func(j int) bool { return track[j].Turned > turned })
	}
	end := behind(phase + math.Pi/2)
	for j := max(1, behind(phase-math.Pi/2)); j < end; j++ {
		a, b := places[j-1].Direction, places[j].Direction
		along := r3.Sub(b, a)
		long := r3.Norm2(along)
		if long == 0 {
			continue
		}
		foot := r3.Add(a, r3.Scale(max(0, min(1, r3.Dot(r3.Sub(p, a), along)/long)), along))
		if d := vector.Norm(r3.Sub(p, vector.Unit(foot))); d < nearest {
			nearest = d
			side = math.Copysign(1, r3.Dot(p, r3.Cross(a, b)))
		}
	}
	if math.IsInf(nearest, 1) {
		return 0, false
	}
	return side * 2 * math.Asin(min(nearest/2, 1)), true
}

// bowTies assigns crossings to the two ends of the axis nearest to all of them, the eigenvector of the
// largest eigenvalue of Σ c cᵀ.
func bowTies(crossings []r3.Vec, radius float64) []BowTie {
	if len(crossings) == 0 {
		return nil
	}
	sum := linear.New(3, 3)
	for _, c := range crossings {
		for i, x := range []float64{c.X, c.Y, c.Z} {
			for j, y := range []float64{c.X, c.Y, c.Z} {
				sum.Add(i, j, x*y)
			}
		}
	}
	_, v := linear.Eigen(sum)
	axis := r3.Vec{X: v.At(0, 2), Y: v.At(1, 2), Z: v.At(2, 2)} // eigenvalues rise
	if r3.Dot(axis, crossings[0]) < 0 {
		axis = r3.Scale(-1, axis)
	}
	var list []BowTie
	for _, end := range []r3.Vec{axis, r3.Scale(-1, axis)} {
		var b BowTie
		for _, c := range crossings {
			if r3.Dot(c, end) > 0 {
				b.Place = r3.Add(b.Place, c)
				b.Crossings++
			}
		}
		if b.Crossings == 0 {
			continue
		}
		b.Place = vector.Unit(b.Place)
		squares := 0.0
		for _, c := range crossings {
			if r3.Dot(c, end) > 0 {
				a := vector.Angle(c, b.Place)
				squares += a * a
			}
		}
		b.Scatter = radius * math.Sqrt(squares/float64(b.Crossings))
		list = append(list, b)
	}
	return list
}

// PSAAngle returns the angle in rad at the PAP between the vertical axis line toward the fingers and the arc
// to the PSA, positive toward the grip as a VAL angle is. ok is false if the PSA lies on the axis.
func PSAAngle(f ball.Frame) (angle float64, ok bool) {
	const onAxis = 1e-3 // sine of the angle below which it does
	if vector.Norm(r3.Sub(f.PSA, r3.Scale(r3.Dot(f.PAP, f.PSA), f.PAP))) < onAxis {
		return 0, false
	}
	return math.Atan2(r3.Dot(f.PSA, f.TowardGrip), r3.Dot(f.PSA, f.Fingers)), true
}

// Words describes the tracks.
func (t Flare) Words() string {
	widest := math.NaN()
	for _, turn := range t.Turns {
		if turn.Oiled && !(widest >= turn.Spacing) {
			widest = turn.Spacing
		}
	}
	switch {
	case len(t.Turns) == 0:
		return "No tracks are drawn."
	case t.Oiled == 0:
		return fmt.Sprintf("The ball turns %s and carries no oil.", report.Counting(len(t.Turns), "time"))
	case t.Oiled == 1:
		return "One turn of the track carries oil."
	case !(widest > leastApart):
		return fmt.Sprintf("%d turns of the track carry oil and run on each other.", t.Oiled)
	}
	cross := "cross at the bow-ties"
	if len(t.BowTies) == 0 {
		cross = "do not cross"
	}
	return fmt.Sprintf("%d turns of the track carry oil; they lie up to %s apart and %s.", t.Oiled, InchFraction(widest), cross)
}
