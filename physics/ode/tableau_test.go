package ode

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// roundedSums bounds the rounding of sums of some tens of products of
// coefficients no larger than 12.
const roundedSums = 128 * eps

// tree is a rooted tree, written as the list of subtrees at its root.
type tree []tree

func (t tree) String() string {
	var parts []string
	for _, b := range t {
		parts = append(parts, b.String())
	}
	slices.Sort(parts)
	return "[" + strings.Join(parts, "") + "]"
}

// order is the number of vertices, density the γ of Butcher's theory.
func (t tree) order() int {
	n := 1
	for _, b := range t {
		n += b.order()
	}
	return n
}

func (t tree) density() float64 {
	d := float64(t.order())
	for _, b := range t {
		d *= b.density()
	}
	return d
}

// stageWeights returns the products over the branches of Σ_j a_ij Φ_j.
func (t tree) stageWeights(a [7][7]float64) [7]float64 {
	var w [7]float64
	for i := range w {
		w[i] = 1
	}
	for _, b := range t {
		inner := b.stageWeights(a)
		for i := range w {
			sum := 0.0
			for j := range inner {
				sum += a[i][j] * inner[j]
			}
			w[i] *= sum
		}
	}
	return w
}

// defect returns Σ b_i Φ_i(t) − θ^ρ/γ for a method with weights b at the
// fraction θ of the step.
func (t tree) defect(a [7][7]float64, b [7]float64, theta float64) float64 {
	sum := -math.Pow(theta, float64(t.order())) / t.density()
	for i, w := range t.stageWeights(a) {
		sum += b[i] * w
	}
	return sum
}

// withLeaf returns the trees that arise from t by one more leaf.
func (t tree) withLeaf() []tree {
	all := []tree{append(slices.Clone(t), tree{})}
	for i := range t {
		for _, branch := range t[i].withLeaf() {
			c := slices.Clone(t)
			c[i] = branch
			all = append(all, c)
		}
	}
	return all
}

// rootedTrees returns the trees up to an order, each once.
func rootedTrees(order int) []tree {
	all := []tree{{}}
	for from := 0; all[from].order() < order; from++ {
		for _, t := range all[from].withLeaf() {
			if !slices.ContainsFunc(all, func(u tree) bool { return u.String() == t.String() }) {
				all = append(all, t)
			}
		}
	}
	return all
}

// method reads the tableau off the solver at work: with h = 1, y = 0 and a
// rate that is the i-th unit vector in stage i, the argument of stage i is row
// i of the matrix, and the segment's components are the weights of the dense
// output.
func method(t *testing.T) (c [7]float64, a [7][7]float64, s *Solver) {
	t.Helper()
	s = NewSolver(7)
	stage := 0
	s.problem = &Problem{Rate: func(t float64, y, dydt []float64) {
		c[stage] = t
		copy(a[stage][:], y)
		clear(dydt)
		dydt[stage] = 1
		stage++
	}}
	s.settings = Settings{Absolute: 1}
	s.rate(0, s.y, s.k1)
	s.attempt(0, 1, 1)
	if stage != 7 {
		t.Fatalf("%d stages, want 7", stage)
	}
	return c, a, s
}

func weights(s *Solver, theta float64) (b [7]float64) {
	s.segment.At(theta, b[:])
	return b
}

func TestThereAre17RootedTreesToOrder5(t *testing.T) {
	counts := map[int]int{}
	for _, u := range rootedTrees(5) {
		counts[u.order()]++
	}
	for order, want := range []int{0, 1, 1, 2, 4, 9} {
		if counts[order] != want {
			t.Errorf("order %d: %d trees, want %d", order, counts[order], want)
		}
	}
}

func TestRowsSumToTheNodes(t *testing.T) {
	c, a, _ := method(t)
	worst := 0.0
	for i := range a {
		sum := 0.0
		for _, v := range a[i] {
			sum += v
		}
		worst = max(worst, math.Abs(sum-c[i]))
	}
	t.Logf("largest defect %.2g, bound %.2g", worst, roundedSums)
	if !(worst <= roundedSums) {
		t.Errorf("rows differ from nodes by %g", worst)
	}
}

