package scenario

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"lanesim/internal/input"
	"lanesim/lane"
	"lanesim/studies/fit"
	"lanesim/units"
)

// TracksFor has the balls, bowlers and lane that tracks in a file may belong to.
type TracksFor struct {
	Balls, Bowlers []string // names; a track need not name the only one

	// From are the laydown distances in m of the bowlers: no point can lie before
	// them. To is the lane's length in m.
	From []float64
	To   float64
}

// TracksFor returns the balls, bowlers and first lane of the scenario for tracks.
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

// The columns that are needed, and those that are optional.
var (
	neededColumns   = []string{shotColumn, distanceColumn, boardColumn}
	optionalColumns = []string{timeColumn, speedColumn, ballColumn, bowlerColumn}
)

// fastestTrack bounds the speeds that a ball can have, as a scenario does.
const fastestTrack = 100.0 // mph

// check finds the errors of a single row.
func (t *tracks) check(r *trackRow) {
	fault := func(column, format string, values ...any) {
		r.Fault(column, fmt.Sprintf(format, values...), "")
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

// gather collects the rows of each shot and finds errors between rows.
func (t *tracks) gather() []fit.Track {
	type shotRows struct {
		fit.Track
		first trackRow
		last  trackRow // the last with a distance
		clock trackRow // the last with a time
	}
	var order []*shotRows
	byName := map[string]*shotRows{}
	for _, r := range t.rows {
		c, known := byName[r.shot]
		if !known {
			c = &shotRows{Track: fit.Track{Shot: r.shot}, first: r, last: trackRow{distance: math.NaN()}, clock: trackRow{time: math.NaN()}}
			c.Ball, c.Bowler = t.match(r, ballColumn, r.ball, t.of.Balls), t.match(r, bowlerColumn, r.bowler, t.of.Bowlers)
			byName[r.shot] = c
			order = append(order, c)
		} else {
			for _, same := range []struct{ column, now, before string }{{ballColumn, r.ball, c.first.ball}, {bowlerColumn, r.bowler, c.first.bowler}} {
				if same.now != same.before && !r.Short() && !c.first.Short() {
					r.Fault(same.column, fmt.Sprintf("%q, but shot %q has %q on line %d", same.now, r.shot, same.before, c.first.Place(shotColumn).Line), "")
				}
			}
		}
		if c.Bowler >= 0 && c.Bowler < len(t.of.From) && r.distance < t.of.From[c.Bowler]/units.Foot {
			r.Fault(distanceColumn, fmt.Sprintf("%g ft is before the ball is laid down, at %g ft", r.distance, t.of.From[c.Bowler]/units.Foot), "")
		}
		if r.distance <= c.last.distance {
			r.Fault(distanceColumn, fmt.Sprintf("%g ft does not lie beyond the %g ft of shot %q on line %d", r.distance, c.last.distance, r.shot, c.last.Place(distanceColumn).Line),
				"the points of a shot stand in the order in which the ball passed them")
		}
		if r.time <= c.clock.time {
			r.Fault(timeColumn, fmt.Sprintf("%g s is not later than the %g s of shot %q on line %d", r.time, c.clock.time, r.shot, c.clock.Place(timeColumn).Line), "")
		}
		if !math.IsNaN(r.distance) {
			c.last = r
		}
		if !math.IsNaN(r.time) {
			c.clock = r
		}
		c.Points = append(c.Points, fit.TrackPoint{Distance: r.distance * units.Foot, Board: r.board, Time: r.time, Speed: r.speed * units.MPH})
	}
	made := make([]fit.Track, len(order))
	for i, c := range order {
		made[i] = c.Track
		if len(c.Points) < 2 {
			c.first.Fault(shotColumn, fmt.Sprintf("shot %q has only one point; two or more are needed", c.Shot), "")
		}
	}
	return made
}

// match returns the index of a name, −1 for an unknown name, which it reports.
func (t *tracks) match(r trackRow, column, name string, names []string) int {
	if i := slices.Index(names, name); i >= 0 {
		return i
	}
	_, there := r.Cell(column)
	known := input.List(input.Each(names, strconv.Quote))
	switch {
	case r.Short() && !there:
		return -1
	case name == "" && len(names) == 1:
		return 0
	case name == "" && there:
		r.Fault(column, fmt.Sprintf("the cell is empty, but the scenario has %d: %s", len(names), known), "")
	case name == "":
		if !t.missing[column] {
			t.Fault(t.Header, "", fmt.Sprintf("the header has no column %s, but the scenario has %d: %s", column, len(names), known), "")
			t.missing[column] = true
		}
	default:
		r.Fault(column, fmt.Sprintf("the scenario has no %s %q; it has %s", column, name, known), input.DidYouMean(name, names))
	}
	return -1
}

// ReadTracks reads measured tracks from CSV text: a row for each point, in the
// order in which the ball passed them. The first record names the columns, in
// any order: shot, distance_ft and board, and perhaps time_s, speed_mph, ball
// and bowler. Lines that begin with # are skipped; a time or a speed may be
// empty where it was not measured. The name is the file's, for errors.
//
// All errors are returned together, as [Errors].
func ReadTracks(name string, text []byte, of TracksFor) ([]fit.Track, error) {
	t := tracks{of: of, Table: input.Table{Needed: neededColumns, Optional: optionalColumns}, missing: map[string]bool{}}
	t.Read(text, t.row)
	var made []fit.Track
	if t.Sound() {
		made = t.gather()
		if len(t.rows) == 0 && len(t.Faults()) == 0 {
			t.Fault(input.Place{Line: 1, Column: 1}, "", "no points below the header", "")
		}
	}
	var p problems
	source := p.source(name, string(text))
	for _, f := range t.Faults() {
		p.add(source.byteColumn(f.Line, f.Column), f.Field, f.Reason, f.Hint)
	}
	if err := p.err(); err != nil {
		return nil, err
	}
	return made, nil
}

// tracks is a file of tracks while it is read.
type tracks struct {
	input.Table
	of      TracksFor
	missing map[string]bool // missing columns that were reported
	rows    []trackRow
}

// trackRow is a row of the file. A number that is missing or wrong is NaN.
type trackRow struct {
	input.Row
	shot, ball, bowler           string
	distance, board, time, speed float64
}

// row adds a row.
func (t *tracks) row(row input.Row) {
	r := trackRow{
		Row:      row,
		distance: row.Number(distanceColumn, true), board: row.Number(boardColumn, true),
		time: row.Number(timeColumn, false), speed: row.Number(speedColumn, false),
	}
	r.ball, _ = row.Cell(ballColumn)
	r.bowler, _ = row.Cell(bowlerColumn)
	var there bool
	if r.shot, there = row.Cell(shotColumn); there && r.shot == "" {
		row.Fault(shotColumn, "the cell is empty", "")
	}
	t.check(&r)
	if r.shot != "" {
		t.rows = append(t.rows, r)
	}
}
