package aim

import (
	"math"

	"lanesim/internal/portable"
	"lanesim/internal/statistics"
	"lanesim/physics"
	"lanesim/studies"
)

// The table is corrected by one and a half times the deliveries from which a share is counted, but at least
// leastCorrections. correctionDraws is the number of the first of them.
const (
	leastCorrections = 500
	correctionDraws  = 1 << 41
)

// promising is the share of a line, in terms of the largest interpolated one, above which the table is
// corrected about the line.
const promising = 0.4

// Widths of the kernel that averages corrections, in boards at the laydown, at the pins and at the arrows.
// The last is measured from the parallel line and separates lines that end on the same board on different
// paths.
const (
	kernelLaydown = 0.8
	kernelPins    = 1.0
	kernelArrows  = 3.0
	kernelEnd     = 3.0 // widths beyond which the kernel is 0
)

// correction is one delivery about a line of the table: the hit thrown minus the hit interpolated, −1, 0 or
// 1.
type correction struct {
	laydown, arrows, pins float64
	pocket, good          float64
}

// correct throws deliveries about the lines of the table that end near the pocket. The table takes the
// effects of deviations as independent of each other and smooth. That is wrong for an entry angle that swings
// with speed and revs, as of a ball with unequal moments. The error is nearly the same for neighbouring
// lines, so it is used as a control variate.
func (t *lineTable) correct() error {
	e := t.estimator()
	var lines []int
	for k := range t.nodes {
		if laydown, arrows := t.line(k); t.nearPocket(k) && t.permitted(laydown, arrows) {
			lines = append(lines, k)
		}
	}
	shares, err := studies.Gather(t.search.ctx, t.search.Workers, len(lines), nil, func(_ *physics.Thrower, i int) (lineEstimate, error) {
		return e.estimate(t.line(lines[i])), nil
	})
	if err != nil {
		return err
	}
	var most ByMeasure[float64]
	for _, one := range shares {
		for _, m := range measures {
			*most.at(m) = max(most.Of(m), one.Of(m))
		}
	}
	by := t.search.By
	if most.Of(by) < leastGood {
		by = ByPocketShare
	}
	var about []int
	for i, one := range shares {
		if share := one.Of(by); share > 0 && share >= promising*most.Of(by) {
			about = append(about, lines[i])
		}
	}
	if len(about) == 0 {
		return nil
	}
	each := (max(t.search.Shots*3/2, leastCorrections) + len(about) - 1) / len(about)
	n := each * len(about)
	list := make([]correction, n)
	s := t.search
	err = s.parallel(n, 1, func(thrower *physics.Thrower, i int) error {
		node := about[i/each]
		window, goodAngle := s.Settings.PocketOf(t.about)
		c := &list[i]
		c.laydown, c.arrows = t.line(node)
		c.pins = t.nodes[node].board
		z := studies.DrawDeviates(s.Seed, correctionDraws+uint64(i))
		deliverer := t.scatter.About(t.release(c.laydown, c.arrows))
		shot, err := s.throw(thrower, deliverer.Delivery(z))
		if err != nil {
			return err
		}
		x := t.scatter.Deviations(z)
		board, angle, ok := e.delivery(c.laydown, c.arrows, &x, math.Tan(x[studies.VariedAngle]))
		pocket := ok && window.Contains(board)
		good := pocket && goodAngle.Contains(angle)
		c.pocket = statistics.Indicator(shot.Summary.Pocket) - statistics.Indicator(pocket)
		c.good = statistics.Indicator(shot.Summary.Pocket && shot.Summary.GoodAngle) - statistics.Indicator(good)
		return nil
	})
	t.corrections = list
	return err
}

// correction returns how much too small the interpolated shares of a line are.
func (t *lineTable) correction(laydown, arrows, pins float64) (pocket, good float64) {
	sum := 0.0
	for i := range t.corrections {
		c := &t.corrections[i]
		u, v := (c.laydown-laydown)/kernelLaydown, (c.pins-pins)/kernelPins
		w := (c.arrows - arrows - (c.laydown - laydown)) / kernelArrows
		d := u*u + v*v + w*w
		if d > kernelEnd*kernelEnd {
			continue
		}
		f := portable.Exp(-d / 2)
		sum += f
		pocket += f * c.pocket
		good += f * c.good
	}
	if sum == 0 {
		return 0, 0
	}
	return pocket / sum, good / sum
}
