package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"math"
	"slices"

	"lanesim/lane"
	"lanesim/studies"
)

// bagCellRecord is a ball on a lane as it is printed; null where no line reaches the
// pocket.
type bagCellRecord struct {
	Ball         string    `json:"ball"`
	Lane         string    `json:"lane"`
	Pocket       number    `json:"pocket_share"`
	PocketWithin [2]number `json:"pocket_interval"`
	Good         number    `json:"good_angle_share"`
	GoodWithin   [2]number `json:"good_angle_interval"`
	Laydown      number    `json:"laydown"`
	Angle        number    `json:"angle_deg"`
	Reaches      bool      `json:"reaches_pocket"`
}

// bagBallRecord is what a ball is worth.
type bagBallRecord struct {
	Ball        string    `json:"ball"`
	Chosen      bool      `json:"chosen"`
	Alone       number    `json:"alone"`
	AloneWithin [2]number `json:"alone_interval"`
	Adds        number    `json:"adds"`
	AddsWithin  [2]number `json:"adds_interval"`
}

func (w *bagWork) cells() []bagCellRecord {
	records := []bagCellRecord{}
	for i, row := range w.choice.Cells {
		for j, c := range row {
			none := number(math.NaN())
			r := bagCellRecord{w.balls[i], w.states[j], none, [2]number{none, none}, none, [2]number{none, none}, none, none, c.Reaches}
			if c.Reaches {
				pocket, good := c.Count(studies.ByPocketShare), c.Count(studies.ByGoodShare)
				r.Pocket, r.PocketWithin = number(pocket.Share()), recordInterval(studies.WilsonInterval(pocket))
				r.Good, r.GoodWithin = number(good.Share()), recordInterval(studies.WilsonInterval(good))
				r.Laydown, r.Angle = number(c.Laydown), number(degrees(c.Angle))
			}
			records = append(records, r)
		}
	}
	return records
}

// encode prints the choice as JSON, balls in the order of their rank.
func (w *bagWork) encode() ([]byte, error) {
	balls := []bagBallRecord{}
	for _, i := range w.ranking() {
		alone, adds := w.choice.Alone[i], w.choice.Adds[i]
		balls = append(balls, bagBallRecord{w.balls[i], slices.Contains(w.choice.Chosen, i),
			number(alone.Value), recordInterval(alone.Interval), number(adds.Value), recordInterval(adds.Interval)})
	}
	return encodeLines(w.warnings, []resultMember{
		{"bowler", w.bowler},
		{"by", w.choice.By},
		{"shots", w.study.Shots},
		{"coverage", number(w.choice.Coverage.Value)},
		{"coverage_interval", recordInterval(w.choice.Coverage.Interval)},
		{"balls", balls},
		{"cells", w.cells()},
		{"assumed_sets", w.tried},
	})
}

// encodeCSV prints a row for each ball and lane.
func (w *bagWork) encodeCSV() ([]byte, error) {
	var b bytes.Buffer
	c := csv.NewWriter(&b)
	if err := c.Write([]string{"ball", "lane", "pocket_share", "pocket_interval_low", "pocket_interval_high", "good_angle_share",
		"good_angle_interval_low", "good_angle_interval_high", "laydown", "angle_deg", "reaches_pocket"}); err != nil {
		return nil, err
	}
	for _, r := range w.cells() {
		row := []string{r.Ball, r.Lane}
		for _, n := range []number{r.Pocket, r.PocketWithin[0], r.PocketWithin[1], r.Good, r.GoodWithin[0], r.GoodWithin[1], r.Laydown, r.Angle} {
			row = append(row, csvCell(n))
		}
		if err := c.Write(append(row, fmt.Sprint(r.Reaches))); err != nil {
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
