package ball

import (
	"lanesim/internal/input"
	"lanesim/internal/portable"
	"lanesim/units"
)

// gritRoughness is the Ra in µin that a cover has after sanding with a grit.
// All of it is assumed: no published grit-to-Ra table was found. Finer grit
// leaves a smoother cover.
var gritRoughness = []struct{ grit, ra float64 }{
	{180, 60}, {360, 45}, {500, 38}, {1000, 28}, {1500, 22}, {2000, 18}, {3000, 12}, {4000, 8}, {5000, 6},
}

type boxFinish struct {
	word string
	ra   float64
}

// boxFinishes are the words for the finish that a ball has out of the box, from
// the smoothest, with an Ra in µin. All of it is assumed, as for grits.
var boxFinishes = []boxFinish{
	{"high polish", 4}, {"polished", 10}, {"satin", 18}, {"matte", 28}, {"dull", 40},
}

// FinishWords lists the words for box finishes, from the smoothest.
func FinishWords() []string {
	return input.Each(boxFinishes, func(f boxFinish) string { return f.word })
}

// RoughnessOfFinish returns the Ra in m that a cover is assumed to have with a
// box finish, and false for a word that is none of [FinishWords].
func RoughnessOfFinish(word string) (ra float64, ok bool) {
	for _, f := range boxFinishes {
		if f.word == word {
			return f.ra * units.Microinch, true
		}
	}
	return 0, false
}

// SandingGrits lists the grits of the assumed table, from the coarsest; between
// them [RoughnessOfGrit] interpolates.
func SandingGrits() []float64 {
	return input.Each(gritRoughness, func(g struct{ grit, ra float64 }) float64 { return g.grit })
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
		return a.ra * units.Microinch, true
	case b.grit:
		return b.ra * units.Microinch, true
	}
	u := portable.Log(grit/a.grit) / portable.Log(b.grit/a.grit)
	return a.ra * portable.Pow(b.ra/a.ra, u) * units.Microinch, true
}

// FinishWear is how the lane changes the Ra of a cover. It approaches a final
// value, whether the cover was rougher or smoother,
//
//	Ra(n) = Ra_∞ + (Ra_0 − Ra_∞) exp(−n / N)
//
// after n games. The law is assumed, and so are its values.
type FinishWear struct {
	Toward float64 // Ra_∞ in m
	Games  float64 // N, after which 1/e of the difference is left
}

// DefaultFinishWear returns the assumed defaults.
func DefaultFinishWear() FinishWear { return FinishWear{Toward: 20 * units.Microinch, Games: 20} }

// Worn returns the Ra in m after a number of games on a cover that had the
// given Ra in m.
func (w FinishWear) Worn(ra, games float64) float64 {
	if games == 0 || ra == w.Toward {
		return ra
	}
	return w.Toward + (ra-w.Toward)*portable.Exp(-games/w.Games)
}

// GritOfRoughness returns the grit that is assumed to leave an Ra in m, and false
// outside the assumed table. It is the inverse of [RoughnessOfGrit].
func GritOfRoughness(ra float64) (grit float64, ok bool) {
	t := gritRoughness
	ra /= units.Microinch
	if !(ra <= t[0].ra && ra >= t[len(t)-1].ra) { // also NaN
		return 0, false
	}
	i := 1
	for ra < t[i].ra {
		i++
	}
	a, b := t[i-1], t[i]
	u := portable.Log(ra/a.ra) / portable.Log(b.ra/a.ra)
	return a.grit * portable.Pow(b.grit/a.grit, u), true
}
