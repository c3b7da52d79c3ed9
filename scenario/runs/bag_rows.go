package runs

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"runtime"
	"strconv"
	"strings"

	"lanesim/report"
	"lanesim/rows"
	"lanesim/scenario"
	"lanesim/studies/aim"
	"lanesim/studies/bag"
)

// Header says what the cells of a bag are.
func (w *Bag) Header(s *scenario.Scenario) (rows.Header, error) {
	h := sha256.New()
	fmt.Fprintf(h, "lanesim bag, model %d, %s\n%d deliveries, seed %d, worn by %d, laydown %v, by %s\n%v\n",
		report.Model, runtime.GOARCH, w.Study.Shots, w.Study.Seed, w.Worn, w.Study.Limits, w.Study.By, w.Study.Repeatability)
	deliveries, err := s.Deliveries()
	if err != nil {
		return rows.Header{}, err
	}
	for _, d := range deliveries {
		inputs, err := s.Inputs(d, 0)
		if err != nil {
			return rows.Header{}, err
		}
		fmt.Fprintf(h, "%s\n", inputs)
	}
	for _, l := range w.Study.Lanes { // worn ones, too
		if l.Oil != nil {
			fmt.Fprintln(h, l.Oil.Distances, l.Oil.Film)
		}
	}
	cells := uint64(len(w.Study.Balls) * len(w.Study.Lanes))
	header := rows.Header{Title: w.Title, Rows: cells, Fingerprint: hex.EncodeToString(h.Sum(nil)), Of: 1, Block: 1}
	header.Add("row", report.CountKind)
	header.Add("reaches", report.TruthKind)
	header.Add("laydown", report.NumberKind)
	header.Add("angle_rad", report.NumberKind)
	for _, name := range []string{"by", "pocket", "good", "strikes", "gutter"} { // the last four with a digit for each delivery, 1 if it was one
		header.Add(name, report.TextKind)
	}
	return header, nil
}

// BagRow writes a cell.
func BagRow(k uint64, c bag.Cell) []byte {
	return rows.Line([]string{strconv.FormatUint(k, 10), strconv.FormatBool(c.Reaches),
		report.Exact(c.Laydown), report.Exact(c.Angle), string(c.By), digitsOf(c.Pocket), digitsOf(c.Good), digitsOf(c.Strikes), digitsOf(c.Gutter)})
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

// ReadBagRow reads a cell as [BagRow] writes it.
func ReadBagRow(h rows.Header, shots int, line []byte) (bag.Cell, error) {
	cells, err := h.Cells(line)
	if err != nil {
		return bag.Cell{}, err
	}
	c := bag.Cell{Reaches: cells[1].Truth, Laydown: cells[2].Number, Angle: cells[3].Number, By: aim.Measure(cells[4].Text)}
	for i, to := range []*[]bool{&c.Pocket, &c.Good, &c.Strikes, &c.Gutter} {
		text := cells[5+i].Text
		if c.Reaches && len(text) != shots {
			return c, rows.ErrDamaged
		}
		for _, digit := range text {
			*to = append(*to, digit == '1')
		}
	}
	return c, nil
}
