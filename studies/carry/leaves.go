package carry

import (
	"cmp"
	"context"
	"math"
	"slices"

	"lanesim/physics"
	"lanesim/pins"
	"lanesim/studies"
)

// usualOthers is the number of leaves of several pins that are listed.
const usualOthers = 15

// UsualLeaves lists all single pins and the most frequent other leaves of the deliveries or, with pocketHit,
// of typical pocket hits.
func (d Deliveries) UsualLeaves(ctx context.Context, pocketHit bool) ([]pins.Leave, error) {
	shares, err := d.leaves(ctx, pocketHit)
	if err != nil {
		return nil, err
	}
	var list []pins.Leave
	for pin := 1; pin <= pins.Count; pin++ {
		list = append(list, pins.Pins(pin))
	}
	others := slices.DeleteFunc(commonest(func(l pins.Leave) float64 { return shares[l] }), func(l pins.Leave) bool { return l.Len() == 1 || l == pins.All })
	return append(list, others[:min(usualOthers, len(others))]...), nil
}

// commonest lists the leaves that occur, the most frequent first, without the strike.
func commonest[N int | float64](often func(pins.Leave) N) []pins.Leave {
	var list []pins.Leave
	for l := pins.Leave(1); l <= pins.All; l++ {
		if often(l) > 0 {
			list = append(list, l)
		}
	}
	slices.SortStableFunc(list, func(a, b pins.Leave) int { return cmp.Compare(often(b), often(a)) })
	return list
}

// leaveDeliveries is the number of deliveries for the shares of leaves.
const leaveDeliveries = 400

// leaves returns the shares of leaves after first balls, from the stored table of racks: of the deliveries
// or, if usual is set, of balls at board 17.5 and 4.5° with standard deviations of 1.5 boards and 0.7°, which
// are assumed.
func (d Deliveries) leaves(ctx context.Context, usual bool) (*[pins.All + 1]float64, error) {
	const board, boards, angle, angles, speed = 17.5, 1.5, 4.5 * math.Pi / 180, 0.7 * math.Pi / 180, 7.6
	var shares, turnedShares [pins.All + 1]float64
	table := pins.Stored()
	if usual {
		for k := range leaveDeliveries {
			z := studies.DrawDeviates(d.Seed, uint64(k))
			table.AddLeaves(pins.Entry{Board: board + boards*z[0], Angle: angle + angles*z[1], Mass: d.Setup.Ball.Mass, Speed: speed}, 1.0/leaveDeliveries, &shares)
		}
	} else {
		list, err := d.throw(ctx, 0, leaveDeliveries)
		if err != nil {
			return nil, err
		}
		for _, t := range list {
			if t.Reached {
				table.AddLeaves(t.entry(), 1.0/leaveDeliveries, &shares)
			} else {
				shares[pins.All] += 1.0 / leaveDeliveries
			}
		}
	}
	for l := range shares {
		turnedShares[turned(pins.Leave(l), d.Setup.Release.Hand)] = shares[l]
	}
	return &turnedShares, nil
}

// laydownStep is the distance in boards between the laydowns tried.
const laydownStep = 5.0

// LaydownsIn lists the laydowns to try within a window.
func LaydownsIn(w physics.Window) []float64 {
	var list []float64
	for b := w.Min; b < w.Max; b += laydownStep {
		list = append(list, b)
	}
	return append(list, w.Max)
}
