package carry

import (
	"lanesim/pins"
	"lanesim/studies"
	"lanesim/units"
)

// rackRange is the range in which a constant of the pins may lie. Like the constants it
// is a judgement: no measured values are published.
type rackRange struct {
	value     func(*pins.Settings) *float64
	low, high float64
}

var rackRanges = [...]rackRange{
	{func(s *pins.Settings) *float64 { return &s.BallPinRestitution }, 0.60, 0.80},
	{func(s *pins.Settings) *float64 { return &s.PinPinRestitution }, 0.55, 0.75},
	{func(s *pins.Settings) *float64 { return &s.PinFloorRestitution }, 0.30, 0.50},
	{func(s *pins.Settings) *float64 { return &s.PinSideBoardRestitution }, 0.40, 0.60},
	{func(s *pins.Settings) *float64 { return &s.BallPinFriction }, 0.10, 0.20},
	{func(s *pins.Settings) *float64 { return &s.PinPinFriction }, 0.12, 0.30},
	{func(s *pins.Settings) *float64 { return &s.PinDeckFriction }, 0.17, 0.35},
	{func(s *pins.Settings) *float64 { return &s.PinSideBoardFriction }, 0.17, 0.35},
	{func(s *pins.Settings) *float64 { return &s.BallDeckFriction }, 0.12, 0.28},
	{func(s *pins.Settings) *float64 { return &s.SpotScatter }, units.Inch / 32, units.Inch / 8},
}

// RackSets returns n racks whose assumed constants fill their ranges evenly, each at the
// middle of one of n equal parts (a Latin hypercube), and give back and take what a blow
// presses into the deck in turn.
// Constants that a rack has otherwise than usual stay.
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
			*r.value(&sets[k]) = r.low + (r.high-r.low)*(float64(places[k])+0.5)/float64(n)
		}
	}
	return sets
}
