package ball

import "math"

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
	u := math.Log(grit/a.grit) / math.Log(b.grit/a.grit)
	return a.ra * math.Pow(b.ra/a.ra, u) * Microinch, true
}
