package scenario

import (
	"fmt"
	"math"

	"lanesim/input"
	"lanesim/lane"
	"lanesim/studies/fit"
	"lanesim/units"
)

// TracksFor says what tracks in a file can be of.
type TracksFor struct {
	Balls, Bowlers []string // names; a track may leave out that of which there is one

	// From are the distances in m at which the bowlers' balls touch the lane
	// first: no point can lie before it. To is the lane's length in m.
	From []float64
	To   float64
}

// TracksFor is what tracks of a scenario's first lane can be of.
func (s *Scenario) TracksFor() TracksFor {
	of := TracksFor{To: s.Lanes[0].Length}
	for _, b := range s.Balls {
		of.Balls = append(of.Balls, b.Name)
	}
	for _, b := range s.Bowlers {
		of.Bowlers = append(of.Bowlers, b.Name)
		of.From = append(of.From, b.Release.LaydownDistance)
	}
	return of
}

// The columns of a file of tracks.
const (
	shotColumn     = "shot"
	distanceColumn = "distance_ft"
	boardColumn    = "board"
	timeColumn     = "time_s"
	speedColumn    = "speed_mph"
	ballColumn     = "ball"
	bowlerColumn   = "bowler"
)

// The columns that must be there, and those that may be.
var (
	neededColumns   = []string{shotColumn, distanceColumn, boardColumn}
	optionalColumns = []string{timeColumn, speedColumn, ballColumn, bowlerColumn}
)

// fastestTrack bounds the speeds that a ball can have, as a scenario does.
const fastestTrack = 100.0 // mph

// trackRow is a row of the file while it is read. A number that the row does not
// have, or that is none, is NaN.
type trackRow struct {
	shot, ball, bowler           string
	distance, board, time, speed float64
	places                       map[string]trackPlace
	short                        bool // whether it lacks cells, which is reported
}

type trackPlace struct{ line, column int }

// check finds what is wrong with a row alone, and returns whether its distance
// and time can be compared with others'.
func (t *tracks) check(r *trackRow) {
	fault := func(column, format string, values ...any) {
		t.fault(r.places[column], column, fmt.Sprintf(format, values...), "")
	}
	if feet := t.of.To / units.Foot; r.distance < 0 || r.distance > feet {
		fault(distanceColumn, "%g ft is not on the lane, from 0 to %g ft", r.distance, feet)
		r.distance = math.NaN()
	}
	if r.board < 0.5 || r.board > lane.Boards+0.5 {
		fault(boardColumn, "%g is off the lane, whose boards go from 0.5 to %g", r.board, lane.Boards+0.5)
	}
	if r.speed <= 0 || r.speed > fastestTrack {
		fault(speedColumn, "%g mph is not above 0 and up to %g mph", r.speed, fastestTrack)
	}
}

// gather puts the rows of each shot together and finds what is wrong between
// them.
func (t *tracks) gather() []fit.Track {
	type course struct {
		fit.Track
		first trackRow
		last  trackRow // the last with a distance
		clock trackRow // the last with a time
	}
	var order []*course
	byName := map[string]*course{}
	for _, r := range t.rows {
		c, known := byName[r.shot]
		if !known {
			c = &course{Track: fit.Track{Shot: r.shot}, first: r, last: trackRow{distance: math.NaN()}, clock: trackRow{time: math.NaN()}}
			c.Ball, c.Bowler = t.match(r, ballColumn, r.ball, t.of.Balls), t.match(r, bowlerColumn, r.bowler, t.of.Bowlers)
			byName[r.shot] = c
			order = append(order, c)
		} else {
			for _, same := range []struct{ column, now, before string }{{ballColumn, r.ball, c.first.ball}, {bowlerColumn, r.bowler, c.first.bowler}} {
				if same.now != same.before && !r.short && !c.first.short {
					t.fault(r.places[same.column], same.column,
						fmt.Sprintf("%q, but shot %q has %q on line %d", same.now, r.shot, same.before, c.first.places[shotColumn].line), "")
				}
			}
		}
		if c.Bowler >= 0 && c.Bowler < len(t.of.From) && r.distance < t.of.From[c.Bowler]/units.Foot {
			t.fault(r.places[distanceColumn], distanceColumn,
				fmt.Sprintf("%g ft is before the ball is laid down, at %g ft", r.distance, t.of.From[c.Bowler]/units.Foot), "")
		}
		if r.distance <= c.last.distance {
			t.fault(r.places[distanceColumn], distanceColumn,
				fmt.Sprintf("%g ft does not lie beyond the %g ft of shot %q on line %d", r.distance, c.last.distance, r.shot, c.last.places[distanceColumn].line),
				"the points of a shot stand in the order in which the ball passed them")
		}
		if r.time <= c.clock.time {
			t.fault(r.places[timeColumn], timeColumn,
				fmt.Sprintf("%g s is not later than the %g s of shot %q on line %d", r.time, c.clock.time, r.shot, c.clock.places[timeColumn].line), "")
		}
		if !math.IsNaN(r.distance) {
			c.last = r
		}
		if !math.IsNaN(r.time) {
			c.clock = r
		}
		c.Points = append(c.Points, fit.TrackPoint{
			Distance: r.distance * units.Foot, Board: r.board, Time: r.time, Speed: r.speed * units.MPH,
			Line: r.places[shotColumn].line,
		})
	}
	made := make([]fit.Track, len(order))
	for i, c := range order {
		made[i] = c.Track
		if len(c.Points) < 2 {
			t.fault(c.first.places[shotColumn], shotColumn,
				fmt.Sprintf("shot %q has one point only; a line takes two or more", c.Shot), "")
		}
	}
	return made
}

// match finds the index of a name; −1 if it is unknown, which is reported.
func (t *tracks) match(r trackRow, column, name string, names []string) int {
	for i, n := range names {
		if n == name {
			return i
		}
	}
	at, there := r.places[column]
	switch {
	case r.short && !there:
		return -1
	case name == "" && len(names) == 1:
		return 0
	case name == "" && there:
		t.fault(at, column, fmt.Sprintf("the cell is empty, but the scenario has %d: %s", len(names), input.List(quotedNames(names))), "")
	case name == "":
		t.absent(column, fmt.Sprintf("the header has no column %s, but the scenario has %d: %s", column, len(names), input.List(quotedNames(names))))
	default:
		t.fault(at, column, fmt.Sprintf("the scenario has no %s %q; it has %s", column, name, input.List(quotedNames(names))), input.DidYouMean(name, names))
	}
	return -1
}

func quotedNames(names []string) []string {
	all := make([]string, len(names))
	for i, n := range names {
		all[i] = fmt.Sprintf("%q", n)
	}
	return all
}
