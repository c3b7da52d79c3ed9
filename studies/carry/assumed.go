package carry

import (
	"lanesim/pins"
	"lanesim/studies"
	"lanesim/units"
)

// RackRange is the range, in SI, in which a constant of the pins may lie. Like the constants it is assumed:
// no measured values are published.
type RackRange struct {
	Key       string
	Low, High float64
}

// RackRanges lists the ranges with which conclusions are tried.
func RackRanges() []RackRange {
	var list []RackRange
	for _, r := range rackRanges {
		list = append(list, r.RackRange)
	}
	return list
}

var rackRanges = [...]struct {
	RackRange
	value func(*pins.Settings) *float64
}{
	{RackRange{"ball_pin_restitution", 0.60, 0.80}, func(s *pins.Settings) *float64 { return &s.BallPinRestitution }},
	{RackRange{"pin_pin_restitution", 0.55, 0.75}, func(s *pins.Settings) *float64 { return &s.PinPinRestitution }},
	{RackRange{"pin_floor_restitution", 0.30, 0.50}, func(s *pins.Settings) *float64 { return &s.PinFloorRestitution }},
	{RackRange{"pin_side_board_restitution", 0.40, 0.60}, func(s *pins.Settings) *float64 { return &s.PinSideBoardRestitution }},
	{RackRange{"ball_pin_friction", 0.10, 0.20}, func(s *pins.Settings) *float64 { return &s.BallPinFriction }},
	{RackRange{"pin_pin_friction", 0.12, 0.30}, func(s *pins.Settings) *float64 { return &s.PinPinFriction }},
	{RackRange{"pin_deck_friction", 0.17, 0.35}, func(s *pins.Settings) *float64 { return &s.PinDeckFriction }},
	{RackRange{"pin_side_board_friction", 0.17, 0.35}, func(s *pins.Settings) *float64 { return &s.PinSideBoardFriction }},
	{RackRange{"ball_deck_friction", 0.12, 0.28}, func(s *pins.Settings) *float64 { return &s.BallDeckFriction }},
	{RackRange{"spot_scatter", units.Inch / 32, units.Inch / 8}, func(s *pins.Settings) *float64 { return &s.SpotScatter }},
}

// RackSets returns n racks whose assumed constants fill their ranges evenly, each at the middle of one of n
// equal parts (a Latin hypercube). In turn they return the momentum of a blow that presses a pin into the
// deck, or absorb it. Constants that differ from the defaults stay.
func RackSets(rack pins.Settings, n int) []pins.Settings {
	sets := make([]pins.Settings, n)
	for k := range sets {
		sets[k] = rack
		if rack.Rebound == pins.ReboundReturned && k%2 == 1 {
			sets[k].Rebound = pins.ReboundTaken
		}
	}
	own, usual := rack.WithDefaults(), (pins.Settings{}).WithDefaults()
	for j, r := range rackRanges {
		if *r.value(&own) != *r.value(&usual) {
			continue
		}
		places := studies.DimensionDraws(1, len(studies.AssumedValues())+j).Perm(n)
		for k := range sets {
			*r.value(&sets[k]) = r.Low + (r.High-r.Low)*(float64(places[k])+0.5)/float64(n)
		}
	}
	return sets
}
