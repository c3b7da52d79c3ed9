package studies

import (
	"math"

	"lanesim/physics"
)

// meanShot returns the mean of shots that differ in the phase: paths, marks and
// events point by point, the numbers of the summary, and the verdicts of the mean
// entry. An event is there if it is in all shots. If one of them does not get to
// the pins, the mean ends as that one does, and its path where one has no more.
func meanShot(shots []physics.Shot, s physics.Settings) physics.Shot {
	m := shots[0]
	if len(shots) == 1 {
		return m
	}
	for i := len(shots) - 1; i >= 0; i-- {
		if shots[i].Status != physics.Pins {
			m.Status, m.Events.Gutter = shots[i].Status, shots[i].Events.Gutter
		}
	}
	event := func(of func(physics.Events) *physics.State) *physics.State {
		return meanState(shots, func(s physics.Shot) *physics.State { return of(s.Events) })
	}
	m.Events.HookStart = event(func(e physics.Events) *physics.State { return e.HookStart })
	m.Events.FrictionRead = event(func(e physics.Events) *physics.State { return e.FrictionRead })
	m.Events.RollStart = event(func(e physics.Events) *physics.State { return e.RollStart })
	m.Events.PatternEnd = event(func(e physics.Events) *physics.State { return e.PatternEnd })
	m.Events.Pins = event(func(e physics.Events) *physics.State { return e.Pins })
	m.Events.Breakpoint = event(func(e physics.Events) *physics.State { return e.Breakpoint })
	m.Marks = meanStates(shots, func(s physics.Shot) []physics.State { return s.Marks })
	m.Path = meanStates(shots, func(s physics.Shot) []physics.State { return s.Path })
	m.Track = meanTrack(shots)
	m.Exchange = nil
	m.Summary = meanSummary(shots, s)
	m.Summary.BreakpointInOil = m.Events.Breakpoint != nil && m.Summary.BreakpointInOil
	return m
}

// meanState is the mean of a state that all shots have, else nil.
func meanState(shots []physics.Shot, of func(physics.Shot) *physics.State) *physics.State {
	states := make([]physics.State, len(shots))
	for i, s := range shots {
		at := of(s)
		if at == nil {
			return nil
		}
		states[i] = *at
	}
	m := mean(states)
	return &m
}

// meanStates is the mean of states that lie at equal distances, up to where one
// of the shots has no more. The last of a path lies where the shot ends.
func meanStates(shots []physics.Shot, of func(physics.Shot) []physics.State) []physics.State {
	var list []physics.State
	states := make([]physics.State, len(shots))
	for k := 0; ; k++ {
		for i, s := range shots {
			if k >= len(of(s)) || of(s)[k].Distance != of(shots[0])[k].Distance {
				return list
			}
			states[i] = of(s)[k]
		}
		list = append(list, mean(states))
	}
}

// mean averages states, number by number. What is equal in all stays as it is.
func mean(states []physics.State) physics.State {
	first := states[0]
	m := first
	share := 1 / float64(len(states))
	for _, s := range states[1:] {
		for _, v := range []struct{ to, first, from *float64 }{
			{&m.Time, &first.Time, &s.Time}, {&m.Distance, &first.Distance, &s.Distance}, {&m.Lateral, &first.Lateral, &s.Lateral},
			{&m.Board, &first.Board, &s.Board}, {&m.Heading, &first.Heading, &s.Heading}, {&m.Speed, &first.Speed, &s.Speed},
			{&m.Velocity[0], &first.Velocity[0], &s.Velocity[0]}, {&m.Velocity[1], &first.Velocity[1], &s.Velocity[1]},
			{&m.Spin[0], &first.Spin[0], &s.Spin[0]}, {&m.Spin[1], &first.Spin[1], &s.Spin[1]}, {&m.Spin[2], &first.Spin[2], &s.Spin[2]},
			{&m.RevRate, &first.RevRate, &s.RevRate}, {&m.AxisRotation, &first.AxisRotation, &s.AxisRotation},
			{&m.AxisTilt, &first.AxisTilt, &s.AxisTilt}, {&m.Slip, &first.Slip, &s.Slip}, {&m.Friction, &first.Friction, &s.Friction},
			{&m.Normal, &first.Normal, &s.Normal}, {&m.Oil, &first.Oil, &s.Oil}, {&m.BallOil, &first.BallOil, &s.BallOil},
		} {
			*v.to += share * (*v.from - *v.first)
		}
	}
	return m
}

