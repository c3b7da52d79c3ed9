package plots

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/report/layouts"
	"lanesim/units"
)

// OilyFilm is the film in m on the ball above which a track counts as oily: a
// quarter of an oil unit, assumed to be about what one can see.
const OilyFilm = units.OilUnit / 4

// TrackSpacing is the angle of turning in rad between the points of a track
// that [readTracks] needs to see how the rings run: 3°, which is 6 mm on the
// ball. Between two points a ring tilted by 20° leaves their chord by 0.02 mm.
const TrackSpacing = 3 * units.Degree

// leastApart is the distance in m that a turn must reach from the one before to
// cross it: nearer ones, less than a tenth of the track's width, run on each
// other.
const leastApart = 0.5e-3

// ballTracks is the contact's way over the ball, turn by turn, in grip axes.
type ballTracks struct {
	Turns []ballTurn

	// Oiled is how many turns carry an oily film anywhere; they are the rings.
	Oiled int

	// BowTies are the places where successive tracks cross, as a rule two
	// that lie opposite to each other; none if the tracks do not cross.
	BowTies []bowTie
}

// ballTurn is the track of one revolution, or of the part of the last one.
type ballTurn struct {
	Points []trackPlace
	Oiled  bool // whether it carries an oily film anywhere

	// Spacing is the largest distance in m along the surface from the track
	// of one turn ago; NaN for the first.
	Spacing float64
}

// trackPlace is one point of a track.
type trackPlace struct {
	Direction r3.Vec  // unit vector from the ball's centre
	Film      float64 // m, left by the pass
}

// Oiled reports whether the film there is oily.
func (p trackPlace) Oiled() bool { return p.Film > OilyFilm }

// bowTie is where the tracks come together.
type bowTie struct {
	Place     r3.Vec  // unit vector to the middle of the crossings
	Crossings int     // of a track with that of one turn ago
	Scatter   float64 // m, root mean square distance of the crossings from the middle
}

// readTracks turns a shot's track, in the body axes of the drilled ball, into
// grip axes and reads its turns, their distances and their crossings. Crossings
// count while the track is oily or, if it never is, throughout. Only tracks
// with points at [TrackSpacing] or closer give all of them.
func readTracks(track []physics.TrackPoint, d ball.Drilling) ballTracks {
	var t ballTracks
	if len(track) < 2 {
		return t
	}
	f := d.After.Frame
	places := make([]trackPlace, len(track))
	oily := false
	for i, p := range track {
		v := r3.Add(r3.Scale(p.Point[0], f.Pin), r3.Add(r3.Scale(p.Point[1], f.Intermediate), r3.Scale(p.Point[2], f.PSA)))
		places[i] = trackPlace{v, p.Left}
		oily = oily || places[i].Oiled()
	}
	var crossings [][]r3.Vec // turn by turn
	last := 0.0              // signed distance of the point before, 0 if unknown
	turn := -1
	for i, p := range track {
		// The last point of a turn is the first of the next.
		for p.Turned >= 2*math.Pi*float64(turn+1) && (turn < 0 || i < len(track)-1) {
			if turn >= 0 {
				t.Turns[turn].Points = append(t.Turns[turn].Points, places[i])
			}
			t.Turns = append(t.Turns, ballTurn{Spacing: math.NaN()})
			crossings = append(crossings, nil)
			turn++
		}
		now := &t.Turns[turn]
		now.Points = append(now.Points, places[i])
		now.Oiled = now.Oiled || places[i].Oiled()
		apart, ok := beside(track, places, i)
		if !ok {
			last = 0
			continue
		}
		if !(now.Spacing >= math.Abs(apart)*d.Radius) {
			now.Spacing = math.Abs(apart) * d.Radius
		}
		if last*apart < 0 && (places[i].Oiled() || !oily) {
			share := last / (last - apart)
			crossings[turn] = append(crossings[turn], r3.Unit(r3.Add(r3.Scale(1-share, places[i-1].Direction), r3.Scale(share, places[i].Direction))))
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

// beside returns the angle in rad by which point i of a track lies beside the
// track of one turn ago, positive to the left of its way, and false in the
// first turn. The nearest point is looked for in the half turn about the point
// of equal phase.
func beside(track []physics.TrackPoint, places []trackPlace, i int) (float64, bool) {
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
		way := r3.Sub(b, a)
		long := r3.Norm2(way)
		if long == 0 {
			continue
		}
		foot := r3.Add(a, r3.Scale(max(0, min(1, r3.Dot(r3.Sub(p, a), way)/long)), way))
		if d := r3.Norm(r3.Sub(p, r3.Unit(foot))); d < nearest {
			nearest = d
			side = math.Copysign(1, r3.Dot(p, r3.Cross(a, b)))
		}
	}
	if math.IsInf(nearest, 1) {
		return 0, false
	}
	return side * 2 * math.Asin(min(nearest/2, 1)), true
}

// bowTies gathers crossings at the two ends of the axis that passes nearest to
// all of them, the eigenvector of the largest eigenvalue of Σ c cᵀ.
func bowTies(crossings []r3.Vec, radius float64) []bowTie {
	if len(crossings) == 0 {
		return nil
	}
	sum := mat.NewSymDense(3, nil)
	for _, c := range crossings {
		sum.SymRankOne(sum, 1, mat.NewVecDense(3, []float64{c.X, c.Y, c.Z}))
	}
	var e mat.EigenSym
	if !e.Factorize(sum, true) {
		return nil
	}
	var v mat.Dense
	e.VectorsTo(&v)
	axis := r3.Vec{X: v.At(0, 2), Y: v.At(1, 2), Z: v.At(2, 2)} // eigenvalues rise
	if r3.Dot(axis, crossings[0]) < 0 {
		axis = r3.Scale(-1, axis)
	}
	var list []bowTie
	for _, end := range []r3.Vec{axis, r3.Scale(-1, axis)} {
		var b bowTie
		for _, c := range crossings {
			if r3.Dot(c, end) > 0 {
				b.Place = r3.Add(b.Place, c)
				b.Crossings++
			}
		}
		if b.Crossings == 0 {
			continue
		}
		b.Place = r3.Unit(b.Place)
		squares := 0.0
		for _, c := range crossings {
			if r3.Dot(c, end) > 0 {
				a := arcBetween(c, b.Place)
				squares += a * a
			}
		}
		b.Scatter = radius * math.Sqrt(squares/float64(b.Crossings))
		list = append(list, b)
	}
	return list
}

// arcBetween is the angle in rad between unit vectors.
func arcBetween(a, b r3.Vec) float64 { return math.Atan2(r3.Norm(r3.Cross(a, b)), r3.Dot(a, b)) }

// ReadFlare reads what a shot leaves on the ball.
func ReadFlare(shot *physics.Shot, d ball.Drilling) (f layouts.Flare) {
	tracks := readTracks(shot.Track, d)
	f.Shot, f.Oiled = shot, tracks.Oiled
	for _, t := range tracks.Turns {
		turn := layouts.Turn{Oiled: t.Oiled, Spacing: t.Spacing}
		for _, p := range t.Points {
			turn.Points = append(turn.Points, p.Direction)
		}
		f.Turns = append(f.Turns, turn)
	}
	for _, b := range tracks.BowTies {
		f.BowTies = append(f.BowTies, layouts.BowTie{Place: b.Place, Crossings: b.Crossings, Scatter: b.Scatter})
	}
	return f
}
