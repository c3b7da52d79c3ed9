package spread

import (
	"fmt"
	"math"

	"lanesim/internal/statistics"
	"lanesim/physics"
	"lanesim/studies"
)

// Miss is the effect of one deviation of a bowler.
//
// Shares of variance are those of the [studies.Deviates], which are independent. If deviations are
// correlated, deviate i is the part of deviation i that does not follow from those before it.
type Miss struct {
	Of studies.Varied

	// Minus and Plus are the moves of the entry in boards if this deviation alone is one standard deviation
	// below or above 0; NaN if one of the two balls does not reach the pins, and for a phase that is drawn
	// evenly.
	Minus, Plus float64

	// Board and Pocket are the shares of the variances of the entry board, for balls that reach the pins, and
	// of the pocket (1 or 0) that the deviate alone explains. They are estimated from the deliveries and may
	// be slightly negative.
	Board, Pocket Estimate

	// Without compares the first deliveries, a, with the same ones without this deviation, b. It is empty if
	// these were not thrown.
	Without studies.Paired

	// Indices is nil unless Study.Sobol is set.
	Indices *MissIndices
}

// MissIndices are Sobol indices of a deviate: the share of a variance that it explains alone (First), and
// with all interactions (Total).
type MissIndices struct {
	BoardFirst, BoardTotal, PocketFirst, PocketTotal Estimate
}

// Estimate is a number with its standard error; both are NaN if it does not exist.
type Estimate struct{ Value, Error float64 }

func unknown() Estimate { return Estimate{math.NaN(), math.NaN()} }

const (
	// groups is the number of parts of the sample that are left out in turn for a standard error.
	groups = 20

	// perBin is the least mean number of deliveries in a bin of a deviate, leastBins and mostBins bound the
	// number of bins. Bins have equal width between farthestBin standard deviations on either side; the outer
	// ones contain what lies beyond. Of the variance of a straight line, 40 bins miss 0.15²/12 = 0.2 % and
	// 0.05 % in the tails.
	perBin      = 10
	leastBins   = 5
	mostBins    = 40
	farthestBin = 3.0

	// sobolDraws is the number of the first delivery of the second sample of the Sobol indices.
	sobolDraws = 1 << 62
)

// jackknife returns the value over all groups and its standard error √((g − 1)/g Σ (v_i − v̄)²) from the
// values v_i with one group left out (Efron and Stein, Ann. Stat. 9, 586, 1981).
func jackknife(value func(leftOut int) float64) Estimate {
	const none = -1
	var without [groups]float64
	mean := 0.0
	for g := range groups {
		without[g] = value(g)
		mean += without[g] / groups
	}
	squares := 0.0
	for _, v := range without {
		squares += (v - mean) * (v - mean)
	}
	return Estimate{value(none), math.Sqrt(squares * (groups - 1) / groups)}
}

// moments are sums over some values.
type moments struct{ n, sum, squares float64 }

func (m *moments) add(v float64) {
	m.n++
	m.sum += v
	m.squares += v * v
}

func (m *moments) take(o moments) {
	m.n += o.n
	m.sum += o.sum
	m.squares += o.squares
}

// within returns the sum of squares about the mean.
func (m moments) within() float64 {
	if m.n == 0 {
		return 0
	}
	return max(0, m.squares-m.sum*m.sum/m.n)
}

// explainer computes the share of the variance of y that a standard normal deviate z explains: the variance
// of the means of y in bins of z, corrected for their variation by chance,
//
//	ε² = 1 − (SS_within/(n − bins)) / (SS_total/(n − 1))
//
// (Kelley, Proc. Natl. Acad. Sci. 21, 554, 1935). It needs no extra shots. It is NaN if y does not vary or if
// there are too few values.
type explainer struct {
	middle float64 // subtracted, so that no large squares cancel
	taken  int
	cells  [][groups]moments // by bin
}

// newExplainer returns an explainer for n values, which each passes to take.
func newExplainer(n int, each func(take func(float64))) *explainer {
	e := &explainer{}
	each(func(v float64) { e.middle += v / float64(n) })
	if bins := min(n/perBin, mostBins); bins >= leastBins {
		e.cells = make([][groups]moments, bins)
	}
	return e
}

func (e *explainer) add(z, y float64) {
	if bins := len(e.cells); bins > 0 {
		at := int((z + farthestBin) / (2 * farthestBin) * float64(bins))
		e.cells[min(max(at, 0), bins-1)][e.taken%groups].add(y - e.middle)
	}
	e.taken++
}

func (e *explainer) share() Estimate {
	if len(e.cells) == 0 {
		return unknown()
	}
	share := jackknife(func(leftOut int) float64 {
		var all moments
		within, used := 0.0, 0.0
		for i := range e.cells {
			var bin moments
			for g, m := range e.cells[i] {
				if g != leftOut {
					bin.take(m)
				}
			}
			if bin.n > 0 {
				used++
			}
			within += bin.within()
			all.take(bin)
		}
		return 1 - within/(all.n-used)/(all.within()/(all.n-1))
	})
	if math.IsNaN(share.Value) || math.IsInf(share.Value, 0) {
		return unknown()
	}
	return share
}

