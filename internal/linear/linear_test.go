package linear_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"lanesim/internal/linear"
)

// both returns a random symmetric matrix, positive definite if wanted, here and in gonum's form.
func both(r *rand.Rand, n int, definite bool) (*linear.Matrix, *mat.SymDense) {
	m, g := linear.New(n, n), mat.NewSymDense(n, nil)
	rows := make([][]float64, n)
	for i := range rows {
		rows[i] = make([]float64, n)
		for j := range n {
			rows[i][j] = r.NormFloat64()
		}
	}
	for i := range n {
		for j := range i + 1 {
			v := rows[i][j]
			if definite {
				v = linear.Dot(rows[i], rows[j])
			}
			m.Set(i, j, v)
			m.Set(j, i, v)
			g.SetSym(i, j, v)
		}
	}
	return m, g
}

func near(t *testing.T, what string, got, want, bound float64) {
	t.Helper()
	if !(math.Abs(got-want) <= bound) {
		t.Errorf("%s is %.17g, not %.17g", what, got, want)
	}
}

func TestCholesky(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for n := 1; n < 12; n++ {
		m, g := both(r, n, true)
		factor, ok := linear.Factor(m)
		var theirs mat.Cholesky
		if !ok || !theirs.Factorize(g) {
			t.Fatalf("%d: no factor", n)
		}
		b := make([]float64, n)
		for i := range b {
			b[i] = r.NormFloat64()
		}
		x := factor.Solve(b)
		var y mat.VecDense
		if err := theirs.SolveVecTo(&y, mat.NewVecDense(n, b)); err != nil {
			t.Fatal(err)
		}
		inverse := factor.Inverse()
		for i := range n {
			bound := 1e-14 * theirs.Cond()
			near(t, "gonum's solution", x[i], y.AtVec(i), bound)
			near(t, "the right side", linear.Dot(m.Row(i), x), b[i], bound)
			for j := range n {
				unit := 0.0
				if i == j {
					unit = 1
				}
				near(t, "the inverse", linear.Dot(m.Row(i), inverse.Column(j)), unit, bound)
			}
		}
	}
}

// TestSingular: a matrix that is not positive definite has no factor, however it is scaled.
func TestSingular(t *testing.T) {
	for _, rows := range [][2][2]float64{
		{{1, 1}, {1, 1}}, {{1, 2}, {2, 1}}, {{0, 0}, {0, 1}}, {{-1, 0}, {0, 1}}, {{1e-20, 1e-5}, {1e-5, 1e10}},
		{{math.NaN(), 0}, {0, 1}}, {{math.Inf(1), 0}, {0, 1}},
	} {
		m := linear.New(2, 2)
		for i, row := range rows {
			copy(m.Row(i), row[:])
		}
		if _, ok := linear.Factor(m); ok {
			t.Errorf("%v has a factor", rows)
		}
	}
	m := linear.New(2, 2)
	m.Set(0, 0, 1e-20)
	m.Set(1, 1, 1e20)
	if _, ok := linear.Factor(m); !ok {
		t.Error("a diagonal of different sizes has no factor")
	}
}

func TestEigen(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for n := 1; n < 12; n++ {
		for _, definite := range []bool{false, true} {
			m, g := both(r, n, definite)
			values, vectors := linear.Eigen(m)
			var theirs mat.EigenSym
			if !theirs.Factorize(g, true) {
				t.Fatal("gonum has none")
			}
			size := math.Abs(values[0]) + math.Abs(values[n-1])
			for j, want := range theirs.Values(nil) {
				near(t, "gonum's value", values[j], want, 1e-14*size)
				v := vectors.Column(j)
				near(t, "a vector's length", linear.Dot(v, v), 1, 1e-14)
				for i := range n {
					near(t, "m v = λ v", linear.Dot(m.Row(i), v), values[j]*v[i], 2e-14*size)
				}
				for k := range j {
					near(t, "vectors across", linear.Dot(v, vectors.Column(k)), 0, 1e-14)
				}
			}
		}
	}
	zero := linear.New(3, 3)
	zero.Set(2, 2, -1)
	if values, vectors := linear.Eigen(zero); values[0] != -1 || values[2] != 0 || vectors.At(2, 0) != 1 {
		t.Errorf("of a diagonal: %v, %v", values, vectors)
	}
}
