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

// Plan finds what bowlers should do as lanes change: how long the best line of the fresh lane stays playable,
// and how much each later move or change of ball gains.
//
// Several sessions are played in parallel. After each block of deliveries every line is judged by deliveries
// that do not wear the lane: the same number in each session, with the same deviates for all lines and at all
// times. A line has fallen once its pocket share is below Keep times the share with which it began. Then all
// moves of the laydown with all of the bowler's balls are tried. The best is taken if its gain is significant
// on deliveries that were not used to choose it.
type Plan struct {
	// Lanes are fresh and oiled.
	Lanes []lane.Lane

	Players []Player

	// Order has the indices of the players in the order of their deliveries; it is repeated.
	Order []int

	// Shots is the length of a session in deliveries. If a first line has not fallen by then, sessions
	// continue up to Limit deliveries.
	Shots, Limit int

	// Block is the number of deliveries between judgements; 0 means DefaultBlock.
	Block int

	// Keep is the part of its first share below which a line has fallen; 0 means DefaultKeep.
	Keep float64

	// Sessions is the number of sessions, Judged the number of deliveries over all sessions that judge a
	// line; 0 means DefaultPlanSessions and DefaultJudged.
	Sessions, Judged int

	// Limits bound the lines among which the best fresh one is sought.
	Limits aim.Limits

	// Farthest is how many boards the laydown may move either way; 0 means 8.
	Farthest int

	// FirstLines, if not empty, are the balls and lines with which the players begin, instead of the best
	// fresh ones.
	FirstLines []FirstLine

	// FirstLinesOnly ends the sessions once all first lines have fallen.
	FirstLinesOnly bool

	Seed     uint64
	Settings physics.Settings

	studies.Work // its progress counts the deliveries of a session
}

// Player is a bowler on one of the lanes, with the balls to choose from. The setups' lanes and lines are
// ignored.
type Player struct {
	Lane  int
	Balls []studies.Setup
}

// FirstLine is the ball of a player and the line with which it begins.
type FirstLine struct {
	Ball    int
	Release physics.Release
}

// Defaults of a plan. That of Keep is assumed: the bowler moves when a quarter of the share is lost.
const (
	DefaultKeep         = 0.75
	DefaultPlanSessions = 8
	DefaultJudged       = 400
	DefaultPlanLimit    = 240
)

// PlanResult is the plan of each player.
type PlanResult struct {
	Players []PlayerResult

	// Played is the number of deliveries played in each session.
	Played int

	Lanes []LaneResult
}

// LaneResult is the result of one lane.
type LaneResult struct {
	// Blocks summarise the players' deliveries between judgements, over all sessions; Block.Setup is the
	// index of the player.
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
	// Fresh is the pocket share of the player's first ball and line on the fresh lane.
	Fresh studies.Count

	// Stays is the delivery by which the first line has fallen, the median over resampled sessions with its
	// 95 % interval; +Inf if it has not by the last one. For sessions in which it had not fallen when it was
	// given up, one block later is used, so that Stays is then a lower bound.
	Stays    float64
	Interval studies.Interval

	Periods []Period
}

// Period is a part of the sessions with one line and one ball of a player.
type Period struct {
	From, To int // deliveries of the session, from 0; To is the last
	Ball     int
	Release  physics.Release

	// Share is the pocket share of the line at the beginning of the period, End that at its end.
	Share, End studies.Count

	// Feet and Arrows are the move from the previous line in boards, positive toward the off side. Gain
	// compares the two lines on deliveries not used to choose the change.
	Feet, Arrows float64
	Gain         studies.Paired

	// Fell is set if the line had fallen by the end of the period, and Stuck if no change gained
	// significantly.
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
	waits   int // blocks until a change is searched again
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
	for played < q.Shots && !(q.FirstLinesOnly && !w.anyFirstLine()) || played < q.Limit && w.anyFirstLine() {
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
		if p.result.Periods[last].From == played { // a change after the last delivery does not count
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

// Filled returns the plan with the defaults in place of zeros.
func (q Plan) Filled() Plan {
	q.Block, q.Sessions, q.Judged = cmp.Or(q.Block, DefaultBlock), cmp.Or(q.Sessions, DefaultPlanSessions), cmp.Or(q.Judged, DefaultJudged)
	q.Farthest, q.Keep = cmp.Or(q.Farthest, defaultFarthest), cmp.Or(q.Keep, DefaultKeep)
	q.Limit = max(q.Limit, q.Shots)
	return q
}

// anyFirstLine reports whether any first line has not fallen.
func (w *planWork) anyFirstLine() bool {
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
