package aim

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"

	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
)

// Limits bound the lines among which the best is sought. Boards count from
// the bowler's side. A window that is zero has the default.
type Limits struct {
	// Laydown are boards under the ball's centre where it first touches the
	// lane; the default is 5 to 35.
	Laydown physics.Window

	// Arrows are the boards at [lane.Arrows] that the ball is sent to; the
	// default is 1 to 39. A line's launch angle is that from laydown to there,
	// and never beyond ±6°.
	Arrows physics.Window

	// Speed in m/s and AxisRotation in rad may be chosen with the line; the
	// default is the release's own alone.
	Speed, AxisRotation physics.Window
}

// Defaults of the limits; that of the laydown is assumed.
var (
	DefaultLaydown = physics.Window{Min: 5, Max: 35}
	DefaultArrows  = physics.Window{Min: 1, Max: lane.Boards}
)

// About returns the limits that allow a bowler to move by some boards either way
// from the line of a release, at the laydown and at the arrows.
func About(r physics.Release, laydown, arrows float64) Limits {
	board := studies.BoardAtArrows(r)
	return Limits{
		Laydown: physics.Window{Min: max(r.Laydown-laydown, 1), Max: min(r.Laydown+laydown, lane.Boards)},
		Arrows:  physics.Window{Min: board - arrows, Max: board + arrows},
	}
}

func (l Limits) filled(r physics.Release) Limits {
	return Limits{
		Laydown: cmp.Or(l.Laydown, DefaultLaydown), Arrows: cmp.Or(l.Arrows, DefaultArrows),
		Speed:        cmp.Or(l.Speed, physics.Window{Min: r.Speed, Max: r.Speed}),
		AxisRotation: cmp.Or(l.AxisRotation, physics.Window{Min: r.AxisRotation, Max: r.AxisRotation}),
	}
}

// Measure is what the best line has most of.
type Measure string

// The measures of a line.
const (
	// ByGoodShare is the share of deliveries that end in the pocket at a good
	// angle.
	ByGoodShare Measure = "good"

	// ByPocketShare is the share that end in the pocket, at any angle.
	ByPocketShare Measure = "pocket"

	// ByStrikeShare is the share that strike, by the stored table of racks. It rests on
	// constants of the pins that are assumed.
	ByStrikeShare Measure = "carry"
)

var measures = [...]Measure{ByPocketShare, ByGoodShare, ByStrikeShare}

// ByMeasure holds something by each measure.
type ByMeasure[T any] struct{ Pocket, Good, Strikes T }

// Of is what it holds by one of them.
func (b ByMeasure[T]) Of(m Measure) T { return *b.at(m) }

func (b *ByMeasure[T]) at(m Measure) *T {
	switch m {
	case ByPocketShare:
		return &b.Pocket
	case ByStrikeShare:
		return &b.Strikes
	}
	return &b.Good
}

// Search asks for the line with the most room for error: that of which the
// largest share of the bowler's own deliveries, drawn from the repeatability, ends
// in the pocket. All lines have the same deviates. A ball in the gutter misses.
//
// The search is over all of the limits. Shots without deviations are thrown on a
// grid of laydown × board at the arrows, and where they come near the pocket on a
// finer one, with others that deviate in speed, revs and axis. From that table the
// share of any line is interpolated: those of the map, and those by which lines
// are picked to be thrown. The shares of the lines that are returned are counted
// from shots.
type Search struct {
	Setup  studies.Setup
	Limits Limits

	// By is what the best line has most of; "" means ByGoodShare. If on no line
	// two of a hundred deliveries enter at a good angle, the search goes by the
	// pocket alone.
	By Measure

	// Shots is the number of deliveries from which a line's share is counted; 0
	// means 2000.
	Shots int

	// RunnersUp is how many lines besides the best are returned at most; 0 means
	// 3 and a negative number none.
	RunnersUp int

	// Strikes asks for the strikes of the lines that are returned, also if they are not
	// judged by them, and Band for the shots of the best line and its room.
	Strikes, Band bool

	// Own asks for the share of the setup's own line too.
	Own bool

	Seed     uint64
	Settings physics.Settings

	studies.Work // its progress is that of the shots of a stage
}

