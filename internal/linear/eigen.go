package linear

import (
	"cmp"
	"math"
	"slices"
)

// mostSweeps bounds the number of sweeps over all pairs of axes. Convergence is
// quadratic; small matrices take five or six.
const mostSweeps = 40

// Eigen returns the eigenvalues of a symmetric matrix in ascending order, and unit
// eigenvectors as the columns of a matrix. It rotates pairs of axes until all off-diagonal
// elements vanish (Jacobi's method, as in Golub & Van Loan, Matrix Computations, section
// 8.5, from memory).
func Eigen(symmetric *Matrix) ([]float64, *Matrix) {
	n := symmetric.Rows
	m, v := symmetric.Clone(), New(n, n)
	for i := range n {
		v.Set(i, i, 1)
	}
	for range mostSweeps {
		rotated := false
		for p := range n {
			for q := p + 1; q < n; q++ {
				rotated = m.rotate(v, p, q) || rotated
			}
		}
		if !rotated {
			break
		}
	}
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(m.At(a, a), m.At(b, b)) })
	values, vectors := make([]float64, n), New(n, n)
	for j, k := range order {
		values[j] = m.At(k, k)
		vectors.SetColumn(j, v.Column(k))
	}
	return values, vectors
}

// rotate turns axes p and q so that the element between them vanishes; it returns false if
// that is already below rounding.
func (m *Matrix) rotate(v *Matrix, p, q int) bool {
	between, a, b := m.At(p, q), m.At(p, p), m.At(q, q)
	if !(math.Abs(between) > 0x1p-60*max(math.Abs(a), math.Abs(b))) {
		return false
	}
	// tan of the angle: the smaller root of t² + 2τt − 1 = 0.
	τ := (b - a) / (2 * between)
	t := math.Copysign(1, τ) / (math.Abs(τ) + math.Sqrt(1+τ*τ))
	cos := 1 / math.Sqrt(1+t*t)
	sin := t * cos
	turn := func(x, y float64) (float64, float64) { return cos*x - sin*y, sin*x + cos*y }
	for k := range m.Rows {
		if k != p && k != q {
			x, y := turn(m.At(k, p), m.At(k, q))
			m.Set(k, p, x)
			m.Set(p, k, x)
			m.Set(k, q, y)
			m.Set(q, k, y)
		}
		x, y := turn(v.At(k, p), v.At(k, q))
		v.Set(k, p, x)
		v.Set(k, q, y)
	}
	m.Set(p, p, a-t*between)
	m.Set(q, q, b+t*between)
	m.Set(p, q, 0)
	m.Set(q, p, 0)
	return true
}
