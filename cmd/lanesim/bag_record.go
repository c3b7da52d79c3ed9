package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"slices"

	"lanesim/lane"
	"lanesim/studies"
)

// bagCellRecord is a ball on a lane as it is printed.
type bagCellRecord struct {
	Ball        string `json:"ball"`
	Lane        string `json:"lane"`
	PocketShare number `json:"pocket_share"`
	Laydown     number `json:"laydown"`
	Angle       number `json:"angle_deg"`
	Reaches     bool   `json:"reaches_pocket"`
}

// bagBallRecord is what a ball is worth.
type bagBallRecord struct {
	Ball   string `json:"ball"`
	Chosen bool   `json:"chosen"`
	Alone  number `json:"alone"`
	Adds   number `json:"adds"`
}

func (w *bagWork) cells() []bagCellRecord {
	records := []bagCellRecord{}
	for i, row := range w.choice.Cells {
		for j, c := range row {
			records = append(records, bagCellRecord{w.balls[i], w.states[j], number(c.PocketShare), number(c.Laydown), number(degrees(c.Angle)), c.Reaches})
		}
	}
	return records
}

// encode prints the choice as JSON, balls in the order of their rank.
func (w *bagWork) encode() ([]byte, error) {
	balls := []bagBallRecord{}
	for _, i := range w.ranking() {
		balls = append(balls, bagBallRecord{w.balls[i], slices.Contains(w.choice.Chosen, i), number(w.choice.Alone[i]), number(w.choice.Adds[i])})
	}
	return encodeLines(w.warnings, []resultMember{
		{"bowler", w.bowler},
		{"coverage", number(w.choice.Coverage)},
		{"balls", balls},
		{"cells", w.cells()},
	})
}

// encodeCSV prints a row for each ball and lane.
func (w *bagWork) encodeCSV() ([]byte, error) {
	var b bytes.Buffer
	c := csv.NewWriter(&b)
	if err := c.Write([]string{"ball", "lane", "pocket_share", "laydown", "angle_deg", "reaches_pocket"}); err != nil {
		return nil, err
	}
	for _, r := range w.cells() {
		row := []string{r.Ball, r.Lane, "", "", "", fmt.Sprint(r.Reaches)}
		if r.Reaches {
			for k, n := range []number{r.PocketShare, r.Laydown, r.Angle} {
				row[2+k] = csvCell(n)
			}
		}
		if err := c.Write(row); err != nil {
			return nil, err
		}
	}
	c.Flush()
	return b.Bytes(), c.Error()
}

// wornOil is a lane's oil after the bowler has thrown the balls on it in turn, each
// from its line to the pocket on the fresh lane where it has one.
func (p *program) wornOil(ctx context.Context, bag studies.Bag, o bagOptions) (*lane.OilMap, error) {
	w := studies.Wear{Lane: bag.Lanes[len(bag.Lanes)-1], Seed: o.seed, Settings: bag.Settings}
	for _, b := range bag.Balls {
		r, err := studies.AtPocket(w.Lane, b, bag.Release, studies.ForManyShots(bag.Settings))
		if err != nil {
			r = bag.Release
		}
		w.Setups = append(w.Setups, studies.Setup{Ball: b, Release: r, Repeatability: bag.Repeatability})
	}
	for k := range o.worn {
		w.Order = append(w.Order, k%len(w.Setups))
	}
	result, err := w.Run(ctx)
	return result.After, err
}
