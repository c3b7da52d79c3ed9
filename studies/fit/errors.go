package fit

import (
	"math"

	"lanesim/internal/linear"
)

// inverted is the inverse of the normal equations, in blocks. With S = C − Σ BᵢᵀAᵢ⁻¹Bᵢ and Yᵢ = Aᵢ⁻¹Bᵢ, the
// block of the settings is S⁻¹, that between a shot and the settings −YᵢS⁻¹, and that of a shot Aᵢ⁻¹ +
// YᵢS⁻¹Yᵢᵀ.
type inverted struct {
	shared *linear.Matrix // S⁻¹; empty without settings
	local  []*linear.Matrix
	cross  []*linear.Matrix
}

// invert returns the inverse; false if the matrix is singular.
func (n blocks) invert() (v inverted, ok bool) {
	s, _, factors, ok := n.eliminated(0)
	if !ok {
		return v, false
	}
	f, ok := linear.Factor(s)
	if !ok {
		return v, false
	}
	v = inverted{shared: f.Inverse(), local: make([]*linear.Matrix, len(n.a)), cross: make([]*linear.Matrix, len(n.a))}
	for i, f := range factors {
		if f == nil {
			continue
		}
		y, local, cross := f.SolveColumns(n.b[i]), f.Inverse(), linear.New(f.Rows, n.shared)
		for p := range f.Rows {
			for q := range n.shared {
				cross.Set(p, q, -linear.Dot(y.Row(p), v.shared.Row(q)))
			}
		}
		for p := range f.Rows {
			for q := range f.Rows {
				local.Add(p, q, -linear.Dot(cross.Row(p), y.Row(q)))
			}
		}
		v.local[i], v.cross[i] = local, cross
	}
	return v, true
}

// leverage returns jᵀVj for the derivatives j of reading k of a shot.
func (v inverted) leverage(i int, d shotSlopes, k int) float64 {
	quadratic := func(m *linear.Matrix, a, b []float64) float64 {
		sum := 0.0
		for p, x := range a {
			for q, y := range b {
				sum += x * m.At(p, q) * y
			}
		}
		return sum
	}
	local := d.local.Row(k)
	h := quadratic(v.local[i], local, local)
	if d.shared != nil {
		shared := d.shared.Row(k)
		h += 2*quadratic(v.cross[i], local, shared) + quadratic(v.shared, shared, shared)
	}
	return h
}

// inflation returns the ratio of the covariance of Huber's estimate to the inverse of the weighted normal
// equations, and the degrees of freedom. The covariance is
//
//	K² · Σψ²/(n − p) / (mean ψ′)² · (XᵀX)⁻¹,   K = 1 + p/n · (1 − m)/m,  m = mean ψ′
//
// (Huber, "Robust Statistics", 1981, section 7.6), with XᵀX taken as the weighted matrix over the mean
// weight.
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

// insensitiveError is the relative error, with all other settings known, above which a setting is not fitted:
// a factor of two either way.
const insensitiveError = 0.7

// insensitive lists the settings on which the tracks hardly depend.
func (x *fitter) insensitive() (list []FrictionSetting) {
	if len(x.active) == 0 {
		return nil
	}
	s, _, _, ok := x.normal(x.slopes, nil).eliminated(0)
	if !ok {
		return nil
	}
	factor, _ := x.inflation()
	for i, setting := range x.active {
		// With the other settings known and the shots' parameters fitted.
		if !(math.Sqrt(factor/s.At(i, i)) < insensitiveError) {
			list = append(list, setting)
		}
	}
	return list
}
