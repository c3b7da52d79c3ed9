package carry

import (
	"cmp"
	"context"
	"slices"

	"lanesim/physics"
	"lanesim/pins"
)

// usualOthers is how many leaves of more than one pin are listed.
const usualOthers = 15

// UsualLeaves lists all single pins and the commonest other leaves: of the
// deliveries, or of a usual pocket hit.
func (d Deliveries) UsualLeaves(ctx context.Context, pocketHit bool) ([]pins.Leave, error) {
	shares, err := d.leaves(ctx, pocketHit)
	if err != nil {
		return nil, err
	}
	var singles, others []pins.Leave
	for l := pins.Leave(1); l <= pins.All; l++ {
		switch {
		case l.Len() == 1:
			singles = append(singles, l)
		case shares[l] > 0 && l != pins.All:
			others = append(others, l)
		}
	}
	slices.SortStableFunc(others, func(a, b pins.Leave) int { return cmp.Compare(shares[b], shares[a]) })
	return append(singles, others[:min(usualOthers, len(others))]...), nil
}

// laydownStep is how many boards apart laydowns are tried.
const laydownStep = 5.0

// LaydownsIn lists laydowns within a window that are worth trying.
func LaydownsIn(w physics.Window) []float64 {
	var list []float64
	for b := w.Min; b < w.Max; b += laydownStep {
		list = append(list, b)
	}
	return append(list, w.Max)
}
