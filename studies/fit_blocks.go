package studies

import (
	"slices"

	"gonum.org/v1/gonum/mat"
)

// blocks are the normal equations of weighted least squares. The numbers of a
// shot meet those of others only through the settings, so that the matrix is
//
//	⎡ A₁        B₁ ⎤
//	⎢     A₂    B₂ ⎥
//	⎣ B₁ᵀ B₂ᵀ   C  ⎦
//
// and the shots can be eliminated one by one: (C − Σ BᵢᵀAᵢ⁻¹Bᵢ) is what is left
// for the settings (its inverse is their covariance).
type blocks struct {
	a      []*mat.SymDense
	b      []*mat.Dense
	ga     []*mat.VecDense
	c      *mat.SymDense
	gc     *mat.VecDense
	shared int
}

// normal adds the equations up, with the weights of Huber's loss and counts.
func (x *fitter) normal(slopes []shotSlopes, counts []float64) blocks {
	k := len(x.active)
	n := blocks{shared: k, a: make([]*mat.SymDense, len(slopes)), b: make([]*mat.Dense, len(slopes)), ga: make([]*mat.VecDense, len(slopes))}
	if k > 0 {
		n.c, n.gc = mat.NewSymDense(k, nil), mat.NewVecDense(k, nil)
	}
	for i, d := range slopes {
		if counts != nil && counts[i] == 0 {
			continue
		}
		count := 1.0
		if counts != nil {
			count = counts[i]
		}
		m := x.shots[i].size()
		a, g := mat.NewSymDense(m, nil), mat.NewVecDense(m, nil)
		var b *mat.Dense
		if k > 0 {
			b = mat.NewDense(m, k, nil)
		}
		for r, z := range d.residuals {
			w := count * huberWeight(z)
			row := d.local.RawRowView(r)
			var shared []float64
			if k > 0 {
				shared = d.shared.RawRowView(r)
			}
			for p, v := range row {
				g.SetVec(p, g.AtVec(p)+w*v*z)
				for q := p; q < m; q++ {
					a.SetSym(p, q, a.At(p, q)+w*v*row[q])
				}
				for q, u := range shared {
					b.Set(p, q, b.At(p, q)+w*v*u)
				}
			}
			for p, v := range shared {
				n.gc.SetVec(p, n.gc.AtVec(p)+w*v*z)
				for q := p; q < k; q++ {
					n.c.SetSym(p, q, n.c.At(p, q)+w*v*shared[q])
				}
			}
		}
		n.a[i], n.b[i], n.ga[i] = a, b, g
	}
	return n
}

// withDamping returns a matrix with its diagonal enlarged, as Marquardt does ("An
// algorithm for least-squares estimation of nonlinear parameters", J. SIAM 11
// (1963) 431).
func withDamping(m *mat.SymDense, by float64) *mat.SymDense {
	d := mat.NewSymDense(m.SymmetricDim(), nil)
	d.CopySym(m)
	for i := range m.SymmetricDim() {
		d.SetSym(i, i, m.At(i, i)*(1+by))
	}
	return d
}

// left returns the matrix that is left for the settings, its right-hand side
// and the factors of the shots; false if a shot's numbers cannot be told.
func (n blocks) left(damping float64) (s *mat.SymDense, g *mat.VecDense, factors []*mat.Cholesky, ok bool) {
	factors = make([]*mat.Cholesky, len(n.a))
	if n.shared > 0 {
		s = withDamping(n.c, damping)
		g = mat.VecDenseCopyOf(n.gc)
	}
	for i, a := range n.a {
		if a == nil {
			continue
		}
		var f mat.Cholesky
		if !f.Factorize(withDamping(a, damping)) {
			return nil, nil, nil, false
		}
		factors[i] = &f
		if n.shared == 0 {
			continue
		}
		var y mat.Dense
		var h mat.VecDense
		if f.SolveTo(&y, n.b[i]) != nil || f.SolveVecTo(&h, n.ga[i]) != nil {
			return nil, nil, nil, false
		}
		for p := range n.shared {
			for q := p; q < n.shared; q++ {
				s.SetSym(p, q, s.At(p, q)-mat.Dot(n.b[i].ColView(p), y.ColView(q)))
			}
			g.SetVec(p, g.AtVec(p)-mat.Dot(n.b[i].ColView(p), &h))
		}
	}
	return s, g, factors, true
}

// step solves the damped equations. The gain is what it would bring, if they
// were linear, in the sum of squares.
func (n blocks) step(damping float64) (d fitPoint, gain float64, ok bool) {
	s, g, factors, ok := n.left(damping)
	if !ok {
		return d, 0, false
	}
	var shared mat.VecDense
	if n.shared > 0 {
		var f mat.Cholesky
		if !f.Factorize(s) || f.SolveVecTo(&shared, g) != nil {
			return d, 0, false
		}
		d.shared = slices.Clone(shared.RawVector().Data)
		gain += mat.Dot(&shared, n.gc)
	}
	d.local = make([][]float64, len(n.a))
	for i, f := range factors {
		if f == nil {
			continue
		}
		right := mat.VecDenseCopyOf(n.ga[i])
		if n.shared > 0 {
			var b mat.VecDense
			b.MulVec(n.b[i], &shared)
			right.SubVec(right, &b)
		}
		var local mat.VecDense
		if f.SolveVecTo(&local, right) != nil {
			return d, 0, false
		}
		d.local[i] = slices.Clone(local.RawVector().Data)
		gain += mat.Dot(&local, n.ga[i])
	}
	return d, gain, true
}
