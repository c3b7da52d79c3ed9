package main

import (
	"fmt"
	"math"
	"strconv"

	"lanesim/physics"
	"lanesim/report"
)

// matrixRecord is a pair in short; everything but the entries is b − a. What
// differs between the two has no name.
type matrixRecord struct {
	Bowler     *string      `json:"bowler"`
	Lane       *string      `json:"lane"`
	A          string       `json:"a"`
	B          string       `json:"b"`
	Entry      number       `json:"entry_board"`
	EntryB     number       `json:"entry_board_b"`
	AtPins     number       `json:"at_pins_boards"`
	AtPinsSD   number       `json:"at_pins_boards_sd"`
	Read       number       `json:"friction_read_ft"`
	ReadSD     number       `json:"friction_read_ft_sd"`
	EntryAngle number       `json:"entry_angle_deg"`
	AngleSD    number       `json:"entry_angle_deg_sd"`
	HitA       *physics.Hit `json:"hit_a"`
	HitB       *physics.Hit `json:"hit_b"`
	Visible    bool         `json:"visible"`
	Holds      *holdsRecord `json:"holds"`
}

func (c *comparison) recordMatrix(k int) matrixRecord {
	p := c.result.Pairs[k]
	d, sd := recordShare(p.Difference), recordShare(p.Spread)
	r := matrixRecord{
		Entry: c.entry(p.A), EntryB: c.entry(p.B), AtPins: d.AtPins, AtPinsSD: sd.AtPins, Read: d.FrictionRead, ReadSD: sd.FrictionRead,
		EntryAngle: d.EntryAngle, AngleSD: sd.EntryAngle, HitA: c.hit(p.A), HitB: c.hit(p.B), Visible: p.Visible, Holds: recordHolds(p.Holds),
	}
	r.A, r.B = c.names(p.A, p.B)
	s, t := c.shots[p.A], c.shots[p.B]
	r.Bowler, r.Lane = common(s.bowler, t.bowler), common(s.lane, t.lane)
	return r
}

// common returns a name that two shots have, else nil.
func common(a, b string) *string {
	if a != b {
		return nil
	}
	return &a
}

// entry is the mean entry board, NaN if the ball is lost at some phase.
func (c *comparison) entry(i int) number {
	if board := c.result.Shots[i].Shot.Summary.EntryBoard; board != nil {
		return number(*board)
	}
	return number(math.NaN())
}

// hit is where the ball meets the pins in the mean, nil if it is lost at some
// phase.
func (c *comparison) hit(i int) *physics.Hit {
	board := c.result.Shots[i].Shot.Summary.EntryBoard
	if board == nil {
		return nil
	}
	hit := physics.HitAt(*board, c.pocket())
	return &hit
}

// matrix prints a line for each pair.
func (c *comparison) matrix(color report.Paint) string {
	first := c.result.Pairs[0]
	a, z, contrast := c.oneContrast()
	bowlers, lanes := map[string]bool{}, map[string]bool{}
	for k := range c.result.Pairs {
		r := c.recordMatrix(k)
		bowlers[nameText(r.Bowler)], lanes[nameText(r.Lane)] = true, true
	}
	t := table{}
	add := func(show, left bool, row *[]string, text string) {
		if !show {
			return
		}
		*row = append(*row, text)
		if len(t.rows) == 0 {
			t.left = append(t.left, left)
		}
	}
	line := func(bowler, lane, a, b, read, pins, angle, hits, holds string) {
		var row []string
		add(len(bowlers) > 1, true, &row, bowler)
		add(len(lanes) > 1, true, &row, lane)
		add(!contrast, true, &row, a)
		add(!contrast, true, &row, b)
		add(true, false, &row, read)
		add(true, false, &row, pins)
		add(true, false, &row, angle)
		add(true, true, &row, hits)
		add(true, true, &row, holds)
		t.rows = append(t.rows, row)
	}
	of := first.Holds.AtPins.Of
	head := ""
	if of > 0 {
		head = fmt.Sprintf("holds, of %d", of)
	}
	line("bowler", "lane", "a", "b", "friction read, ft", "pins, boards", "angle, deg", "hits", head)
	for k := range c.result.Pairs {
		r := c.recordMatrix(k)
		line(nameText(r.Bowler), nameText(r.Lane), r.A, r.B,
			spreadText(float64(r.Read), float64(r.ReadSD)), spreadText(float64(r.AtPins), float64(r.AtPinsSD)),
			spreadText(float64(r.EntryAngle), float64(r.AngleSD)), hitText(r.HitA)+", "+hitText(r.HitB), c.result.Sure(k))
	}
	text := t.String()
	if contrast {
		text = color.Heading("b − a (boards: + is inside): a = "+a+", b = "+z) + "\n" + text
	} else {
		text = color.Heading("b − a (boards: + is inside)") + "\n" + text
	}
	return text
}

// nameText prints a name that may not exist.
func nameText(name *string) string {
	if name == nil {
		return absent
	}
	return *name
}

func hitText(h *physics.Hit) string {
	if h == nil {
		return "lost"
	}
	return string(*h)
}

// spreadText prints a difference with its standard deviation.
func spreadText(v, sd float64) string {
	if math.IsNaN(v) {
		return absent
	}
	text := strconv.FormatFloat(v, 'f', 2, 64)
	if v >= 0 {
		text = "+" + text
	}
	return text + " ± " + strconv.FormatFloat(sd, 'f', 2, 64)
}
