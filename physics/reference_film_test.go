package physics_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
)

// referenceEven is a lane with the same film all over, in m.
func referenceEven(t *testing.T, film float64) lane.Lane {
	t.Helper()
	o, err := lane.NewOilMap([]float64{0, lane.HeadPin}, 0, 1, 1, []float64{film, film})
	if err != nil {
		t.Fatal(err)
	}
	l := lane.Default()
	l.Oil = o
	return l
}

// TestReferenceFilmStaircase: a ball that rolls straight over even oil meets
// each turn what the turn before left, B⁺ₙ = (1−q) B⁺ₙ₋₁ + p h, so that
// B⁺ₙ = p h (1 − (1−q)ⁿ)/q. It touches a belt as wide as the strip.
func TestReferenceFilmStaircase(t *testing.T) {
	b := referenceSphere(0.108, 0.4)
	b.Memory = ball.FilmMemory{PickUp: 0.05, GiveBack: 0.30, ContactWidth: 6.5e-3, SoakIn: math.Inf(1)}
	const film = 10e-6 // m
	s := defaultReference()
	around := 2 * math.Pi * b.Radius
	const turns = 8
	for n := range turns {
		s.Marks = append(s.Marks, (float64(n)+0.5)*around)
	}
	res := throwReference(referenceEven(t, film), b, physics.Release{Speed: 8, RevRate: 8 / b.Radius, Laydown: 20}, s)
	if len(res.Marks) != turns {
		t.Fatalf("%d marks", len(res.Marks))
	}
	const rounding = 1e-12
	p, q := b.Memory.PickUp, b.Memory.GiveBack
	for n, m := range res.Marks {
		// What it left n turns before is what it meets now.
		referenceNear(t, "ball's film", m.BallOil, p*film*(1-math.Pow(1-q, float64(n)))/q, rounding*film)
	}
	// A belt of latitudes; cells at its edges belong to it or not.
	const cell = 0.8e-3 // m
	belt := 2 * around * b.Radius * math.Sin(b.Memory.ContactWidth/2/b.Radius)
	turned := res.Revolutions
	referenceNear(t, "area", res.Covered, turned*belt, turned*around*cell)
	whole := math.Floor(turned)
	left := p * film * (1 - math.Pow(1-q, whole)) / q
	next := p * film * (1 - math.Pow(1-q, whole+1)) / q
	oil := (left + (turned-whole)*(next-left)) * res.Covered / turned
	referenceNear(t, "oil on the ball", res.Oil.Ball, oil, 1e-3*oil)
}

// TestReferenceSkids: a ball that slides without turning takes up oil on
// one patch; one that turns slowly takes five times its share and no more
// than there is.
func TestReferenceSkids(t *testing.T) {
	const film = 10e-6 // m
	l := referenceEven(t, film)
	l.Friction = lane.Friction{Law: lane.Constant}
	b := referenceSphere(0.108, 0.4)
	b.Memory = ball.FilmMemory{PickUp: 0.05, GiveBack: 0.30, ContactWidth: 6.5e-3, SoakIn: math.Inf(1)}
	res := throwReference(l, b, physics.Release{Speed: 8, Laydown: 20}, defaultReference())
	if res.Oil != (referenceOil{}) || res.Covered != 0 {
		t.Errorf("takes up %+v over %g m²", res.Oil, res.Covered)
	}
	for _, pickUp := range []float64{0.05, 0.15, 0.5} {
		b.Memory.PickUp = pickUp
		res = throwReference(l, b, physics.Release{Speed: 8, RevRate: 1, Laydown: 20}, defaultReference())
		want := film * min(1, 5*pickUp)
		referenceNear(t, "film", res.Oil.Ball/res.Covered, want, 1e-12*want)
	}
}

// TestReferenceBalance: what the lane loses is on the ball or soaked in.
func TestReferenceBalance(t *testing.T) {
	const rounding = 1e-12 // of the sums over 1e5 cells, to the oil taken
	for _, soak := range []float64{math.Inf(1), 20, 0.5} {
		b := referenceBall(t, ball.Right, func(s *ball.Specification) { s.Memory.SoakIn = soak })
		l := lane.Default()
		l.Oil = referencePattern(t, 60, 8)
		o := throwReference(l, b, referenceUsualRelease(ball.Right), defaultReference()).Oil
		t.Logf("soak-in time %v s: %.4g mL from the lane, %.4g on the ball, %.4g soaked in", soak, -1e6*o.Lane, 1e6*o.Ball, 1e6*o.Soaked)
		referenceNear(t, "lane, ball and soaked in", o.Lane+o.Ball+o.Soaked, 0, -rounding*o.Lane)
		if o.Lane >= 0 || o.Ball <= 0 || (o.Soaked > 0) == math.IsInf(soak, 1) {
			t.Errorf("%+v", o)
		}
	}
}

