package pins

import (
	"math"
	"math/rand/v2"
	"testing"
)

// pose is a pin anywhere within a distance of the origin, its axis anywhere.
func pose(r *rand.Rand, within float64) body {
	b := body{centre: 5.8 * inch}
	b.setMass(1.6, 0.0136, 0.00194)
	b.u = vector{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}
	b.u = b.u.mul(1 / b.u.norm())
	b.x = vector{2*r.Float64() - 1, 2*r.Float64() - 1, 2*r.Float64() - 1}.mul(within)
	return b
}

// Distances of 2,000 random poses against the minimum over a fine grid on both axes: under
// half a percent of them are wrong, and none by enough to put one pin through the other.
func TestDistancesAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	const poses, fine = 2000, 300
	place := func(i int) float64 { return outline.least + float64(i)/fine*(outline.most-outline.least) }
	var radii [fine + 1]float64
	for i := range radii {
		radii[i] = outline.radius(place(i))
	}
	wrong, through, near, inside := 0, 0, 0, 0
	for near < poses {
		a, b := pose(r, 0.15), pose(r, 0.15)
		var found [2]touch
		twoPins(&a, &b, &found)
		least := math.Inf(1)
		for i := range radii {
			p := a.at(place(i))
			along, away := b.onAxis(p)
			for k := range radii {
				d := place(k) - along
				// Most of the grid is too far away to matter.
				if bound := least + radii[i] + radii[k]; bound > 0 && away*away+d*d < bound*bound {
					least = math.Sqrt(away*away+d*d) - radii[i] - radii[k]
				} else if bound <= 0 {
					least = min(least, math.Sqrt(away*away+d*d)-radii[i]-radii[k])
				}
			}
		}
		if least < -0.5e-3 {
			inside++ // deeper in each other than any two pins of a rack
			continue
		}
		near++
		if found[0].gap > least+1e-4 {
			wrong++
			if least < 0.5e-3 && found[0].gap > 2e-3 {
				through++
			}
		}
		if found[0].gap < least-1e-4 {
			t.Errorf("distance %v below the least on the grid, %v", found[0].gap, least)
		}
	}
	t.Logf("%d poses, %d wrong, %d through another; %d that overlap are left out", near, wrong, through, inside)
	if inside > near || wrong*200 >= near || through > 0 {
		t.Errorf("of %d poses %d wrong, %d through another", near, wrong, through)
	}
}

// The ball's distance against a fine grid, and the lowest points of a pin.
func TestBallAndFloorAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	const poses, fine = 2000, 2000
	wrong := 0
	for range poses {
		a, b := body{radius: 4.29 * inch}, pose(r, 0.2)
		a.x = pose(r, 0.2).x
		var points [6]planePoint
		count := b.onPlane(vector{0, 0, 1}, 0, &points)
		low := math.Inf(1)
		for _, p := range points[:count] {
			low = min(low, p.gap)
		}
		least, lowest := math.Inf(1), b.x.z-(b.centre-edgeTube)*b.u.z-rimLine*math.Sqrt(1-b.u.z*b.u.z)-edgeTube
		for i := range fine + 1 {
			s := outline.least + float64(i)/fine*(outline.most-outline.least)
			p := b.at(s)
			least = min(least, a.x.sub(p).norm()-outline.radius(s)-a.radius)
			lowest = min(lowest, p.z-outline.radius(s))
		}
		if _, away := b.onAxis(a.x); away > 0.02 && math.Abs(ballGap(&a, &b).gap-least) > 2e-6 {
			wrong++
			if least < 0.02 {
				t.Errorf("ball at %v: %v, want %v", a.x, ballGap(&a, &b).gap, least)
			}
		}
		if math.Abs(low-lowest) > 2e-6 {
			t.Errorf("axis %v: lowest point %v, want %v", b.u, low, lowest)
		}
	}
	if wrong*200 >= poses {
		t.Errorf("%d of %d distances of the ball are wrong", wrong, poses)
	}
}

func ballGap(a, b *body) touch {
	var all [2]touch
	ballAndPin(a, b, &all)
	return all[0]
}
