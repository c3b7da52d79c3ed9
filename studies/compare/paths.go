package compare

import (
	"math"
	"slices"

	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/units"
)

// ShotResult is the mean shot of a delivery, with results from the tracks on the ball.
type ShotResult struct {
	// Shot is the mean over the phases of the release.
	Shot physics.Shot

	// Release is the delivery's, with the launch angle used.
	Release physics.Release

	// Aimed has all launch angles to the pocket, from which that one was chosen; nil if the angle was given.
	Aimed *aim.PocketResult

	// Lost is the number of phases at which the ball does not reach the pins, of Phases. Phases is 1 for a
	// ball on which the phase has no influence.
	Lost, Phases int

	// Misses has the entries if the line is missed.
	Misses Misses

	// Intermediate is the ball's intermediate differential in m, undrilled.
	Intermediate float64

	// ContactWidth is the width in m of the contact on the ball's cover.
	ContactWidth float64

	// Spacing is the mean distance in m from the contact to the track one turn earlier, from one and a half
	// turns to the end of the pattern. Meeting is the share of that part in which the distance is less than
	// the contact's width. Both are NaN on a ball without film memory, on a dry lane and if the pattern ends
	// before.
	Spacing, Meeting float64

	// Film is the mean film in m that the ball brings to the contact over the same part; OnDry is the mean
	// from the end of the pattern to the roll start or the end.
	Film, OnDry float64
}

func traced(d studies.Undrilled, shots []physics.Shot, s physics.Settings) ShotResult {
	t := ShotResult{Shot: meanShot(shots, d.Release, s), Release: d.Release, Phases: len(shots),
		Intermediate: d.Specification.IntermediateDifferential, ContactWidth: d.Specification.Memory.ContactWidth}
	share := 1 / float64(len(shots))
	for _, shot := range shots {
		if shot.Status != physics.Pins {
			t.Lost++
		}
		oil, end := d.Lane.Oil.Length(), math.Inf(1)
		if shot.Events.RollStart != nil {
			end = shot.Events.RollStart.Distance
		}
		found := func(p physics.TrackPoint) float64 { return p.Found }
		t.Spacing += share * trackMean(shot.Track, 0, oil, func(p physics.TrackPoint) float64 { return p.Spacing })
		t.Meeting += share * trackMean(shot.Track, 0, oil, func(p physics.TrackPoint) float64 {
			switch {
			case math.IsNaN(p.Spacing):
				return p.Spacing
			case p.Spacing < t.ContactWidth:
				return 1
			}
			return 0
		})
		t.Film += share * trackMean(shot.Track, 0, oil, found)
		t.OnDry += share * trackMean(shot.Track, oil, end, found)
	}
	return t
}

// wholeTurn is the angle turned in rad from which the window of trackMean is complete.
const wholeTurn = 3 * math.Pi

// trackMean returns the mean, over the angle turned, of a value along the track between two distances. It
// begins when the window for the previous pass, from half a turn to one and a half turns ago, is complete. It
// returns NaN without points. The points are evenly spaced except for the last.
func trackMean(track []physics.TrackPoint, from, to float64, value func(physics.TrackPoint) float64) float64 {
	sum, n := 0.0, 0
	for _, p := range track {
		if v := value(p); p.Distance >= from && p.Distance <= to && p.Turned >= wholeTurn && !math.IsNaN(p.Spacing) && !math.IsNaN(v) {
			sum += v
			n++
		}
	}
	if n == 0 {
		return math.NaN()
	}
	return sum / float64(n)
}

// BoardDifference is the difference of two paths at a distance.
type BoardDifference struct {
	Distance float64 // m
	Boards   float64 // b − a in boards; NaN where one of the shots does not reach
}

// PartingBoards is the least difference of paths in boards that the eye can distinguish: a quarter of a board
// is 7 mm, the width of an oil ring.
const PartingBoards = 0.25

// gridSpacing is the spacing in m of the differences along the paths. The arrows and the other marks lie on
// this grid.
const gridSpacing = 0.5 * units.Foot

// along fills in the differences along the mean paths.
func (p *Pair) along(a, b studies.Undrilled, shotA, shotB physics.Shot) {
	from := max(a.Release.LaydownDistance, b.Release.LaydownDistance)
	reach := func(s physics.Shot) float64 { return s.Path[len(s.Path)-1].Distance }
	length := max(reach(shotA), reach(shotB))
	var at []float64
	for k := math.Ceil(from / gridSpacing); k*gridSpacing < length; k++ {
		at = append(at, k*gridSpacing)
	}
	at = append(at, length)
	for _, x := range at {
		boards := studies.BoardAt(shotB.Path, x) - studies.BoardAt(shotA.Path, x)
		p.Boards = append(p.Boards, BoardDifference{x, boards})
	}
	if slices.Contains(p.Differ, LineInput) {
		return
	}
	for i, d := range p.Boards {
		if !(math.Abs(d.Boards) > PartingBoards) {
			continue
		}
		p.Parting = d.Distance
		if i > 0 {
			// Interpolate linearly where the difference passes the bound.
			before := p.Boards[i-1]
			u := (PartingBoards - math.Abs(before.Boards)) / (math.Abs(d.Boards) - math.Abs(before.Boards))
			p.Parting = before.Distance + u*(d.Distance-before.Distance)
		}
		return
	}
}
