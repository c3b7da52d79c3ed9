package spread

import (
	"fmt"
	"slices"

	"lanesim/internal/statistics"
	"lanesim/physics"
	"lanesim/studies"
)

// sobolSums has sums over the rows of one group.
type sobolSums struct {
	both         moments // of f(A) and f(B)
	first, total float64
	rows         float64
}

// sobolIndices returns the first-order and the total Sobol index of one of the inputs,
// from n outputs of samples A and B and of A with that input taken from B:
//
//	S = 1/n Σ (f(B) − f̄)(f(A_B) − f(A)) / V,  T = 1/2n Σ (f(A) − f(A_B))² / V
//
// (Saltelli et al., Comput. Phys. Commun. 181, 259, 2010; the second is Jansen's,
// ibid. 117, 35, 1999). V is the variance over both samples. They are NaN if it is 0.
func sobolIndices(n int, row func(k int) (a, b, ab float64)) (first, total Estimate) {
	if n < 2*groups {
		return unknown(), unknown()
	}
	mean := 0.0
	for k := range n {
		a, b, _ := row(k)
		mean += (a + b) / float64(2*n)
	}
	var sums [groups]sobolSums
	for k := range n {
		a, b, ab := row(k)
		s := &sums[k%groups]
		s.both.add(a - mean)
		s.both.add(b - mean)
		s.first += (b - mean) * (ab - a)
		s.total += (a - ab) * (a - ab) / 2
		s.rows++
	}
	index := func(of func(sobolSums) float64) Estimate {
		return jackknife(func(leftOut int) float64 {
			var both moments
			sum, rows := 0.0, 0.0
			for g, s := range sums {
				if g != leftOut {
					both.take(s.both)
					sum, rows = sum+of(s), rows+s.rows
				}
			}
			return sum / rows / (both.within() / (both.n - 1))
		})
	}
	return index(func(s sobolSums) float64 { return s.first }), index(func(s sobolSums) float64 { return s.total })
}

// sobol throws the rows of the Sobol indices. A row is a delivery, another one, and
// the first with each of its deviates taken from the second.
func (r *spreadRun) sobol(result *Result) error {
	if r.Sobol == 0 {
		return nil
	}
	for i := range r.Setups {
		counts := r.deliverers[i].Counts()
		used := slices.DeleteFunc(studies.AllVaried(), func(v studies.Varied) bool { return !counts[v] })
		if len(used) == 0 {
			continue
		}
		columns := 2 + len(used)
		table := make([]ShotResult, r.Sobol*columns)
		const rows = max(1, batch/8) // of a job
		err := r.parallel((r.Sobol+rows-1)/rows, rows*columns, func(thrower *physics.Thrower, job int) error {
			draws := studies.NewSampler()
			for k := job * rows; k < min((job+1)*rows, r.Sobol); k++ {
				a, b := draws.Deviates(r.Seed, uint64(k)), draws.Deviates(r.Seed, sobolDraws+uint64(k))
				for c := range columns {
					z := a
					switch {
					case c == 1:
						z = b
					case c > 1:
						z[used[c-2]] = b[used[c-2]]
					}
					var err error
					if table[k*columns+c], err = r.throw(thrower, i, r.deliverers[i].Delivery(z)); err != nil {
						return fmt.Errorf("row %d of the Sobol indices: %w", k+1, err)
					}
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
		r.readSobol(&result.Setups[i], table, used)
	}
	return nil
}

// readSobol computes the indices from the table of shots.
func (r *spreadRun) readSobol(s *SetupResult, table []ShotResult, used []studies.Varied) {
	columns := 2 + len(used)
	var reached []int // first indices of the rows whose shots all reach the pins
	for from := 0; from < len(table); from += columns {
		if !slices.ContainsFunc(table[from:from+columns], func(one ShotResult) bool { return !one.reached() }) {
			reached = append(reached, from)
		}
	}
	s.SobolRows = len(reached)
	for v := range s.Misses {
		s.Misses[v].Indices = &MissIndices{}
	}
	for c, v := range used {
		m := s.Misses[v].Indices
		m.BoardFirst, m.BoardTotal = sobolIndices(len(reached), func(k int) (a, b, ab float64) {
			row := table[reached[k]:]
			return row[0].EntryBoard, row[1].EntryBoard, row[2+c].EntryBoard
		})
		m.PocketFirst, m.PocketTotal = sobolIndices(len(table)/columns, func(k int) (a, b, ab float64) {
			row := table[k*columns:]
			return statistics.Indicator(row[0].Pocket), statistics.Indicator(row[1].Pocket), statistics.Indicator(row[2+c].Pocket)
		})
	}
}
