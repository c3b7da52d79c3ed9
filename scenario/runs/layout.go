package runs

import (
	"context"
	"fmt"
	"math"

	"lanesim/ball/rules"
	"lanesim/internal/input"
	"lanesim/physics"
	"lanesim/report/layouts"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/drilling"

	"gonum.org/v1/gonum/spatial/r3"
)

// Layouts computes the layouts of a scenario's balls.
type Layouts struct {
	Tolerances bool // also the effects of small errors of drilling

	Warn func(text string) // called with each warning; not nil

	studies.Work // its progress counts shots
}

// Run drills every ball for every bowler and throws it on every lane. For a shot that cannot be computed
// there is a warning, and the layout is returned without it.
func (q Layouts) Run(ctx context.Context, s *scenario.Scenario) ([]layouts.Layout, error) {
	deliveries, err := s.Deliveries()
	if err != nil {
		return nil, input.AsWrong(err)
	}
	list := make([]layouts.Layout, len(s.Bowlers)*len(s.Balls))
	thrower := physics.NewThrower()
	settings := s.Settings
	settings.ExchangeSpacing, settings.PathSpacing, settings.TrackSpacing = -1, -1, layouts.TrackSpacing
	for i, d := range deliveries {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		l := &list[d.Bowler*len(s.Balls)+d.Ball]
		bowler := s.Bowlers[d.Bowler]
		if d.Lane == 0 {
			*l = layouts.Layout{
				Ball: s.Balls[d.Ball].Name, Bowler: bowler.Name,
				Specification: s.Balls[d.Ball], Drilling: d.Drilling, CentreMoved: math.Sqrt(r3.Dot(d.Drilling.Shift, d.Drilling.Shift)),
				Verdicts: rules.Check(s.Balls[d.Ball], d.Drilling),
				Written:  layouts.Written{Ball: s.BallsWritten[d.Ball], Bowler: s.BowlersWritten[d.Bowler]},
				Plans:    layouts.PlanWeights(s.Balls[d.Ball], bowler.PAP, bowler.Release.Hand, s.Grips[d.Ball]),
			}
		}
		var f layouts.Flare
		name := s.Lanes[d.Lane].Name
		if release, _, shot, err := Deliver(ctx, thrower, s, d, settings, q.Work); err != nil {
			f.Why = err.Error()
			q.Warn(fmt.Sprintf("%s with %s on %s: no tracks: %v", l.Bowler, l.Ball, name, err))
		} else {
			f = layouts.ReadFlare(&shot, d.Drilling)
			if q.Tolerances {
				study := drilling.Study{Setup: s.Setup(d), Settings: s.Settings, Visible: s.Visible, Work: studies.Work{Workers: q.Workers}}
				study.Setup.Release, study.Setup.Repeatability = release, RepeatabilityOf(bowler)
				found, err := study.Run(ctx)
				if err != nil {
					return nil, err
				}
				f.Tolerances = &found
			}
		}
		f.Lane = name
		l.Flares = append(l.Flares, f)
		q.Report(i+1, len(deliveries))
	}
	for i := range list {
		l := &list[i]
		l.Clearances = layouts.FindClearances(*l, s.Clearances)
		if warning := layouts.ClearanceWarning(*l); warning != "" {
			q.Warn(warning)
		}
	}
	return list, nil
}
