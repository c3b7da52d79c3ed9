package scenario

import "lanesim/pins"

// rackField is a constant of the pins.
type rackField struct {
	key, meaning string
	of           func(*pins.Settings) *float64
	dimension    *dimension // nil for a bare number
	unit         string
	least, most  string
}

var rackFields = []rackField{
	{"ball_pin_restitution", "Share of the closing speed that comes back between ball and pin", func(s *pins.Settings) *float64 { return &s.BallPinRestitution }, nil, "", "0", "1"},
	{"pin_pin_restitution", "The same between two pins", func(s *pins.Settings) *float64 { return &s.PinPinRestitution }, nil, "", "0", "1"},
	{"pin_deck_restitution", "The same between pin and deck or gutter", func(s *pins.Settings) *float64 { return &s.PinFloorRestitution }, nil, "", "0", "1"},
	{"side_board_restitution", "The same between pin and side board", func(s *pins.Settings) *float64 { return &s.PinSideBoardRestitution }, nil, "", "0", "1"},
	{"ball_pin_friction", "Coefficient of friction of ball and pin", func(s *pins.Settings) *float64 { return &s.BallPinFriction }, nil, "", "0", "2"},
	{"pin_pin_friction", "The same of two pins", func(s *pins.Settings) *float64 { return &s.PinPinFriction }, nil, "", "0", "2"},
	{"pin_deck_friction", "The same of pin and deck", func(s *pins.Settings) *float64 { return &s.PinDeckFriction }, nil, "", "0", "2"},
	{"side_board_friction", "The same of pin and side board", func(s *pins.Settings) *float64 { return &s.PinSideBoardFriction }, nil, "", "0", "2"},
	{"ball_deck_friction", "The same of ball and deck", func(s *pins.Settings) *float64 { return &s.BallDeckFriction }, nil, "", "0", "2"},
	{"pin_weight", "Weight of a pin", func(s *pins.Settings) *float64 { return &s.Mass }, weight, "oz", "20 oz", "100 oz"},
	{"pin_mass_centre", "Height of a pin's mass centre", func(s *pins.Settings) *float64 { return &s.MassCentre }, length, "in", "4 in", "8 in"},
	{"pin_rg_across", "Radius of gyration of a pin about an axis across it", func(s *pins.Settings) *float64 { return &s.AcrossGyration }, length, "in", "2 in", "6 in"},
	{"pin_rg_along", "Radius of gyration of a pin about its own axis", func(s *pins.Settings) *float64 { return &s.AlongGyration }, length, "in", "0.5 in", "2.4 in"},
	{"spot_scatter", "Standard deviation of a pin's place, each way", func(s *pins.Settings) *float64 { return &s.SpotScatter }, length, "in", "0 in", "0.5 in"},
	{"weight_scatter", "Standard deviation of a pin's weight", func(s *pins.Settings) *float64 { return &s.MassScatter }, weight, "oz", "0 oz", "3 oz"},
	{"mass_centre_scatter", "Standard deviation of the height of its mass centre", func(s *pins.Settings) *float64 { return &s.MassCentreScatter }, length, "in", "0 in", "0.5 in"},
	{"restitution_scatter", "Standard deviation of its restitution, as a share", func(s *pins.Settings) *float64 { return &s.RestitutionScatter }, nil, "", "0", "0.2"},
	{"friction_scatter", "Standard deviation of its friction, as a share", func(s *pins.Settings) *float64 { return &s.FrictionScatter }, nil, "", "0", "0.5"},
}

// reboundKey and its words say what becomes of what a blow presses into the deck.
const (
	reboundKey                    = "floor_rebound"
	reboundReturned, reboundTaken = "returned", "taken"
)

var usualRack = pins.Settings{}.WithDefaults()

// write prints a constant as a scenario has it.
func (f rackField) write(v float64) string {
	if f.dimension == nil {
		return formatBare(v)
	}
	return f.dimension.format(v, f.unit)
}

// rackShape are the constants of the pins.
var rackShape = func() *shape {
	var fields []field
	usual := usualRack
	for _, f := range rackFields {
		s := bare(atLeast(f.least), atMost(f.most))
		if f.dimension != nil {
			s = quantity(f.dimension, f.unit, atLeast(f.least), atMost(f.most))
		}
		fields = append(fields, field{key: f.key, meaning: f.meaning, shape: s, fallback: f.write(*f.of(&usual)), assumed: true})
	}
	fields = append(fields, field{key: reboundKey, meaning: "What becomes of the impulse that the deck takes where a blow presses a pin into it: `returned` by the restitution of pin and deck, or `taken`; it moves shares of strikes by about nine points",
		shape: words(reboundReturned, reboundTaken), fallback: reboundReturned, assumed: true})
	return record("the pins", fields)
}()

// rack resolves the constants of the pins; 0 is none of it.
func rack(v *value) pins.Settings {
	var s pins.Settings
	if !v.sound() {
		return s
	}
	for _, f := range rackFields {
		to := f.of(&s)
		if *to = v.field(f.key).number; *to == 0 {
			*to = -1
		}
	}
	if v.field(reboundKey).word == reboundTaken {
		s.Rebound = pins.ReboundTaken
	}
	return s
}

// rackInputs writes the constants that are not the usual ones.
func rackInputs(s pins.Settings) object {
	var o object
	full, usual := s.WithDefaults(), usualRack
	for _, f := range rackFields {
		v, u := *f.of(&full), *f.of(&usual)
		if f.write(v) == f.write(u) {
			continue
		}
		if f.dimension == nil {
			o = o.with(f.key, bareNumber(v))
		} else {
			o = o.with(f.key, f.write(v))
		}
	}
	if s.Rebound == pins.ReboundTaken {
		o = o.with(reboundKey, reboundTaken)
	}
	return o
}

// UsualRack reports whether the pins have the constants that are assumed by default.
func (s *Scenario) UsualRack() bool { return len(rackInputs(s.Rack)) == 0 }

// RackValues lists the constants of the pins as a scenario has them, "key: value", in
// the order of the reference. All are assumed.
func (s *Scenario) RackValues() []string {
	full := s.Rack.WithDefaults()
	var list []string
	for _, f := range rackFields {
		list = append(list, f.key+": "+f.write(*f.of(&full)))
	}
	word := reboundReturned
	if s.Rack.Rebound == pins.ReboundTaken {
		word = reboundTaken
	}
	return append(list, reboundKey+": "+word)
}
