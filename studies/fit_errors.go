package studies

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// inverted is the inverse of the normal equations, in blocks: with
// S = C − Σ BᵢᵀAᵢ⁻¹Bᵢ and Yᵢ = Aᵢ⁻¹Bᵢ that of the settings is S⁻¹, that between a
// shot and the settings −YᵢS⁻¹, and that of a shot Aᵢ⁻¹ + YᵢS⁻¹Yᵢᵀ.
type inverted struct {
	left   *mat.SymDense // S
	shared *mat.Dense    // S⁻¹; nil without settings
	local  []*mat.Dense
	cross  []*mat.Dense
}

// invert returns the inverse; false if there is none.
func (n blocks) invert() (v inverted, ok bool) {
	s, _, factors, ok := n.left(0)
	if !ok {
		return v, false
	}
	v.left = s
	v.local, v.cross = make([]*mat.Dense, len(n.a)), make([]*mat.Dense, len(n.a))
	if n.shared > 0 {
		var f mat.Cholesky
		if !f.Factorize(s) {
			return v, false
		}
		v.shared = new(mat.Dense)
		if f.SolveTo(v.shared, unitMatrix(n.shared)) != nil {
			return v, false
		}
	}
	for i, f := range factors {
		if f == nil {
			continue
		}
		local := new(mat.Dense)
		if f.SolveTo(local, unitMatrix(f.SymmetricDim())) != nil {
			return v, false
		}
		if n.shared > 0 {
			var y, cross, add mat.Dense
			if f.SolveTo(&y, n.b[i]) != nil {
				return v, false
			}
			cross.Mul(&y, v.shared)
			add.Mul(&cross, y.T())
			local.Add(local, &add)
			cross.Scale(-1, &cross)
			v.cross[i] = &cross
		}
		v.local[i] = local
	}
	return v, true
}

func unitMatrix(n int) *mat.Dense {
	m := mat.NewDense(n, n, nil)
	for i := range n {
		m.Set(i, i, 1)
	}
	return m
}

// leverage is jᵀVj for the derivatives j of reading k of a shot.
func (v inverted) leverage(i int, d shotSlopes, k int) float64 {
	quadratic := func(m *mat.Dense, a, b []float64) float64 {
		sum := 0.0
		for p, x := range a {
			for q, y := range b {
				sum += x * m.At(p, q) * y
			}
		}
		return sum
	}
	local := d.local.RawRowView(k)
	h := quadratic(v.local[i], local, local)
	if v.shared != nil {
		shared := d.shared.RawRowView(k)
		h += 2*quadratic(v.cross[i], local, shared) + quadratic(v.shared, shared, shared)
	}
	return h
}

// inflation is the factor by which the covariance of Huber's estimate exceeds
// the inverse of the weighted normal equations. The covariance is
//
//	K² · Σψ²/(n − p) / (mean ψ′)² · (XᵀX)⁻¹,   K = 1 + p/n · (1 − m)/m,  m = mean ψ′
//
// (Huber, "Robust Statistics", 1981, section 7.6), with XᵀX in the mean the
// weighted one over the mean weight.
func (x *fitter) inflation() (factor float64, free int) {
	n, p := 0, len(x.active)
	squares, inner, weights := 0.0, 0.0, 0.0
	for i, d := range x.slopes {
		p += x.shots[i].size()
		for _, z := range d.residuals {
			n++
			w := huberWeight(z)
			weights += w
			squares += w * z * w * z
			if w == 1 {
				inner++
			}
		}
	}
	m := inner / float64(n)
	k := 1 + float64(p)/float64(n)*(1-m)/m
	free = n - p
	if free <= 0 || m == 0 {
		return math.NaN(), free
	}
	return k * k * squares / float64(free) / (m * m) * weights / float64(n), free
}

// untoldError is the relative error from which on a setting is not told by the
// tracks, even if all else were known: a factor of two either way.
const untoldError = 0.7

// untold lists the settings that the tracks do not tell.
func (x *fitter) untold() (list []FrictionSetting) {
	if len(x.active) == 0 {
		return nil
	}
	s, _, _, ok := x.normal(x.slopes, nil).left(0)
	if !ok {
		return nil
	}
	factor, _ := x.inflation()
	for i, setting := range x.active {
		// With the other settings known, the shots' numbers fitted.
		if !(math.Sqrt(factor/s.At(i, i)) < untoldError) {
			list = append(list, setting)
		}
	}
	return list
}
