package fit

import (
	"slices"

	"lanesim/internal/linear"
)

// blocks are the normal equations of weighted least squares. The parameters of different shots are coupled
// only through the settings, so that the matrix is
//
//	⎡ A₁        B₁ ⎤
//	⎢     A₂    B₂ ⎥
//	⎣ B₁ᵀ B₂ᵀ   C  ⎦
//
// and the shots can be eliminated one by one: C − Σ BᵢᵀAᵢ⁻¹Bᵢ is the matrix of the settings; its inverse is
// their covariance.
type blocks struct {
	a      []*linear.Matrix
	b      []*linear.Matrix
	ga     [][]float64
	c      *linear.Matrix
	gc     []float64
	shared int
}

// normal adds up the equations with the weights of Huber's loss and counts.
func (x *fitter) normal(slopes []shotSlopes, counts []float64) blocks {
	k, shots := len(x.active), len(slopes)
	n := blocks{
		a: make([]*linear.Matrix, shots), b: make([]*linear.Matrix, shots), ga: make([][]float64, shots),
		c: linear.New(k, k), gc: make([]float64, k), shared: k,
	}
	for i, d := range slopes {
		count := 1.0
		if counts != nil {
			count = counts[i]
		}
		if count == 0 {
			continue
		}
		m := x.shots[i].size()
		a, b, g := linear.New(m, m), linear.New(m, k), make([]float64, m)
		for r, z := range d.residuals {
			w := count * huberWeight(z)
			local := d.local.Row(r)
			var shared []float64
			if k > 0 {
				shared = d.shared.Row(r)
			}
			for p, v := range local {
				g[p] += w * v * z
				addScaled(a.Row(p), w*v, local)
				addScaled(b.Row(p), w*v, shared)
			}
			for p, v := range shared {
				n.gc[p] += w * v * z
				addScaled(n.c.Row(p), w*v, shared)
			}
		}
		n.a[i], n.b[i], n.ga[i] = a, b, g
	}
	return n
}

func addScaled(sum []float64, by float64, v []float64) {
	for i, x := range v {
		sum[i] += by * x
	}
}

func withDamping(m *linear.Matrix, by float64) *linear.Matrix {
	d := m.Clone()
	for i := range m.Rows {
		d.Set(i, i, m.At(i, i)*(1+by))
	}
	return d
}

// eliminated returns the matrix of the settings after elimination, its right-hand side and the factors of the
// shots; false if the parameters of a shot are undetermined.
func (n blocks) eliminated(damping float64) (s *linear.Matrix, g []float64, factors []*linear.Cholesky, ok bool) {
	factors = make([]*linear.Cholesky, len(n.a))
	s, g = withDamping(n.c, damping), slices.Clone(n.gc)
	for i, a := range n.a {
		if a == nil {
			continue
		}
		f, ok := linear.Factor(withDamping(a, damping))
		if !ok {
			return nil, nil, nil, false
		}
		factors[i] = f
		h := f.Solve(n.ga[i])
		for q := range n.shared {
			y := f.Solve(n.b[i].Column(q))
			for p := range n.shared {
				s.Add(p, q, -linear.Dot(n.b[i].Column(p), y))
			}
			g[q] -= linear.Dot(n.b[i].Column(q), h)
		}
	}
	return s, g, factors, true
}

// step solves the damped equations. gain is the decrease of the sum of squares that a linear problem would
// have.
func (n blocks) step(damping float64) (d fitPoint, gain float64, ok bool) {
	s, g, factors, ok := n.eliminated(damping)
	if !ok {
		return d, 0, false
	}
	f, ok := linear.Factor(s)
	if !ok {
		return d, 0, false
	}
	d.shared = f.Solve(g)
	gain = linear.Dot(d.shared, n.gc)
	d.local = make([][]float64, len(n.a))
	for i, f := range factors {
		if f == nil {
			continue
		}
		right := slices.Clone(n.ga[i])
		for p := range right {
			right[p] -= linear.Dot(n.b[i].Row(p), d.shared)
		}
		d.local[i] = f.Solve(right)
		gain += linear.Dot(d.local[i], n.ga[i])
	}
	return d, gain, true
}