func TestLastStageIsTheSolution(t *testing.T) {
	c, a, s := method(t)
	last := a[6]
	s.dense(0, 1)
	if got := weights(s, 1); got != last || c[6] != 1 || last[6] != 0 {
		t.Errorf("weights %v, last stage %v at %g", got, last, c[6])
	}
}

func TestSolutionHasOrder5(t *testing.T) {
	_, a, _ := method(t)
	worst := 0.0
	for _, u := range rootedTrees(5) {
		d := u.defect(a, a[6], 1)
		worst = max(worst, math.Abs(d))
		if !(math.Abs(d) <= roundedSums) {
			t.Errorf("tree %s: defect %g", u, d)
		}
	}
	t.Logf("largest defect of 17 conditions %.2g, bound %.2g", worst, roundedSums)
}

func TestEmbeddedSolutionHasOrder4AndNot5(t *testing.T) {
	_, a, s := method(t)
	errors := [7]float64{e1, 0, e3, e4, e5, e6, e7}
	embedded := a[6]
	for i := range embedded {
		embedded[i] -= errors[i]
	}
	worst, fifth := 0.0, 0.0
	for _, u := range rootedTrees(5) {
		d := math.Abs(u.defect(a, embedded, 1))
		if u.order() == 5 {
			fifth = max(fifth, d)
			continue
		}
		worst = max(worst, d)
		if !(d <= roundedSums) {
			t.Errorf("tree %s: defect %g", u, d)
		}
	}
	t.Logf("largest defect to order 4 %.2g, bound %.2g; of order 5 %.2g", worst, roundedSums, fifth)
	// Without a defect of order 5 there would be no estimate of the error.
	if fifth < 1e-4 {
		t.Errorf("defect of order 5 only %g", fifth)
	}
	// The estimate in use has these weights.
	s.settings.Scale = make([]float64, 7)
	for i, want := range errors {
		for j := range s.settings.Scale {
			s.settings.Scale[j] = math.Inf(1)
		}
		s.settings.Scale[i] = 1
		s.setWeights()
		stage := 1
		s.problem = &Problem{Rate: func(_ float64, _, dydt []float64) {
			clear(dydt)
			dydt[stage] = 1
			stage++
		}}
		if got := s.attempt(0, 1, 1); math.Abs(got-math.Abs(want)) > eps {
			t.Errorf("error weight %d is %g, want %g", i+1, got, math.Abs(want))
		}
	}
}

func TestDenseOutputHasOrder4Everywhere(t *testing.T) {
	_, a, s := method(t)
	s.dense(0, 1)
	worst, fifth := 0.0, 0.0
	for k := 0; k <= 16; k++ {
		theta := float64(k) / 16
		b := weights(s, theta)
		for _, u := range rootedTrees(5) {
			d := math.Abs(u.defect(a, b, theta))
			if u.order() == 5 {
				fifth = max(fifth, d)
				continue
			}
			worst = max(worst, d)
			if !(d <= roundedSums) {
				t.Errorf("θ = %g, tree %s: defect %g", theta, u, d)
			}
		}
	}
	t.Logf("largest defect to order 4 %.2g, bound %.2g; of order 5 inside the step %.2g", worst, roundedSums, fifth)
}

func TestDenseOutputJoinsSmoothly(t *testing.T) {
	// Its slope at the ends is the rate there: b_i'(0) = δ_i1, b_i'(1) = δ_i7.
	_, _, s := method(t)
	s.dense(0, 1)
	// The derivative of a polynomial of degree four by the central formula
	// of fourth order is exact.
	slope := func(theta float64, i int) float64 {
		const d = 1. / 8
		f := func(u float64) float64 { return s.segment.Component(i, u) }
		return (8*(f(theta+d)-f(theta-d)) - (f(theta+2*d) - f(theta-2*d))) / (12 * d)
	}
	worst := 0.0
	for i := range 7 {
		var first, last float64
		if i == 0 {
			first = 1
		}
		if i == 6 {
			last = 1
		}
		worst = max(worst, math.Abs(slope(0, i)-first), math.Abs(slope(1, i)-last))
	}
	const bound = 16 * roundedSums // differences over 1/8 lose a factor of 16
	t.Logf("largest difference of slopes %.2g, bound %.2g", worst, bound)
	if !(worst <= bound) {
		t.Errorf("slopes at the ends differ by %g", worst)
	}
}
