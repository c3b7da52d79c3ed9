// Package linear solves small systems of linear equations with the same bits on every
// machine. gonum's mat sums in assembly on amd64, in another order than elsewhere.
package linear

import (
	"math"
	"slices"
)

// Matrix is a dense matrix. The zero value is an empty one.
type Matrix struct {
	Rows, Columns int
	values        []float64
}

// New returns a matrix of zeros.
func New(rows, columns int) *Matrix {
	return &Matrix{rows, columns, make([]float64, rows*columns)}
}

// At returns an element.
func (m *Matrix) At(i, j int) float64 { return m.values[i*m.Columns+j] }

// Set changes an element.
func (m *Matrix) Set(i, j int, v float64) { m.values[i*m.Columns+j] = v }

// Add adds to an element.
func (m *Matrix) Add(i, j int, v float64) { m.values[i*m.Columns+j] += v }

// Row returns a row, not a copy.
func (m *Matrix) Row(i int) []float64 { return m.values[i*m.Columns : (i+1)*m.Columns] }

// Column returns a copy of a column.
func (m *Matrix) Column(j int) []float64 {
	c := make([]float64, m.Rows)
	for i := range c {
		c[i] = m.At(i, j)
	}
	return c
}

// SetColumn changes a column.
func (m *Matrix) SetColumn(j int, values []float64) {
	for i, v := range values {
		m.Set(i, j, v)
	}
}

// Clone returns a copy.
func (m *Matrix) Clone() *Matrix { return &Matrix{m.Rows, m.Columns, slices.Clone(m.values)} }

// Dot is the inner product.
func Dot(a, b []float64) float64 {
	sum := 0.0
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}

// Cholesky is the lower triangle L of a symmetric matrix L Lᵀ.
type Cholesky struct{ Matrix }

// Factor returns the factor of a symmetric matrix, of which it reads the lower triangle;
// ok is false if the matrix is not positive definite, or so nearly singular that a
// diagonal element of the factor is only rounding.
func Factor(m *Matrix) (*Cholesky, bool) {
	n := m.Rows
	l := New(n, n)
	for i := range n {
		for j := range i + 1 {
			rest := m.At(i, j) - Dot(l.Row(i)[:j], l.Row(j)[:j])
			switch {
			case j < i:
				l.Set(i, j, rest/l.At(j, j))
			case !(rest > float64(n)*0x1p-52*m.At(i, i)) || math.IsInf(rest, 1):
				return nil, false
			default:
				l.Set(i, i, math.Sqrt(rest))
			}
		}
	}
	return &Cholesky{*l}, true
}

// Solve returns x with L Lᵀ x = b.
func (l *Cholesky) Solve(b []float64) []float64 {
	x := slices.Clone(b)
	for i := range x {
		x[i] = (x[i] - Dot(l.Row(i)[:i], x[:i])) / l.At(i, i)
	}
	for i := len(x) - 1; i >= 0; i-- {
		for k := i + 1; k < len(x); k++ {
			x[i] -= l.At(k, i) * x[k]
		}
		x[i] /= l.At(i, i)
	}
	return x
}

// SolveColumns solves for every column of b.
func (l *Cholesky) SolveColumns(b *Matrix) *Matrix {
	x := New(b.Rows, b.Columns)
	for j := range b.Columns {
		x.SetColumn(j, l.Solve(b.Column(j)))
	}
	return x
}

// Inverse returns the inverse of L Lᵀ.
func (l *Cholesky) Inverse() *Matrix {
	unit := New(l.Rows, l.Rows)
	for i := range l.Rows {
		unit.Set(i, i, 1)
	}
	return l.SolveColumns(unit)
}
