package runs

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"runtime"
	"slices"
	"strings"

	"lanesim/report"
	"lanesim/scenario"
	"lanesim/studies/aim"
	"lanesim/studies/bag"
)

// Fingerprint identifies the inputs of the cells of a bag.
func (w *Bag) Fingerprint(s *scenario.Scenario) (string, error) {
	h := sha256.New()
	fmt.Fprintf(h, "lanesim bag, model %d, %s\n%d deliveries, seed %d, worn by %d, laydown %v, by %s\n%v\n",
		report.Model, runtime.GOARCH, w.Study.Shots, w.Study.Seed, w.Worn, w.Study.Limits, w.Study.By, w.Study.Repeatability)
	deliveries, err := s.Deliveries()
	if err != nil {
		return "", err
	}
	for _, d := range deliveries {
		inputs, err := s.Inputs(d, 0)
		if err != nil {
			return "", err
		}
		fmt.Fprintf(h, "%s\n", inputs)
	}
	for _, l := range w.Study.Lanes { // worn ones, too
		if l.Oil != nil {
			fmt.Fprintln(h, l.Oil.Distances, l.Oil.Film)
		}
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// Keys and kinds of the stored cells of a ball on a lane: whether there is a line to the pocket, its laydown
// in boards and launch angle, its measure, and which deliveries hit the pocket, hit it at a good angle,
// struck, or ended in the gutter, with a digit for each delivery, 1 if it did.
var (
	BagKeys  = []string{"row", "reaches", "laydown", "angle_rad", "by", "pocket", "good", "strikes", "gutter"}
	BagKinds = append([]report.Kind{report.CountKind, report.TruthKind, report.NumberKind, report.NumberKind}, slices.Repeat([]report.Kind{report.TextKind}, 5)...)
)

// BagRow returns row k: the cells of a ball on a lane.
func BagRow(k uint64, c bag.Cell) []report.Cell {
	row := []report.Cell{{Number: float64(k)}, {Truth: c.Reaches}, {Number: c.Laydown}, {Number: c.Angle}, {Text: string(c.By)}}
	for _, hits := range [][]bool{c.Pocket, c.Good, c.Strikes, c.Gutter} {
		row = append(row, report.Cell{Text: digitsOf(hits)})
	}
	return row
}

func digitsOf(hits []bool) string {
	var b strings.Builder
	for _, hit := range hits {
		if hit {
			b.WriteByte('1')
		} else {
			b.WriteByte('0')
		}
	}
	return b.String()
}

// ReadBagRow reads the cells of a [BagRow]. It is an error if they have another number of shots.
func ReadBagRow(cells []report.Cell, shots int) (bag.Cell, error) {
	c := bag.Cell{Reaches: cells[1].Truth, Laydown: cells[2].Number, Angle: cells[3].Number, By: aim.Measure(cells[4].Text)}
	for i, to := range []*[]bool{&c.Pocket, &c.Good, &c.Strikes, &c.Gutter} {
		text := cells[5+i].Text
		if c.Reaches && len(text) != shots {
			return c, fmt.Errorf("%d deliveries, not %d", len(text), shots)
		}
		for _, digit := range text {
			*to = append(*to, digit == '1')
		}
	}
	return c, nil
}