// Line is a line and what becomes of the deliveries about it.
type Line struct {
	Release physics.Release

	// Arrows is the board at the arrows that the ball is sent to.
	Arrows float64

	// Shot is the delivery without deviations. It keeps no path.
	Shot physics.Shot

	// The deliveries in the pocket, and those of them at a good angle. Strikes counts
	// those that strike, if that was asked for: each delivery with the probability that
	// the table of racks has where it enters.
	ByMeasure[studies.Count]

	Gutter studies.Count // of those that end in the gutter, which miss

	Outcomes []DeliveryResult
}

// DeliveryResult is what became of a delivery.
type DeliveryResult struct {
	ByMeasure[bool]
	Gutter bool
}

// Map has the interpolated shares of lines: Good[i][j] and Pocket[i][j] belong
// to Laydown[i] and Arrows[j], and so does Strikes[i][j] if lines are judged by it. It is
// finer about the best line, and at each line that is returned it has the share that
// was counted.
type Map struct {
	Laydown, Arrows []float64
	ByMeasure[[][]float64]
}

// Result is the best line and others.
type Result struct {
	Best Line
	Room Room

	// Band holds the shots of the best line and of its room, if they were asked for.
	Band Band

	// Edges are the limits of the search on which the best line lies.
	Edges []Edge

	// RunnersUp are other lines, the better first, each at least three boards
	// from the others at the laydown or at the arrows, or of another speed or
	// axis rotation.
	RunnersUp []Line

	// Own is the setup's own line, nil if it was not asked for.
	Own *Line

	// Map is at the speed and axis rotation of the best line.
	Map Map

	// By is the measure by which the best line was chosen.
	By Measure

	// Shots is how many were thrown.
	Shots int
}

// Edge is a limit of the search, a board at the laydown or at the arrows.
type Edge struct {
	AtArrows bool
	Board    float64
}

// NoLineError says that no line within the limits ends in the pocket.
type NoLineError struct {
	// Board is the middle of the pocket.
	Board float64

	// Nearest is the board nearest to it at which a ball was found to arrive
	// at the pins, and Laydown and Arrows the boards of its line; NaN if no ball
	// stayed on the lane.
	Nearest, Laydown, Arrows float64
}

func (e *NoLineError) Error() string {
	if math.IsNaN(e.Nearest) {
		return fmt.Sprintf("no line within the limits reaches board %.4g at the pins: the ball never stays on the lane", e.Board)
	}
	return fmt.Sprintf("no line within the limits reaches board %.4g at the pins: the nearest board reached is %.4g, from board %.4g over board %.4g at the arrows",
		e.Board, e.Nearest, e.Laydown, e.Arrows)
}

// Defaults of the search: deliveries from which a share is counted, and lines besides
// the best.
const (
	DefaultShots     = 2000
	DefaultRunnersUp = 3
)

var (
	errLaydownBeyond = errors.New("aim: the ball is laid down beyond the arrows: there is no line to a board there")
	errNoLimits      = errors.New("aim: the limits of the lines hold none")
)

// Run searches. The error is a [*NoLineError] if no line ends in the pocket,
// [studies.ErrCorrelations], or that of a shot that breaks down.
func (q Search) Run(ctx context.Context) (Result, error) {
	if q.Shots <= 0 {
		q.Shots = DefaultShots
	}
	q.RunnersUp = cmp.Or(q.RunnersUp, DefaultRunnersUp)
	q.By = cmp.Or(q.By, ByGoodShare)
	if q.Setup.Release.LaydownDistance >= lane.Arrows {
		return Result{}, errLaydownBeyond
	}
	q.Limits = q.Limits.filled(q.Setup.Release)
	l := q.Limits
	for _, w := range []physics.Window{l.Laydown, l.Arrows, l.Speed, l.AxisRotation} {
		if !(w.Min <= w.Max) {
			return Result{}, errNoLimits
		}
	}
	if l.Laydown.Min < 1 || l.Laydown.Max > lane.Boards || l.Speed.Min <= 0 {
		return Result{}, errNoLimits
	}
	q.Settings = studies.ForManyShots(q.Settings)
	q.Settings.Pocket, q.Settings.GoodAngle = cmp.Or(q.Settings.Pocket, physics.DefaultPocket), cmp.Or(q.Settings.GoodAngle, physics.DefaultGoodAngle)
	s := &lineSearch{Search: q, ctx: ctx}
	return s.run()
}
