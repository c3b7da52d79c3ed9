package pins

import (
	"math"
	"testing"
)

// The solid of the outline has 2107 cm³, its mass centre at 5.80 in, and radii of
// gyration of 3.621 and 1.389 in: derived from the table.
func TestOutlineSolid(t *testing.T) {
	line := newSpline()
	volume, first, second, fourth := 0.0, 0.0, 0.0, 0.0
	const n = 20000
	for i := range n {
		h := (float64(i) + 0.5) / n * headTop
		r := 0.0
		if top := outlineTable[knots-1][0] * inch; h < top {
			r, _ = line.at(h)
		} else {
			r = math.Sqrt(max(0, 1.273*inch*1.273*inch-(h-top)*(h-top)))
		}
		a := math.Pi * r * r * headTop / n
		volume, first, second, fourth = volume+a, first+a*h, second+a*h*h, fourth+a*r*r
	}
	centre := first / volume
	along := fourth / volume / 2
	across := second/volume - centre*centre + along/2
	for _, c := range []struct {
		what           string
		got, want, tol float64
	}{
		{"volume, cm³", volume * 1e6, 2107, 2},
		{"mass centre, in", centre / inch, 5.80, 0.006},
		{"radius of gyration across, in", math.Sqrt(across) / inch, 3.621, 0.004},
		{"radius of gyration along, in", math.Sqrt(along) / inch, 1.389, 0.004},
	} {
		if math.Abs(c.got-c.want) > c.tol {
			t.Errorf("%s: %.4f, want %.4f", c.what, c.got, c.want)
		}
	}
}

// The spheres on the axis have the outline as their envelope: no point of the outline
// above the rounded base lies inside one or farther than a micrometre from the nearest.
func TestEnvelope(t *testing.T) {
	line := newSpline()
	if outline.neck < 9.9*inch || outline.neck > 10.5*inch {
		t.Errorf("neck at %.3f in", outline.neck/inch)
	}
	for h := 1.2 * inch; h < 13.7*inch; h += 0.01 * inch {
		r, _ := line.at(h)
		nearest := math.Inf(1)
		for k := range 20001 {
			s := outline.least + float64(k)/20000*(outline.most-outline.least)
			nearest = min(nearest, math.Sqrt(r*r+(h-s)*(h-s))-outline.radius(s))
		}
		if math.Abs(nearest) > 2e-6 {
			t.Fatalf("outline at %.2f in lies %.2g m from the envelope", h/inch, nearest)
		}
	}
}
