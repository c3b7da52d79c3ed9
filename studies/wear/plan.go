package wear

import (
	"cmp"
	"context"
	"errors"
	"fmt"

	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
)

// Plan asks what bowlers do as lanes change: how long the line lasts that is best on the
// fresh lane, and then which move or which other ball brings how much.
//
// Several sessions are played side by side. After each block of deliveries every line
// is judged by deliveries that do not wear the lane: as many in each session, with
// deviations that are the same for all lines and at all times. A line has fallen once
// its share in the pocket is below Keep of that with which it began. Then all moves of
// the laydown with all of the bowler's balls are tried, and the best is taken if it
// brings more than chance explains, as deliveries show by which it was not chosen.
type Plan struct {
	// Lanes are fresh and oiled.
	Lanes []lane.Lane

	Players []Player

	// Order holds the players in the order of their deliveries; it is repeated.
	Order []int

	// Shots is the length of a session in deliveries. If a line has not fallen by its
	// end, sessions are played on up to Limit to find out.
	Shots, Limit int

	// Block is the number of deliveries between judgements; 0 means DefaultBlock.
	Block int

	// Keep is the part of the share with which a line began below which it has fallen; 0
	// means DefaultKeep.
	Keep float64

	// Sessions and Judged are how many sessions are played, and by how many deliveries
	// over all of them a line is judged; 0 means DefaultPlanSessions and DefaultJudged.
	Sessions, Judged int

	// Limits bound the lines among which the best fresh one is sought.
	Limits aim.Limits

	// Farthest is how many boards the laydown may move either way; 0 means 8.
	Farthest int

	// FirstLines, if there are any, are the balls and lines with which the players begin, in place
	// of the best fresh ones.
	FirstLines []FirstLine

	// FirstLinesOnly ends the sessions once each first line has fallen.
	FirstLinesOnly bool

	Seed     uint64
	Settings physics.Settings

	studies.Work // its progress is that of the deliveries of each session
}

// Player is a bowler on one of the lanes, with the balls that can be chosen. The setups'
// lanes and lines do not matter.
type Player struct {
	Lane  int
	Balls []studies.Setup
}

// FirstLine is the ball of a player and the line with which it begins.
type FirstLine struct {
	Ball    int
	Release physics.Release
}

// Defaults of a plan; Keep is a choice, as of a bowler who moves when a quarter is lost.
const (
	DefaultKeep         = 0.75
	DefaultPlanSessions = 8
	DefaultJudged       = 400
	DefaultPlanLimit    = 240
)

// PlanResult is the plan of each player.
type PlanResult struct {
	Players []PlayerResult

	// Played is how many deliveries of each session were played.
	Played int

	Lanes []LaneResult
}

// LaneResult is what became of one of the lanes.
type LaneResult struct {
	// Blocks are what the players' deliveries between judgements came to, in all sessions;
	// their setups are players.
	Blocks []PlannedBlock

	Oil   OilAccount
	After *lane.OilMap // in the first session, at the end
}

// PlannedBlock is a block of deliveries with one ball of a player.
type PlannedBlock struct {
	Block
	Ball int
}

// PlayerResult is what a player does.
type PlayerResult struct {
	// Fresh is the share in the pocket of the best line on the fresh lane, of the ball
	// with which the player begins.
	Fresh studies.Count

	// Stays is by which delivery the first line has fallen, the median over resampled
	// sessions with its 95 % interval; +Inf where it has not by the last one.
	// Where it had not in some of them when it was given up, a block later stands for
	// that: it is then at least so much.
	Stays    float64
	Interval studies.Interval

	Periods []Period
}

// Period is a part of the sessions that a player bowls on one line with one ball.
type Period struct {
	From, To int // deliveries of the session, from 0; To is the last
	Ball     int
	Release  physics.Release

	// Share is what the line has when the period begins, End what it has at its end.
	Share, End studies.Count

	// Feet and Arrows are how many boards the line lies from the one before, positive
	// toward the off side; Gain is what the change brought, on deliveries of its own.
	Feet, Arrows float64
	Gain         studies.Paired

	// Fell says that the line had fallen by the end, and Stuck that no change brought
	// more than chance explains.
	Fell, Stuck bool

	Judgements []Judgement
}

// Judgement is the share of a line before a delivery.
type Judgement struct {
	Shot  int
	Share studies.Count
}

type planWork struct {
	Plan
	ctx      context.Context
	settings physics.Settings
	lanes    [][]*lane.Wearing // by session and lane
	players  []*playerWork
	result   PlanResult
}

// playerWork is a player at its present line.
type playerWork struct {
	Player
	result  PlayerResult
	ball    int
	release physics.Release
	waits   int // blocks until a change is sought again
	// hits of the first line by judgement, session and delivery, for the interval
	first [][][]bool
}

