package physics

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/units"
)

// wildShot draws over all that scenarios allow, with its limits themselves now and then.
func wildShot(rnd *rand.Rand) (lane.Lane, ball.Specification, Release) {
	between := func(a, b float64) float64 {
		switch rnd.IntN(12) {
		case 0:
			return a
		case 1:
			return b
		}
		return a + (b-a)*rnd.Float64()
	}
	few := func(n int) bool { return rnd.IntN(n) == 0 }
	logarithmic := func(a, b float64) float64 { return math.Exp(between(math.Log(a), math.Log(b))) }

	l := lane.Default()
	l.Tilt = between(-1, 1) * units.Inch
	l.Roughness = between(0, 2e-6)
	if few(4) {
		l.RollingResistance = between(0, 1)
	}
	if few(8) {
		l.Length = logarithmic(4, 1000) * units.Foot
	}
	switch rnd.IntN(4) {
	case 0:
		l.Friction = lane.Friction{Law: lane.Constant, Mu: between(0, 2)}
	case 1:
		zones := []lane.Zone{{To: between(0.01, 10), Mu: between(0, 2)}, {Mu: between(0, 2)}}
		zones = append(zones, lane.Zone{Mu: between(0, 2)})
		zones[1].To = zones[0].To + between(1e-6, 9)
		zones[2].To = math.Inf(1)
		l.Friction = lane.Friction{Law: lane.Zones, Zones: zones}
	default:
		l.Friction = lane.Friction{Law: lane.Mixed, Film: between(0, 0.5), Dry: between(0, 2), Entrained: between(0, 1)}
	}
	if !few(4) {
		rows := 1 + rnd.IntN(6)
		distances, films := make([]float64, rows), make([][]float64, rows)
		x := between(0, 2)
		for i := range rows {
			distances[i] = x
			x += logarithmic(1e-4, 18.288/float64(rows))
			films[i] = make([]float64, lane.Boards)
			for j := range films[i] {
				films[i][j] = between(0, 150)
			}
		}
		if distances[rows-1] <= l.Length {
			oil, err := lane.NewBoardOilMap(distances, films)
			if err != nil {
				panic(err)
			}
			l.Oil = oil
		}
	}

	s := ball.Default()
	s.Weight = between(6, 16) * units.Pound
	s.Diameter = between(8.5, 8.6) * units.Inch
	s.RG = between(2.4, 2.9) * units.Inch
	s.Differential = between(0, 0.08) * units.Inch
	s.IntermediateDifferential = s.Differential * between(0, 1)
	if few(5) { // no ball for bowling, but allowed
		s.Weight, s.Diameter = logarithmic(1, 1000)*units.Pound, logarithmic(4, 100)*units.Inch
		s.RG = between(0.2, 0.9) * s.Diameter / 2
		s.Differential = between(0, 0.1) * s.RG
		s.IntermediateDifferential = s.Differential * between(0, 1)
	}
	s.Roughness = between(0, 150) * units.Microinch
	s.ContactRadius = between(0, 4e-3)
	s.Layout = &ball.Layout{DrillingAngle: between(0, 180) * units.Degree, PinToPAP: between(0, 6.7) * units.Inch, VALAngle: between(0, 90) * units.Degree}
	if few(2) {
		most := logarithmic(1e-5, 5e-3)
		for i := range s.Offset {
			s.Offset[i] = between(-most, most)
		}
	}
	s.Memory.Off = few(3)
	s.Memory.PickUp, s.Memory.GiveBack = between(0, 1), between(0, 1)
	s.Memory.ContactWidth = between(5e-4, 0.03)
	s.Memory.SoakIn = logarithmic(0.01, 1e4)
	hand := ball.Right
	if few(3) {
		hand = ball.Left
	}
	const mph, rpm = units.MPH, units.RPM
	r := Release{
		Hand: hand, Speed: between(5, 100) * mph, RevRate: between(0, 2000) * rpm,
		AxisRotation: between(-180, 180) * units.Degree, AxisTilt: between(-89, 89) * units.Degree, Phase: between(-180, 180) * units.Degree,
		Laydown: between(0.5, 39.5), LaydownDistance: between(0, 1), Angle: between(-6, 6) * units.Degree,
	}
	if few(2) { // as people throw, so that the ball gets there
		r.Speed, r.RevRate, r.Laydown = between(12, 24)*mph, between(0, 600)*rpm, between(10, 30)
		r.AxisRotation, r.AxisTilt, r.Angle = between(-30, 120)*units.Degree, between(-20, 60)*units.Degree, between(-1, 3)*units.Degree
	}
	if few(10) { // so slow that it may come back or stop
		r.Speed = logarithmic(0.05, 5) * mph
	}
	return l, s, r
}