// explain computes the shares that each deviate explains. It draws the deviates again instead of keeping
// them.
func (r *spreadRun) explain(result *Result) {
	type pair struct{ board, pocket *explainer }
	all := make([][studies.VariedCount]pair, len(result.Setups))
	for i := range result.Setups {
		s := &result.Setups[i]
		for v := range all[i] {
			all[i][v].board = newExplainer(s.EntryBoard.Of, func(take func(float64)) {
				for _, one := range s.Each {
					if one.reached() {
						take(one.EntryBoard)
					}
				}
			})
			all[i][v].pocket = newExplainer(len(s.Each), func(take func(float64)) {
				for _, one := range s.Each {
					take(statistics.Indicator(one.Pocket))
				}
			})
		}
	}
	draws := studies.NewSampler()
	for k := range result.Shots {
		z := draws.Deviates(r.Seed, uint64(k))
		for i := range all {
			one := result.Setups[i].Each[k]
			for v := range all[i] {
				if one.reached() {
					all[i][v].board.add(z[v], one.EntryBoard)
				}
				all[i][v].pocket.add(z[v], statistics.Indicator(one.Pocket))
			}
		}
	}
	for i := range result.Setups {
		counts := r.deliverers[i].Counts()
		for _, v := range studies.AllVaried() {
			m := Miss{Of: v, Minus: math.NaN(), Plus: math.NaN(), Board: all[i][v].board.share(), Pocket: all[i][v].pocket.share()}
			if !counts[v] { // exactly 0, unless there is nothing to explain
				m.Board, m.Pocket = m.Board.nothing(), m.Pocket.nothing()
			}
			result.Setups[i].Misses = append(result.Setups[i].Misses, m)
		}
	}
}

// nothing returns 0, or NaN if there is no variance to explain.
func (e Estimate) nothing() Estimate {
	if math.IsNaN(e.Value) {
		return e
	}
	return Estimate{}
}

// throwAlone throws each setup's line without deviations, and with one deviation at a time.
func (r *spreadRun) throwAlone(result *Result) error {
	for i := range r.Setups {
		setup := r.Setups[i]
		varied := setup.Repeatability.Deviating()
		setup.Repeatability.Correlations = nil
		single, err := setup.Repeatability.Deliverer(setup.Release)
		if err != nil {
			return err
		}
		shots := make([]ShotResult, 1+2*len(varied))
		err = r.parallel(len(shots), 1, func(thrower *physics.Thrower, job int) error {
			var z studies.Deviates
			if job > 0 {
				z[varied[(job-1)/2]] = float64(2*((job-1)%2) - 1)
			}
			var err error
			shots[job], err = r.throw(thrower, i, single.Delivery(z))
			return err
		})
		if err != nil {
			return err
		}
		s := &result.Setups[i]
		s.Line = shots[0]
		for v := range s.Misses {
			if s.Line.reached() {
				s.Misses[v].Minus, s.Misses[v].Plus = 0, 0 // without deviation
			}
		}
		for k, v := range varied {
			s.Misses[v].Minus = shots[1+2*k].EntryBoard - s.Line.EntryBoard
			s.Misses[v].Plus = shots[2+2*k].EntryBoard - s.Line.EntryBoard
			if v == studies.VariedPhase && setup.Repeatability.EvenPhase {
				s.Misses[v].Minus, s.Misses[v].Plus = math.NaN(), math.NaN()
			}
		}
	}
	return nil
}

// without throws the first deliveries again without one of the deviations.
func (r *spreadRun) without(result *Result) error {
	shots := min(r.Misses, result.Shots)
	for i := range r.Setups {
		varied := r.Setups[i].Repeatability.Deviating()
		pockets := make([]bool, len(varied)*shots)
		batches := (shots + batch - 1) / batch
		err := r.parallel(len(varied)*batches, batch, func(thrower *physics.Thrower, job int) error {
			draws, v := studies.NewSampler(), varied[job/batches]
			less := r.deliverers[i].Without(v)
			from := job % batches * batch
			for k := from; k < min(from+batch, shots); k++ {
				one, err := r.throw(thrower, i, less.Delivery(draws.Deviates(r.Seed, uint64(k))))
				if err != nil {
					return fmt.Errorf("delivery %d without deviation of %s: %w", k+1, v, err)
				}
				pockets[job/batches*shots+k] = one.Pocket
			}
			return nil
		})
		if err != nil {
			return err
		}
		s := &result.Setups[i]
		for at, v := range varied {
			for k := range shots {
				s.Misses[v].Without.Add(s.Each[k].Pocket, pockets[at*shots+k])
			}
		}
	}
	return nil
}
