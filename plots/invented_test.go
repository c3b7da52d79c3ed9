package plots

import (
	"math"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/units"
)

// invention describes a shot made up for tests, which solves no equations: straight to the
// hook, a parabola to the roll, then straight, with speeds and spins that fade between
// plausible ends.
type invention struct {
	laydown, angle float64 // board, degrees
	hook, roll     float64 // ft
	entry          float64 // degrees
	straight       bool    // no spin
	hand           ball.Hand
}

func usual() invention {
	return invention{laydown: 24, angle: 2.4, hook: 36, roll: 54, entry: 5.0}
}

func (in invention) series(name string) Series {
	return Series{Name: name, Shot: in.shot(), Hand: in.hand}
}

func (in invention) state(ft float64) physics.State {
	slope := func(ft float64) float64 {
		t := min(max((ft-in.hook)/(in.roll-in.hook), 0), 1)
		return (-in.angle + t*(in.angle+in.entry)) * math.Pi / 180
	}
	y := 0.0
	const steps = 240
	for i := range steps {
		y += slope((float64(i)+0.5)/steps*ft) * ft / steps * units.Foot
	}
	t := min(ft/in.roll, 1)
	s := physics.State{
		Time: ft * 0.04, Distance: ft * units.Foot,
		Board:   in.laydown + y/lane.BoardWidth,
		Heading: slope(ft), Speed: 7.9 - 1.1*t*t, RevRate: 33 + 12*t*t,
		AxisRotation: (50 - 46*t*t) * math.Pi / 180, AxisTilt: (13 - 2*t) * math.Pi / 180,
		Slip: 6.5 * (1 - t*t), Friction: 0.03 + 0.17/(1+math.Exp(-(ft-39)/1.5)), Normal: 66,
	}
	if in.straight {
		s.RevRate, s.AxisRotation, s.AxisTilt = 0, math.NaN(), math.NaN()
	}
	s.Lateral = lane.Lateral(s.Board)
	if in.hand == ball.Left {
		s.Lateral = -s.Lateral
	}
	return s
}

func (in invention) shot() physics.Shot {
	s := physics.Shot{Status: physics.Pins}
	farthest := in.state(0)
	for ft := 0.0; ft <= 60; ft += 0.25 {
		p := in.state(ft)
		s.Path = append(s.Path, p)
		if p.Board < farthest.Board {
			farthest = p
		}
		if p.Board < 0.5 {
			s.Status = physics.Gutter
			break
		}
	}
	last := s.Path[len(s.Path)-1]
	end := last.Distance / units.Foot
	if s.Status == physics.Gutter {
		s.Events.Gutter = &last
	} else {
		s.Events.Pins = &last
	}
	if in.straight {
		return s
	}
	if h := in.state(in.hook + 0.1*(in.roll-in.hook)); in.hook < end {
		s.Events.HookStart = &h
	}
	if f := in.state(in.hook + 0.2*(in.roll-in.hook)); in.hook < end {
		s.Events.FrictionRead = &f
	}
	if s.Status == physics.Pins {
		s.Events.Breakpoint = &farthest
	}
	if r := in.state(in.roll); in.roll < end {
		s.Events.RollStart = &r
	}
	return s
}

// inventedLane is an oiled lane with a crown and a fall-off to its end.
func inventedLane() lane.Lane {
	l := lane.Default()
	distances := []float64{0, 8, 22, 34, 42}
	along := []float64{66, 58, 35, 16, 4}
	rows := make([][]float64, len(distances))
	for i := range distances {
		distances[i] *= units.Foot
		rows[i] = make([]float64, lane.Boards)
		for b := range rows[i] {
			out := math.Abs(float64(b)-19) / 19
			rows[i][b] = along[i] * (0.12 + 0.88/(1+math.Exp((out-0.55)/0.07)))
		}
	}
	oil, err := lane.NewBoardOilMap(distances, rows)
	if err != nil {
		panic(err)
	}
	l.Oil = oil
	return l
}

// tooWide is a shot that begins to hook and ends in the gutter.
func tooWide() invention {
	return invention{laydown: 20, angle: 3.2, hook: 27, roll: 54, entry: 5}
}

func straightBall() invention {
	return invention{laydown: 18, angle: 0.1, hook: 61, roll: 62, straight: true}
}

func four() []Series {
	a, b, c, d := usual(), usual(), usual(), usual()
	b.hook, b.entry = 37.5, 4.4
	c.angle, c.laydown, c.hook, c.entry = 1.8, 19, 32, 4.3
	d.angle, d.laydown, d.hook = 3.1, 29, 37
	return []Series{
		a.series("Pin far"), b.series("Pin near"),
		c.series("Pin far, dull surface"), d.series("Higher speed"),
	}
}
