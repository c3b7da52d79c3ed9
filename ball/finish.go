package ball

import "lanesim/internal/portable"

// gritRoughness is the Ra in µin that a cover has after sanding with a grit.
// All of it is assumed: no published grit-to-Ra table was found. Finer grit
// leaves a smoother cover.
var gritRoughness = []struct{ grit, ra float64 }{
	{180, 60}, {360, 45}, {500, 38}, {1000, 28}, {1500, 22}, {2000, 18}, {3000, 12}, {4000, 8}, {5000, 6},
}

// RoughnessOfGrit returns the Ra in m that a cover is assumed to have after
// sanding with a grit, and false outside 180 to 5000 grit. Between the entries
// of the assumed table ln Ra is linear in ln grit.
func RoughnessOfGrit(grit float64) (ra float64, ok bool) {
	t := gritRoughness
	if !(grit >= t[0].grit && grit <= t[len(t)-1].grit) { // also NaN
		return 0, false
	}
	i := 1
	for grit > t[i].grit {
		i++
	}
	a, b := t[i-1], t[i]
	switch grit {
	case a.grit:
		return a.ra * Microinch, true
	case b.grit:
		return b.ra * Microinch, true
	}
	u := portable.Log(grit/a.grit) / portable.Log(b.grit/a.grit)
	return a.ra * portable.Pow(b.ra/a.ra, u) * Microinch, true
}

// FinishWear is how the lane changes the Ra of a cover: it nears a value that
// does not change any more, whether the cover was rougher or smoother,
//
//	Ra(n) = Ra_∞ + (Ra_0 − Ra_∞) exp(−n / N)
//
// after n games. The law is assumed, and so are its values.
type FinishWear struct {
	Toward float64 // Ra_∞ in m
	Games  float64 // N, after which 1/e of the difference is left
}

// DefaultFinishWear returns the assumed defaults.
func DefaultFinishWear() FinishWear { return FinishWear{Toward: 20 * Microinch, Games: 20} }

// Worn returns the Ra in m after a number of games on a cover that had the
// given Ra in m.
func (w FinishWear) Worn(ra, games float64) float64 {
	if games == 0 || ra == w.Toward {
		return ra
	}
	return w.Toward + (ra-w.Toward)*portable.Exp(-games/w.Games)
}