// Run plays the sessions. The errors are those of [Study.Run] and of [aim.Search.Run].
func (q Plan) Run(ctx context.Context) (PlanResult, error) {
	if len(q.Lanes) == 0 || len(q.Players) == 0 || len(q.Order) == 0 || q.Shots < 1 {
		return PlanResult{}, errors.New("wear: a plan needs lanes, bowlers, the order of their deliveries and the length of a session")
	}
	if q.Block < 0 || q.Sessions < 0 || q.Judged < 0 || q.Farthest < 0 || !(q.Keep >= 0 && q.Keep <= 1) {
		return PlanResult{}, fmt.Errorf("wear: blocks of %d, %d sessions, %d deliveries to judge by, moves of %d boards and a part of %g cannot be", q.Block, q.Sessions, q.Judged, q.Farthest, q.Keep)
	}
	q = q.Filled()
	w := &planWork{Plan: q, ctx: ctx, settings: studies.ForManyShots(q.Settings)}
	w.settings.EndOnly = true
	if err := w.start(); err != nil {
		return PlanResult{}, err
	}
	played := 0
	for played < q.Shots && !(q.FirstLinesOnly && !w.anyStands()) || played < q.Limit && w.anyStands() {
		to := min(played+q.Block, q.Limit)
		if played < q.Shots {
			to = min(to, q.Shots)
		}
		if err := w.play(played, to); err != nil {
			return PlanResult{}, err
		}
		played = to
		for i := range w.players {
			if err := w.judge(i, played); err != nil {
				return PlanResult{}, err
			}
		}
		q.Report(min(played, q.Shots), q.Shots)
	}
	result := w.result
	result.Played = played
	for _, p := range w.players {
		last := len(p.result.Periods) - 1
		if p.result.Periods[last].From == played { // a change after the last delivery is none
			p.result.Periods = p.result.Periods[:last]
		} else {
			p.result.Periods[last].To = played - 1
		}
		p.result.Stays, p.result.Interval = w.stays(p)
		result.Players = append(result.Players, p.result)
	}
	for i := range result.Lanes {
		l, sessions := &result.Lanes[i], float64(w.Sessions)
		l.After = w.lanes[0][i].Map
		l.Oil.Balls, l.Oil.Soaked = l.Oil.Balls/sessions, l.Oil.Soaked/sessions
		for session := range w.lanes {
			oil := w.lanes[session][i]
			l.Oil.Lane += (oil.Volume() - oil.Short()) / sessions
		}
	}
	return result, nil
}

// Filled is the plan with its defaults in place of zeros.
func (q Plan) Filled() Plan {
	q.Block, q.Sessions, q.Judged = cmp.Or(q.Block, DefaultBlock), cmp.Or(q.Sessions, DefaultPlanSessions), cmp.Or(q.Judged, DefaultJudged)
	q.Farthest, q.Keep = cmp.Or(q.Farthest, defaultFarthest), cmp.Or(q.Keep, DefaultKeep)
	q.Limit = max(q.Limit, q.Shots)
	return q
}

// anyStands reports whether a first line has not fallen.
func (w *planWork) anyStands() bool {
	for _, p := range w.players {
		if len(p.result.Periods) == 1 && !p.result.Periods[0].Fell {
			return true
		}
	}
	return false
}

func (w *planWork) play(from, to int) error {
	deliverers := make([]studies.Deliverer, len(w.players))
	for i, p := range w.players {
		var err error
		if deliverers[i], err = p.Balls[p.ball].Repeatability.Deliverer(p.release); err != nil {
			return err
		}
	}
	settings := w.settings
	settings.EndOnly, settings.ExchangeSpacing = false, exchangeSpacing
	played := make([][]DeliveryResult, w.Sessions)
	err := studies.InParallel(w.ctx, w.Workers, w.Sessions, nil, func(thrower *physics.Thrower, session int) error {
		for k := from; k < to; k++ {
			i := w.Order[k%len(w.Order)]
			p := w.players[i]
			d, err := throwWorn(thrower, w.lanes[session][p.Lane], w.Lanes[p.Lane], p.Balls[p.ball].Ball, deliverers[i].Delivery(studies.DrawDeviates(w.Seed, uint64(session)<<32|uint64(k))), settings)
			if err != nil {
				return fmt.Errorf("delivery %d of session %d: %w", k+1, session+1, err)
			}
			d.Setup = i
			played[session] = append(played[session], d)
		}
		return w.ctx.Err()
	})
	if err != nil {
		return err
	}
	for i, p := range w.players {
		l := &w.result.Lanes[p.Lane]
		if b := blockOf(i, played, func(DeliveryResult) float64 { return 0 }); b.Pocket.Of > 0 {
			b.From, b.To = from, to-1
			l.Blocks = append(l.Blocks, PlannedBlock{b, p.ball})
		}
	}
	for _, session := range played {
		for _, d := range session {
			l := &w.result.Lanes[w.players[d.Setup].Lane]
			l.Oil.Balls += d.Oil.Ball
			l.Oil.Soaked += d.Oil.Soaked
		}
	}
	return nil
}
