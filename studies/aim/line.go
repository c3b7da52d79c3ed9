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

// Limits bound the lines of a search. Boards count from the bowler's side. A zero window means its default.
type Limits struct {
	// Laydown bounds the board under the ball's centre where it first touches the lane; the default is 5 to
	// 35.
	Laydown physics.Window

	// Arrows bounds the board at [lane.Arrows] at which the ball is launched; the default is 1 to 39. The
	// launch angle follows from both boards and is within ±6°.
	Arrows physics.Window

	// Speed in m/s and AxisRotation in rad are searched as well if they have windows; the default is the
	// release's own value.
	Speed, AxisRotation physics.Window
}

// Defaults of the limits in boards; that of the laydown is assumed.
var (
	DefaultLaydown = physics.Window{Min: 5, Max: 35}
	DefaultArrows  = physics.Window{Min: 1, Max: lane.Boards}
)

// About returns the limits within some boards to either side of the line of a release, at the laydown and at
// the arrows.
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

// Measure is the share that the best line maximises.
type Measure string

// The measures of a line.
const (
	// ByGoodShare is the share of deliveries that end in the pocket at a good entry angle.
	ByGoodShare Measure = "good"

	// ByPocketShare is the share that ends in the pocket at any angle.
	ByPocketShare Measure = "pocket"

	// ByStrikeShare is the share of strikes by the stored table of racks. It depends on assumed constants of
	// the pins.
	ByStrikeShare Measure = "carry"
)

var measures = [...]Measure{ByPocketShare, ByGoodShare, ByStrikeShare}

// ByMeasure has a value for each measure.
type ByMeasure[T any] struct{ Pocket, Good, Strikes T }

// Of returns the value for a measure.
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

// Search finds the line with the most room for error: the line on which the largest share of the bowler's
// deliveries, drawn from the repeatability, succeeds. All lines use the same deviates. A ball in the gutter
// is a miss.
//
// The search covers all of the limits. It throws shots without deviations on a grid of laydown × board at the
// arrows, and near the pocket on a finer grid, there also with deviations in speed, revs and axis. From this
// table it interpolates the share of any line, for the map and for picking lines to throw. The shares of the
// returned lines are counted from shots.
type Search struct {
	Setup  studies.Setup
	Limits Limits

	// By is the share to maximise; "" means ByGoodShare. If fewer than two of a hundred deliveries enter at a
	// good angle on every line, the search uses ByPocketShare.
	By Measure

	// Shots is the number of deliveries from which a line's shares are counted; 0 means 2000.
	Shots int

	// RunnersUp is the largest number of lines returned besides the best; 0 means 3, a negative number none.
	RunnersUp int

	// Strikes also counts the strikes of the returned lines, and Band returns the shots of the best line and
	// its room.
	Strikes, Band bool

	// Own also counts the shares of the setup's own line.
	Own bool

	Seed     uint64
	Settings physics.Settings

	studies.Work // its progress counts the shots of a stage
}

// Line is a line and the results of the deliveries on it.
type Line struct {
	Release physics.Release

	// Arrows is the board at the arrows at which the ball is launched.
	Arrows float64

	// Shot is the delivery without deviations. It keeps no path.
	Shot physics.Shot

	// Pocket counts the deliveries in the pocket, Good those of them at a good angle. Strikes counts strikes
	// if they were requested: each delivery strikes with the probability of the table of racks at its entry.
	ByMeasure[studies.Count]

	Gutter studies.Count // deliveries that end in the gutter

	Outcomes []DeliveryResult
}

// DeliveryResult is the result of one delivery.
type DeliveryResult struct {
	ByMeasure[bool]
	Gutter bool
}

// Map has the interpolated shares of lines: Pocket[i][j], Good[i][j] and, if lines are judged by it,
// Strikes[i][j] are for Laydown[i] and Arrows[j]. It is finer about the best line. At each returned line it
// has the counted share.
type Map struct {
	Laydown, Arrows []float64
	ByMeasure[[][]float64]
}

// Result is the best line and others.
type Result struct {
	Best Line
	Room Room

	// Band has the shots of the best line and of its room, if Search.Band is set.
	Band Band

	// Edges are the limits of the search on which the best line lies.
	Edges []Edge

	// RunnersUp are other lines, the better first. Each differs from the others by at least three boards at
	// the laydown or at the arrows, or in speed or axis rotation.
	RunnersUp []Line

	// Own is the setup's own line, nil unless Search.Own is set.
	Own *Line

	// Map is at the speed and axis rotation of the best line.
	Map Map

	// By is the measure by which the best line was chosen.
	By Measure

	// Shots is the number of shots thrown.
	Shots int
}

// Edge is a limit of the search, a board at the laydown or at the arrows.
type Edge struct {
	AtArrows bool
	Board    float64
}

// NoLineError means that no line within the limits ends in the pocket.
type NoLineError struct {
	// Board is the middle of the pocket.
	Board float64

	// Nearest is the nearest board at the pins that was reached, Laydown and Arrows the boards of its line;
	// NaN if no ball stayed on the lane.
	Nearest, Laydown, Arrows float64
}

func (e *NoLineError) Error() string {
	if math.IsNaN(e.Nearest) {
		return fmt.Sprintf("no line within the limits reaches board %.4g at the pins: the ball never stays on the lane", e.Board)
	}
	return fmt.Sprintf("no line within the limits reaches board %.4g at the pins: the nearest board reached is %.4g, from board %.4g over board %.4g at the arrows",
		e.Board, e.Nearest, e.Laydown, e.Arrows)
}

// Defaults of the search: the deliveries from which a share is counted, and the lines besides the best.
const (
	DefaultShots     = 2000
	DefaultRunnersUp = 3
)

var (
	errLaydownBeyond = errors.New("aim: the ball is laid down beyond the arrows: there is no line to a board there")
	errNoLimits      = errors.New("aim: the limits of the lines hold none")
)

// Run searches the best line. The error is a [*NoLineError] if no line ends in the pocket,
// [studies.ErrCorrelations], that of [physics.Throw] for a shot, or that of the context.
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
