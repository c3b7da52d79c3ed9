package studies

import (
	"fmt"

	"lanesim/physics"
)

// sobolSums are sums over the rows of one group.
type sobolSums struct {
	both         moments // of f(A) and f(B)
	first, total float64
	rows         float64
}

// sobolIndices returns the first-order and the total Sobol index of one of the inputs,
// from the outputs of samples A and B and of A with that input taken from B:
//
//	S = 1/n Σ (f(B) − f̄)(f(A_B) − f(A)) / V,  T = 1/2n Σ (f(A) − f(A_B))² / V
//
// (Saltelli et al., Comput. Phys. Commun. 181, 259, 2010; the second is Jansen's,
// ibid. 117, 35, 1999). V is the variance over both samples. They are NaN if it is 0.
func sobolIndices(a, b, ab []float64) (first, total Estimate) {
	mean := 0.0
	for k := range a {
		mean += (a[k] + b[k]) / float64(2*len(a))
	}
	var sums [groups]sobolSums
	for k := range a {
		s := &sums[k%groups]
		s.both.add(a[k] - mean)
		s.both.add(b[k] - mean)
		s.first += (b[k] - mean) * (ab[k] - a[k])
		s.total += (a[k] - ab[k]) * (a[k] - ab[k]) / 2
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
	if len(a) < 2*groups {
		return unknown(), unknown()
	}
	return index(func(s sobolSums) float64 { return s.first }), index(func(s sobolSums) float64 { return s.total })
}

// sobol throws the rows of the Sobol indices. A row is a delivery, another one, and
// the first with each of its deviates taken from the second.
func (r *spreadRun) sobol(result *Scattered) error {
	if r.Sobol == 0 {
		return nil
	}
	for i := range r.Setups {
		counts := r.deliverers[i].counts()
		var used []Varied
		for v, c := range counts {
			if c {
				used = append(used, Varied(v))
			}
		}
		if len(used) == 0 {
			continue
		}
		columns := 2 + len(used)
		table := make([]SpreadShot, r.Sobol*columns)
		const rows = max(1, batch/8) // of a job
		err := r.parallel((r.Sobol+rows-1)/rows, rows*columns, func(thrower *physics.Thrower, job int) error {
			draws := newDrawer()
			for k := job * rows; k < min((job+1)*rows, r.Sobol); k++ {
				a, b := draws.deviates(r.Seed, uint64(k)), draws.deviates(r.Seed, sobolDraws+uint64(k))
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

// readSobol turns the table of shots, row by row, into indices.
func (r *spreadRun) readSobol(s *ScatteredSetup, table []SpreadShot, used []Varied) {
	columns := 2 + len(used)
	pockets, boards := make([][]float64, columns), make([][]float64, columns)
	for row := 0; row < len(table); row += columns {
		shots := table[row : row+columns]
		reached := true
		for c, one := range shots {
			pockets[c] = append(pockets[c], oneIf(one.Pocket))
			reached = reached && one.reached()
		}
		if !reached {
			continue
		}
		s.SobolRows++
		for c, one := range shots {
			boards[c] = append(boards[c], one.EntryBoard)
		}
	}
	for v := range s.Misses {
		s.Misses[v].Indices = &MissIndices{}
	}
	for c, v := range used {
		m := s.Misses[v].Indices
		m.BoardFirst, m.BoardTotal = sobolIndices(boards[0], boards[1], boards[c+2])
		m.PocketFirst, m.PocketTotal = sobolIndices(pockets[0], pockets[1], pockets[c+2])
	}
}