// Wherever in the allowed ranges a shot is drawn, it is computed: without panic or value
// that is no number, time and energy run one way, and the ball stays on the lane. A few
// at the ends of the ranges, such as a ball that resists rolling by more than friction can
// turn it, may be errors, which are counted. More draws: LANESIM_DRAWS=30000.
func TestAnyAllowedShotIsSound(t *testing.T) {
	n := 600 // LANESIM_DRAWS=3000 for more
	if testing.Short() {
		n = 300
	}
	if os.Getenv("LANESIM_DRAWS") != "" {
		fmt.Sscan(os.Getenv("LANESIM_DRAWS"), &n)
	}
	// Of the energy at release or, of a slow ball, of 1 J/kg.
	gained := lawBound{what: "energy gained beyond the slope's work", bound: 3e-4}
	ends, refused := map[Status]int{}, 0
	var failed []string
	thrower := NewThrower()
	slowest, most := time.Duration(0), 0
	for k := range n {
		rnd := rand.New(rand.NewPCG(7, uint64(k)))
		l, s, r := wildShot(rnd)
		b, err := s.Prepare(ball.DefaultPAP(), r.Hand)
		if err != nil {
			refused++ // there is no such ball
			continue
		}
		set := Settings{Tolerance: []float64{0, 1e-4}[k%2], MaxTime: 10}
		start := lawStart(t, l, b, r)
		before := lawMeasure(&start.m, start.state[:], &start.m.start)
		began := time.Now()
		status, err := thrower.run(l, b, r, set)
		if took := time.Since(began); took > slowest {
			slowest, most = took, k
		}
		if err != nil {
			failed = append(failed, fmt.Sprintf("shot %d: %v", k, err))
			continue
		}
		after := lawEnd(thrower)
		slope := b.Mass * thrower.m.slope.y * (after.across - before.across)
		gained.hold(t, (after.energy-before.energy-slope)/max(before.energy, b.Mass))
		shot := thrower.report(status, r, set)
		ends[shot.Status]++
		soundEnd(t, l, shot, thrower)
		last := -1.0
		for _, p := range shot.Path {
			for _, v := range []float64{p.Time, p.Distance, p.Lateral, p.Board, p.Heading, p.Speed, p.RevRate, p.Slip, p.Friction, p.Normal, p.Oil, p.BallOil} {
				if !finite(v) {
					t.Fatalf("shot %d: a state with a value that is no number: %+v", k, p)
				}
			}
			if !(p.Time > last) && p.Time != 0 {
				t.Errorf("shot %d: %v s after %v s", k, p.Time, last)
			}
			last = p.Time
		}
		if t.Failed() {
			t.Fatalf("shot %d: %s, %+v, %+v", k, shot.Status, l.Friction, r)
		}
	}
	t.Logf("ends %v, %d balls that cannot be; slowest shot %d, %v", ends, refused, most, slowest)
	gained.report(t)
	for _, text := range failed {
		t.Log(text)
	}
	if 300*len(failed) > n {
		t.Errorf("%d of %d shots are errors", len(failed), n)
	}
	for _, status := range []Status{Pins, Gutter} {
		if ends[status] == 0 {
			t.Errorf("no shot ended %s", status)
		}
	}
	if 5*refused > n {
		t.Errorf("%d of %d balls cannot be", refused, n)
	}
}
