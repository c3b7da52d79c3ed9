package scenario

import (
	"fmt"

	"lanesim/internal/input"
	"lanesim/pins"
	"lanesim/report"
)

// rackNumbers are the constants of the pins.
func rackNumbers(s *pins.Settings) quantities {
	return quantities{
		{"ball_pin_restitution", &s.BallPinRestitution}, {"pin_pin_restitution", &s.PinPinRestitution},
		{"pin_deck_restitution", &s.PinFloorRestitution}, {"side_board_restitution", &s.PinSideBoardRestitution},
		{"ball_pin_friction", &s.BallPinFriction}, {"pin_pin_friction", &s.PinPinFriction}, {"pin_deck_friction", &s.PinDeckFriction},
		{"side_board_friction", &s.PinSideBoardFriction}, {"ball_deck_friction", &s.BallDeckFriction},
		{"pin_weight", &s.Mass}, {"pin_mass_centre", &s.MassCentre}, {"pin_rg_across", &s.AcrossGyration}, {"pin_rg_along", &s.AlongGyration},
		{"spot_scatter", &s.SpotScatter}, {"weight_scatter", &s.MassScatter}, {"mass_centre_scatter", &s.MassCentreScatter},
		{"restitution_scatter", &s.RestitutionScatter}, {"friction_scatter", &s.FrictionScatter},
	}
}

// reboundKey and its words say whether the deck gives back the impulse of a blow.
const (
	reboundKey                    = "floor_rebound"
	reboundReturned, reboundTaken = "returned", "taken"
)

var (
	usualRack   = pins.Settings{}.WithDefaults()
	pinFriction = bare(atLeast("0"), atMost("2"))
	halfAnInch  = quantity(length, "in", atLeast("0 in"), atMost("0.5 in"))
)

// rackShape are the constants of the pins.
var rackShape = record("the pins", allAssumed(rackNumbers(&usualRack).usual(
	field{key: "ball_pin_restitution", meaning: "Restitution of ball and pin: separating over closing speed", shape: share},
	field{key: "pin_pin_restitution", meaning: "The same between two pins", shape: share},
	field{key: "pin_deck_restitution", meaning: "The same between pin and deck or gutter", shape: share},
	field{key: "side_board_restitution", meaning: "The same between pin and side board", shape: share},
	field{key: "ball_pin_friction", meaning: "Coefficient of friction of ball and pin", shape: pinFriction},
	field{key: "pin_pin_friction", meaning: "The same of two pins", shape: pinFriction},
	field{key: "pin_deck_friction", meaning: "The same of pin and deck", shape: pinFriction},
	field{key: "side_board_friction", meaning: "The same of pin and side board", shape: pinFriction},
	field{key: "ball_deck_friction", meaning: "The same of ball and deck", shape: pinFriction},
	field{key: "pin_weight", meaning: "Weight of a pin", shape: quantity(weight, "oz", atLeast("20 oz"), atMost("100 oz"))},
	field{key: "pin_mass_centre", meaning: "Height of a pin's mass centre", shape: quantity(length, "in", atLeast("4 in"), atMost("8 in"))},
	field{key: "pin_rg_across", meaning: "Radius of gyration of a pin about an axis across it", shape: quantity(length, "in", atLeast("2 in"), atMost("6 in"))},
	field{key: "pin_rg_along", meaning: "Radius of gyration of a pin about its own axis", shape: quantity(length, "in", atLeast("0.5 in"), atMost("2.4 in"))},
	field{key: "spot_scatter", meaning: "Standard deviation of a pin's place, each way", shape: halfAnInch},
	field{key: "weight_scatter", meaning: "Standard deviation of a pin's weight", shape: quantity(weight, "oz", atLeast("0 oz"), atMost("3 oz"))},
	field{key: "mass_centre_scatter", meaning: "Standard deviation of the height of its mass centre", shape: halfAnInch},
	field{key: "restitution_scatter", meaning: "Standard deviation of its restitution, as a share", shape: bare(atLeast("0"), atMost("0.2"))},
	field{key: "friction_scatter", meaning: "Standard deviation of its friction, as a share", shape: bare(atLeast("0"), atMost("0.5"))},
	field{key: reboundKey, meaning: "Whether the deck gives back the impulse with which a blow presses a pin onto it: `returned` by the restitution of pin and deck, or `taken`; it changes shares of strikes by about nine percentage points",
		shape: words(reboundReturned, reboundTaken), fallback: reboundReturned},
)))

// rack resolves the constants of the pins. A written 0 is stored as −1, since 0 means the
// default in [pins.Settings].
func rack(v *value) pins.Settings {
	var s pins.Settings
	if !v.sound() {
		return s
	}
	numbers := rackNumbers(&s)
	numbers.read(v)
	for _, number := range numbers {
		if *number.of == 0 {
			*number.of = -1
		}
	}
	if v.field(reboundKey).word == reboundTaken {
		s.Rebound = pins.ReboundTaken
	}
	return s
}

// rebound returns the word for a rebound of the deck.
func rebound(s pins.Settings) string {
	if s.Rebound == pins.ReboundTaken {
		return reboundTaken
	}
	return reboundReturned
}

// rackInputs writes the constants that are not the defaults.
func rackInputs(s pins.Settings) report.Object {
	var o report.Object
	full := s.WithDefaults()
	usual := rackNumbers(&usualRack).write(nil, rackShape).With(reboundKey, reboundReturned)
	for i, m := range rackNumbers(&full).write(nil, rackShape).With(reboundKey, rebound(s)) {
		if m != usual[i] {
			o = append(o, m)
		}
	}
	return o
}

// UsualRack reports whether the pins have the default constants.
func (s *Scenario) UsualRack() bool { return len(rackInputs(s.Rack)) == 0 }

// RackValues lists the constants of the pins as in a scenario, "key: value", in the order
// of the reference. All are assumed.
func (s *Scenario) RackValues() []string {
	full := s.Rack.WithDefaults()
	all := rackNumbers(&full).write(nil, rackShape).With(reboundKey, rebound(s.Rack))
	return input.Each(all, func(m report.Member) string { return fmt.Sprint(m.Key, ": ", m.Value) })
}
