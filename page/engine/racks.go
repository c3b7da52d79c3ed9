package engine

import (
	"context"
	"errors"
	"math"

	"lanesim/pins"
	"lanesim/report"
	"lanesim/report/studied"
	"lanesim/studies"
	"lanesim/studies/carry"
)

const (
	// fallSpacing is the time between frames of falling pins.
	fallSpacing = 1.0 / 120 // s

	// commonLeaves is the number of leaves listed.
	commonLeaves = 8
)

// racks answers with both shots' results at the pins and the motion of one rack: the first
// with the commonest outcome.
func (e *Engine) racks(ctx context.Context, s *setup, r request, progress Progress) (answer, error) {
	if r.Racks < 1 || r.Racks > mostRacks {
		return answer{}, errTooMany("racks", mostRacks)
	}
	players, _, err := e.players(ctx, s, "machine")
	if err != nil {
		return answer{}, err
	}
	a := answer{is: "racks"}
	var balls report.List
	for i, p := range players {
		study := carry.Study{Setups: setups(players[i : i+1]), Racks: r.Racks, Seed: r.Seed, Deck: s.Rack, Settings: s.Scenario.Settings,
			Work: studies.Work{Progress: func(done, of int) { progress("rack of "+p.Ball, done, of) }}}
		results, err := study.Run(ctx)
		var missed *carry.NotAtPinsError
		if err != nil && !errors.As(err, &missed) {
			return answer{}, err
		}
		o := report.ObjectOf("name", p.Ball, "strike", nil, "pinsDown", nil, "leaves", report.List{}, "fall", nil)
		if missed != nil || len(results) == 0 {
			balls = append(balls, o)
			continue
		}
		found := results[0]
		o[1].Value = share(studies.Count{Hits: found.Tally.Leaves[0], Of: found.Tally.Racks})
		o[2].Value = found.Tally.Down(pins.All)
		o[3].Value = report.Each(found.Tally.Commonest(commonLeaves), func(l pins.Leave) report.Object {
			count := studies.Count{Hits: found.Tally.Leaves[l], Of: found.Tally.Racks}
			return report.ObjectOf("pins", l.String(), "share", count.Share(), "text", studied.CountText(count))
		})
		typical, err := study.Again(found, found.Typical)
		if err != nil {
			return answer{}, err
		}
		o[4].Value = a.packed.fall(typical, s.Rack.WithDefaults().MassCentre)
		balls = append(balls, o)
	}
	a.members = report.ObjectOf("balls", balls, "assumed", texts(s.RackValues()))
	return a, nil
}

// fall packs the motion of ball and pins at equal time steps, in the lane's frame: down-lane
// from the head pin's spot, to the left, and up. A standing pin has its mass centre at the
// given height.
func (p *packed) fall(r pins.Result, height float64) report.Object {
	from := len(*p)
	frames := int(math.Ceil(r.Time/fallSpacing)) + 1
	for k := range frames {
		t := float64(k) * fallSpacing
		x, y := ballAt(r.Path, t)
		p.add(x, y)
		for pin, path := range r.Pins {
			p.add(pinAt(path, [3]float64{pins.Spots[pin][0], pins.Spots[pin][1], height}, t)...)
		}
	}
	leave := r.Standing.String()
	if r.Strike() {
		leave = ""
	}
	return report.ObjectOf("frames", frames, "interval", fallSpacing, "pins", pins.Count,
		"packed", p.array(from), "leave", leave)
}

// ballAt returns the ball's position at a time.
func ballAt(path []pins.PathPoint, t float64) (x, y float64) {
	if len(path) == 0 {
		return math.NaN(), math.NaN()
	}
	a, b, share := between(path, t, func(p pins.PathPoint) float64 { return p.Time })
	return a.X + share*(b.X-a.X), a.Y + share*(b.Y-a.Y)
}

// pinAt returns a pin's mass centre and axis at a time. A pin that nothing touched stands on
// its spot.
func pinAt(path []pins.PinPoint, spot [3]float64, t float64) []float64 {
	if len(path) == 0 || t < path[0].Time {
		return []float64{spot[0], spot[1], spot[2], 0, 0, 1}
	}
	a, b, share := between(path, t, func(p pins.PinPoint) float64 { return p.Time })
	mix := func(u, v float64) float64 { return u + share*(v-u) }
	return []float64{mix(a.X, b.X), mix(a.Y, b.Y), mix(a.Z, b.Z), mix(a.Axis[0], b.Axis[0]), mix(a.Axis[1], b.Axis[1]), mix(a.Axis[2], b.Axis[2])}
}

// between returns the points of a path before and after a time and the share of the way
// between them; beyond the ends it returns the end twice.
func between[P any](path []P, t float64, time func(P) float64) (a, b P, share float64) {
	i := 0
	for i < len(path)-1 && time(path[i+1]) <= t {
		i++
	}
	if i == len(path)-1 {
		return path[i], path[i], 0
	}
	return path[i], path[i+1], max(0, (t-time(path[i]))/(time(path[i+1])-time(path[i])))
}
