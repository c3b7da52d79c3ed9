package pins

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Rigid bodies alone do not determine blows at several contacts at once: the result depends
// on the order in which they act, as Müller and Pöschel show for two balls that fall one on
// the other ("Two-ball problem revisited: limitations of event-driven modeling", Phys. Rev.
// E 83 (2011) 041304, arXiv 1009.6153; from memory, the figures here are derived). The
// solver has both limits: contacts one after the other as in textbooks, and all at once.
// Elastic springs agree with the first for a gap that is wide enough, and lie between the
// two or beyond without a gap.
func TestTwoBalls(t *testing.T) {
	const lower, upper, speed = 0.6, 0.06, 3.0
	balls := func() *solver {
		s := &solver{}
		for i := range s.bodies {
			s.bodies[i].gone = i > 1
			s.bodies[i].u = vector{0, 0, 1}
		}
		for i, b := range []struct{ mass, radius float64 }{{lower, 0.12}, {upper, 0.033}} {
			s.bodies[i].radius = b.radius
			s.bodies[i].setMass(b.mass, 0.4*b.mass*b.radius*b.radius, 0.4*b.mass*b.radius*b.radius)
			s.bodies[i].v.z = -speed
		}
		s.bodies[0].x.z, s.bodies[1].x.z = 0.12, 0.273
		return s
	}
	up := vector{0, 0, 1}
	floor := func(s *solver) { s.add(0, fixed, up, vector{}, 1, 0) }
	pair := func(s *solver) { s.add(1, 0, up, vector{0, 0, 0.24}, 1, 0) }

	apart := balls()
	floor(apart)
	apart.blow(false)
	apart.contacts = apart.contacts[:0]
	pair(apart)
	apart.blow(false)
	textbook := speed * (3*lower - upper) / (lower + upper)
	near(t, "one after the other, m/s", apart.bodies[1].v.z, textbook, 1e-9)

	for _, first := range []bool{true, false} {
		at := balls()
		if first {
			floor(at)
			pair(at)
		} else {
			pair(at)
			floor(at)
		}
		at.blow(false)
		near(t, "both at once, upper, m/s", at.bodies[1].v.z, speed, 1e-6)
		near(t, "both at once, lower, m/s", at.bodies[0].v.z, speed, 1e-6)
	}

	// Springs of like stiffness, on the floor and between the balls.
	for _, c := range []struct {
		gap  float64 // m
		wide bool
	}{{0, false}, {0.2e-3, false}, {10e-3, true}} {
		got := springs(lower, upper, speed, c.gap)
		t.Logf("springs of 1e6 N/m with a gap of %.1f mm: upper %.3f m/s, by textbook %.3f", c.gap*1e3, got, textbook)
		if c.wide != (math.Abs(got-textbook) < 0.01*textbook) {
			t.Errorf("with a gap of %v m the upper ball leaves at %v m/s, by textbook %v", c.gap, got, textbook)
		}
	}
}

// springs integrates two balls that fall with a gap between them on springs of 1e6 N/m,
// and returns the speed in m/s of the upper one when both fly.
func springs(lower, upper, speed, gap float64) float64 {
	const stiffness, step = 1e6, 1e-7
	x, y, v, w := 0.0, gap, -speed, -speed
	for i := 0; i < 1e6; i++ {
		floor, between := stiffness*max(0, -x), stiffness*max(0, x-y)
		v += step * (floor - between) / lower
		w += step * between / upper
		x += step * v
		y += step * w
		if x > 0 && y > x && w > v && v > 0 {
			break
		}
	}
	return w
}

// Contacts do not act in the order in which they are listed: random clusters move the
// same with their contacts listed backward, without friction and with it.
func TestOrderOfListing(t *testing.T) {
	for _, friction := range []float64{0, 0.3} {
		r := rand.New(rand.NewPCG(31, 32))
		const blows = 1000
		other, most := 0, 0.0
		for range blows {
			s, back := &solver{}, &solver{}
			for i := range s.bodies {
				b := &s.bodies[i]
				*b = pose(r, 0.3)
				b.gone = i > 3
				b.v = vector{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}.mul(3)
				b.w = vector{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}.mul(20)
				back.bodies[i] = *b
			}
			var adds []func(*solver)
			for i := range 4 {
				for j := range i {
					n := pose(r, 1).u
					at := s.bodies[i].x.add(s.bodies[j].x).mul(0.5).add(pose(r, 0.05).x)
					e := r.Float64()
					adds = append(adds, func(s *solver) { s.add(i, j, n, at, e, friction) })
				}
			}
			for i := range adds {
				adds[i](s)
				adds[len(adds)-1-i](back)
			}
			s.blow(false)
			back.blow(false)
			off := 0.0
			for i := range 4 {
				off = max(off, s.bodies[i].v.sub(back.bodies[i].v).norm())
			}
			if most = max(most, off); off > 1e-4 {
				other++
			}
		}
		t.Logf("friction %.1f: of %d blows %d differ by more than 0.1 mm/s, by %.2g m/s at most", friction, blows, other, most)
		if other > 0 {
			t.Errorf("friction %.1f: of %d blows %d hang on the order of listing, by %.2g m/s at most", friction, blows, other, most)
		}
	}
}