// meanTrack averages distances and films of tracks, whose points lie at equal
// turnings; the points over the ball are those of the first.
func meanTrack(shots []physics.Shot) []physics.TrackPoint {
	var track []physics.TrackPoint
	for k, p := range shots[0].Track {
		p.Time, p.Distance, p.Found, p.Left, p.Spacing = 0, 0, 0, 0, 0
		share := 1 / float64(len(shots))
		for _, s := range shots {
			if k >= len(s.Track) || math.Abs(s.Track[k].Turned-p.Turned) > trackAngle/4 {
				return track // the last point lies where the shot ends
			}
			q := s.Track[k]
			p.Time, p.Distance, p.Spacing = p.Time+share*q.Time, p.Distance+share*q.Distance, p.Spacing+share*q.Spacing
			p.Found, p.Left = p.Found+share*q.Found, p.Left+share*q.Left
		}
		track = append(track, p)
	}
	return track
}

// meanSummary averages the numbers of summaries.
func meanSummary(shots []physics.Shot, s physics.Settings) physics.Summary {
	m := shots[0].Summary
	average := func(of func(physics.Summary) float64) float64 {
		sum := 0.0
		for _, s := range shots {
			sum += of(s.Summary)
		}
		return sum / float64(len(shots))
	}
	existing := func(of func(physics.Summary) *float64) *float64 {
		for _, s := range shots {
			if of(s.Summary) == nil {
				return nil
			}
		}
		v := average(func(s physics.Summary) float64 { return *of(s) })
		return &v
	}
	m.Skid = existing(func(s physics.Summary) *float64 { return s.Skid })
	m.Hook = existing(func(s physics.Summary) *float64 { return s.Hook })
	m.Roll = existing(func(s physics.Summary) *float64 { return s.Roll })
	m.EntryBoard = existing(func(s physics.Summary) *float64 { return s.EntryBoard })
	m.EntryAngle = existing(func(s physics.Summary) *float64 { return s.EntryAngle })
	m.SpeedLoss = average(func(s physics.Summary) float64 { return s.SpeedLoss })
	m.EnergyLost = average(func(s physics.Summary) float64 { return s.EnergyLost })
	m.Flare = average(func(s physics.Summary) float64 { return s.Flare })
	m.FlareOil = average(func(s physics.Summary) float64 { return s.FlareOil })
	m.Revolutions = average(func(s physics.Summary) float64 { return s.Revolutions })
	m.ReSlips = int(math.Round(average(func(s physics.Summary) float64 { return float64(s.ReSlips) })))
	m.Oil.Lane = average(func(s physics.Summary) float64 { return s.Oil.Lane })
	m.Oil.Track = average(func(s physics.Summary) float64 { return s.Oil.Track })
	m.Oil.Rings = average(func(s physics.Summary) float64 { return s.Oil.Rings })
	m.Oil.Soaked = average(func(s physics.Summary) float64 { return s.Oil.Soaked })
	m.BreakpointInOil = average(func(s physics.Summary) float64 {
		if s.BreakpointInOil {
			return 1
		}
		return 0
	}) > 0.5
	pocket, good := s.Pocket, s.GoodAngle
	if pocket == (physics.Window{}) {
		pocket = physics.DefaultPocket
	}
	if good == (physics.Window{}) {
		good = physics.DefaultGoodAngle
	}
	m.Pocket = m.EntryBoard != nil && pocket.Contains(*m.EntryBoard)
	m.GoodAngle = m.EntryAngle != nil && good.Contains(*m.EntryAngle)
	return m
}
