package aim

import (
	"sort"

	"lanesim/physics"
	"lanesim/pins"
	"lanesim/studies"
)

// screen throws the search's deliveries about lines and returns the lines, the better first.
func (s *lineSearch) screen(few []pickedLine) ([]pickedLine, error) {
	list := make([]physics.Release, len(few))
	for i, p := range few {
		list[i] = p.release
	}
	outcomes, err := s.deliver(list, min(screening, s.Shots), searchDraws)
	if err != nil {
		return nil, err
	}
	for i := range few {
		counts := countsOf(outcomes[i])
		for _, by := range measures {
			*few[i].at(by) = counts.Of(by).Share()
		}
	}
	sort.SliceStable(few, func(i, j int) bool { return few[i].above(few[j].lineEstimate, s.By) })
	return few[:min(len(few), 1+max(s.RunnersUp, 0))], nil
}

// count counts the shares of the reported lines, from deliveries that were not used to pick them.
func (s *lineSearch) count(result *Result, few []pickedLine) error {
	var list []physics.Release
	for _, p := range few {
		list = append(list, p.release)
	}
	if s.Own {
		list = append(list, s.Setup.Release)
	}
	outcomes, err := s.deliver(list, s.Shots, 0)
	if err != nil {
		return err
	}
	lines := make([]Line, len(list))
	thrower := physics.NewThrower()
	for i, r := range list {
		shot, err := thrower.Throw(s.Setup.Lane, s.Setup.Ball, r, s.Settings)
		if err != nil {
			return err
		}
		lines[i] = Line{
			Release: r, Arrows: studies.BoardAtArrows(r), Shot: shot,
			ByMeasure: countsOf(outcomes[i]), Outcomes: outcomes[i], Gutter: studies.CountWhere(outcomes[i], func(o DeliveryResult) bool { return o.Gutter }),
		}
	}
	s.thrown += len(list)
	if s.Own {
		result.Own = &lines[len(few)]
		lines = lines[:len(few)]
	}
	sort.SliceStable(lines, func(i, j int) bool {
		if a, b := lines[i].Of(s.By).Hits, lines[j].Of(s.By).Hits; a != b {
			return a > b
		}
		return lines[i].Pocket.Hits > lines[j].Pocket.Hits
	})
	result.Best, result.RunnersUp = lines[0], lines[1:]
	return nil
}

// deliver throws n deliveries about each release, numbered from from on, and returns their results.
func (s *lineSearch) deliver(list []physics.Release, n int, from uint64) ([][]DeliveryResult, error) {
	all := make([][]DeliveryResult, len(list))
	deliverers := make([]studies.Deliverer, len(list))
	for i, r := range list {
		all[i] = make([]DeliveryResult, n)
		var err error
		if deliverers[i], err = s.Setup.Repeatability.Deliverer(r); err != nil {
			return nil, err
		}
	}
	err := s.parallel(len(list)*n, 1, func(thrower *physics.Thrower, job int) error {
		i, k := job/n, job%n
		shot, err := s.throw(thrower, deliverers[i].Delivery(studies.DrawDeviates(s.Seed, from+uint64(k))))
		if err != nil {
			return err
		}
		all[i][k] = DeliveryResult{ByMeasure[bool]{Pocket: shot.Summary.Pocket, Good: shot.Summary.Pocket && shot.Summary.GoodAngle}, shot.Status == physics.Gutter}
		if e := shot.Events.Pins; e != nil && (s.By == ByStrikeShare || s.Strikes) {
			// The same number for all lines, so that they are compared fairly.
			number := studies.Uniform(studies.Draws(s.Seed, studies.ForRacks, from+uint64(k)))
			all[i][k].Strikes = number < pins.Stored().Strikes(pins.Entry{Board: e.Board, Angle: e.Heading, Mass: s.Setup.Ball.Mass, Speed: e.Speed})
		}
		return nil
	})
	return all, err
}

// countsOf counts the results by each measure.
func countsOf(list []DeliveryResult) (counts ByMeasure[studies.Count]) {
	for _, by := range measures {
		*counts.at(by) = studies.CountWhere(list, func(o DeliveryResult) bool { return o.Of(by) })
	}
	return counts
}

// Against pairs the deliveries of two lines with the same seed by a measure: a is the other line, b this one.
func (l Line) Against(other Line, by Measure) studies.Paired {
	var p studies.Paired
	for k := range min(len(l.Outcomes), len(other.Outcomes)) {
		p.Add(other.Outcomes[k].Of(by), l.Outcomes[k].Of(by))
	}
	return p
}
