package physics

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
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
		l.RollingResistance = between(0, lane.MostRollingResistance)
	}
	if few(8) {
		l.Length = logarithmic(0.1, 1000) * units.Foot
	}
	switch rnd.IntN(4) {
	case 0:
		l.Friction = lane.Friction{Law: lane.Constant, Mu: between(0, lane.MostFriction)}
	case 1:
		zones := []lane.Zone{{To: between(0.01, 10), Mu: between(0, lane.MostFriction)}, {Mu: between(0, lane.MostFriction)}}
		zones = append(zones, lane.Zone{Mu: between(0, lane.MostFriction)})
		zones[1].To = zones[0].To + between(1e-6, 9)
		zones[2].To = math.Inf(1)
		l.Friction = lane.Friction{Law: lane.Zones, Zones: zones}
	default:
		l.Friction = lane.Friction{Law: lane.Mixed, Film: between(0, 0.5), Dry: between(0, lane.MostFriction), Entrained: between(0, 1)}
	}
	if !few(4) {
		rows, most := 1+rnd.IntN(6), 150.0
		if few(10) {
			most = logarithmic(1, 1e6)
		}
		distances, films := make([]float64, rows), make([][]float64, rows)
		x := between(0, 2)
		for i := range rows {
			distances[i] = x
			x += logarithmic(1e-4, max(l.Length, 18.288)/float64(rows))
			films[i] = make([]float64, lane.Boards)
			for j := range films[i] {
				films[i][j] = between(0, most)
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
		s.Weight, s.Diameter = logarithmic(ball.LeastWeight, ball.MostWeight), logarithmic(ball.LeastDiameter, ball.MostDiameter)
		s.RG = between(ball.LeastRG, 0.9) * s.Diameter / 2
		s.Differential = between(0, 0.1) * s.RG
		s.IntermediateDifferential = s.Differential * between(0, 1)
	}
	s.Roughness = between(0, 150) * units.Microinch
	s.ContactRadius = between(0, 4e-3)
	if few(10) {
		s.ContactRadius = between(0, ball.MostContactRadius)
	}
	s.Layout = &ball.Layout{DrillingAngle: between(0, 180) * units.Degree, PinToPAP: between(0, math.Pi/2*s.Diameter), VALAngle: between(0, 180) * units.Degree}
	if few(2) {
		most := logarithmic(1e-5, ball.MostOffset)
		for i := range s.Offset {
			s.Offset[i] = between(-most, most)
		}
	}
	if few(20) {
		weight := func() float64 { return between(-ball.MostStaticWeight, ball.MostStaticWeight) }
		s.Static = &ball.StaticWeights{Side: weight(), FingerThumb: weight(), Top: weight()}
	}
	s.Memory.Off = few(3)
	s.Memory.PickUp, s.Memory.GiveBack = between(0, 1), between(0, 1)
	s.Memory.ContactWidth = between(ball.LeastContactWidth, ball.MostContactWidth)
	s.Memory.SoakIn = logarithmic(0.01, 1e4)
	if few(4) {
		s.Memory.SoakIn = math.Inf(1) // never
	}
	hand := ball.Right
	if few(3) {
		hand = ball.Left
	}
	const mph, rpm = units.MPH, units.RPM
	r := Release{
		Hand: hand, Speed: between(5*mph, MostSpeed), RevRate: between(0, MostRevRate),
		AxisRotation: between(-180, 180) * units.Degree, AxisTilt: between(-MostAxisTilt, MostAxisTilt), Phase: between(-180, 180) * units.Degree,
		Laydown: between(0.5, 39.5), LaydownDistance: min(between(0, 1), 0.9*l.Length), Angle: between(-6, 6) * units.Degree,
	}
	if few(2) { // as people throw, so that the ball gets there
		r.Speed, r.RevRate, r.Laydown = between(12, 24)*mph, between(0, 600)*rpm, between(10, 30)
		r.AxisRotation, r.AxisTilt, r.Angle = between(-30, 120)*units.Degree, between(-20, 60)*units.Degree, between(-1, 3)*units.Degree
	}
	if few(10) { // so slow that it may come back or stop
		r.Speed = logarithmic(LeastSpeed, 5*mph)
	}
	if few(20) {
		r.Angle, r.LaydownDistance = between(-MostLaunchAngle, MostLaunchAngle), between(0, 0.99)*l.Length
	}
	return l, s, r
}

// drawn is how many shots a test draws: as many as LANESIM_DRAWS says, else the given number.
func drawn(t *testing.T, n int) int {
	t.Helper()
	if text := os.Getenv("LANESIM_DRAWS"); text != "" {
		if _, err := fmt.Sscan(text, &n); err != nil {
			t.Fatal(err)
		}
	}
	return n
}

// Wherever in the allowed ranges a shot is drawn, it is computed: without error, panic or
// value that is no number, time and energy run one way, and the ball stays on the lane.
// LANESIM_DRAWS=3000 draws more and lists the slowest shots.
func TestAnyAllowedShotIsSound(t *testing.T) {
	n := drawn(t, 600)
	if testing.Short() {
		n = 300
	}
	more := os.Getenv("LANESIM_DRAWS") != ""
	var seed uint64 = 7
	if text := os.Getenv("LANESIM_DRAWS_SEED"); text != "" {
		if _, err := fmt.Sscan(text, &seed); err != nil {
			t.Fatal(err)
		}
	}
	// Of the energy at release or, of a slow ball, of 1 J/kg.
	gained := lawBound{what: "energy gained beyond the slope's work", bound: 3e-4}
	ends, refused := map[Status]int{}, 0
	thrower := NewThrower()
	type timed struct {
		shot int
		took time.Duration
	}
	var times []timed
	for k := range n {
		rnd := rand.New(rand.NewPCG(seed, uint64(k)))
		l, s, r := wildShot(rnd)
		b, err := s.Prepare(ball.DefaultPAP(), r.Hand)
		if err != nil || b.OffsetLength() > ball.MostOffset {
			refused++ // there is no such ball
			continue
		}
		set := Settings{EvenNodes: true, Tolerance: []float64{0, 1e-4}[k%2]}
		start := lawStart(t, l, b, r)
		before := lawMeasure(&start.m, start.state[:], &start.m.start)
		began := time.Now()
		status, err := thrower.run(l, b, r, set)
		if err != nil {
			t.Errorf("shot %d: %v", k, err)
			continue
		}
		took, after := time.Since(began), lawEnd(thrower)
		began = time.Now()
		shot := thrower.report(status, r, set)
		times = append(times, timed{k, took + time.Since(began)})
		slope := b.Mass * thrower.m.slope.y * (after.across - before.across)
		gained.hold(t, (after.energy-before.energy-slope)/max(before.energy, b.Mass))
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
	t.Logf("ends %v, %d balls that cannot be", ends, refused)
	gained.report(t)
	if more {
		slices.SortFunc(times, func(a, b timed) int { return cmp.Compare(b.took, a.took) })
		for _, s := range times[:min(5, len(times))] {
			t.Logf("shot %d of seed %d: %v", s.shot, seed, s.took)
		}
	}
	for _, status := range []Status{Pins, Gutter, Stopped, Lifted} {
		if ends[status] == 0 {
			t.Errorf("no shot ended %s", status)
		}
	}
	if 5*refused > n {
		t.Errorf("%d of %d balls cannot be", refused, n)
	}
}