// TestReferenceStrip: the cells that a strip crosses are found without looking
// at all of them, each belongs to one of two steps that follow each other, and
// together they are as large as the strip's way.
func TestReferenceStrip(t *testing.T) {
	r := &reference{ball: referenceSphere(0.108, 0.4)}
	r.ball.Memory.ContactWidth = 12e-3
	g := newReferenceGrid(r, 60_000)
	sphere := 0.0
	for i, a := range g.area {
		sphere += a * float64(g.first[i+1]-g.first[i])
	}
	referenceNear(t, "the whole sphere in sr", sphere, 4*math.Pi, 1e-11)
	rnd := rand.New(rand.NewPCG(3, 4))
	direction := func() r3.Vec {
		return r3.Unit(r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()})
	}
	all, way := 0.0, 0.0
	for n := range 60 {
		contact, axis := direction(), direction()
		if n%3 == 0 { // over the poles too
			contact = r3.Unit(r3.Vec{X: 0.03 * rnd.NormFloat64(), Y: 0.03 * rnd.NormFloat64(), Z: float64(n%2*2 - 1)})
		}
		axis = r3.Unit(r3.Sub(axis, r3.Scale(0.9*r3.Dot(axis, contact), contact)))
		at := func(angle float64) referenceStrip {
			s := referenceStrip{contact: r3.Rotate(contact, -angle, axis), turned: angle, sweep: 1}
			s.ahead = r3.Unit(r3.Cross(s.contact, axis))
			s.across = r3.Cross(s.contact, s.ahead)
			return s
		}
		steps := []referenceStrip{at(0), at(0.02), at(0.05)}
		count := map[int]int{}
		g.swept(steps[0], steps[1], func(cell int, area, _, _ float64) { count[cell]++; all += area })
		g.swept(steps[1], steps[2], func(cell int, area, _, _ float64) { count[cell]++; all += area })
		side := math.Asin(r3.Dot(contact, axis))
		half := g.width / 2 / g.radius
		way += 0.05 * (math.Sin(side+half) - math.Sin(side-half)) * g.radius * g.radius
		for i := range g.area {
			for j := range g.first[i+1] - g.first[i] {
				p := g.centre[g.first[i]+j]
				want := 0
				if r3.Dot(p, contact) > 0 {
					for k := range 2 {
						if _, _, ok := g.crossed(&steps[k], &steps[k+1], p); ok {
							want++
						}
					}
				}
				if got := count[g.first[i]+j]; got != want || got > 1 {
					t.Fatalf("cell %d of ring %d touched %d times, want %d", j, i, got, want)
				}
			}
		}
	}
	referenceNear(t, "area in m²", all, way, 0.01*way)
}

// TestReferenceRead: a ball that rolls from a full film onto dry boards reads the
// friction when a tenth of the turn around it is dry, 0.4 turn before the end of
// the oil; on dry boards at once; on a full film and without a film never.
func TestReferenceRead(t *testing.T) {
	b := referenceSphere(0.108, 0.4)
	roll := physics.Release{Speed: 8, RevRate: 8 / b.Radius, Laydown: 20, LaydownDistance: 0.5}
	const film, end = 10e-6, 12.0 // m
	l := lane.Default()
	short, err := lane.NewOilMap([]float64{0, end}, 0, 1, 1, []float64{film, film})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		oil  *lane.OilMap
		law  lane.Law
		want float64
	}{{"oil, then dry", short, lane.Mixed, end - 0.8*math.Pi*b.Radius}, {"dry", nil, lane.Mixed, 0.5},
		{"oil", referenceEven(t, film).Oil, lane.Mixed, math.NaN()}, {"constant", nil, lane.Constant, math.NaN()}} {
		l.Oil, l.Friction.Law = c.oil, c.law
		got := throwReference(l, b, roll, defaultReference()).FrictionRead
		if math.IsNaN(c.want) != math.IsNaN(got) || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: read at %v m, want %v", c.name, got, c.want)
		}
	}
}
