package fit

import (
	"lanesim/ball"
	"lanesim/lane"
)

// FrictionSetting is one of the numbers of a friction law, or of a cover.
type FrictionSetting int

// The settings: three of the mixed law, one of the constant law, two of a cover.
const (
	FilmFriction FrictionSetting = iota
	DryFriction
	EntrainedShare
	ConstantFriction
	CoverFilm
	CoverDry
)

var frictionSettings = []struct {
	name string
	of   func(*contact) *float64
	most float64 // as in a scenario
}{
	{"film", func(c *contact) *float64 { return &c.Film }, 2},
	{"dry", func(c *contact) *float64 { return &c.Dry }, 2},
	{"entrained", func(c *contact) *float64 { return &c.Entrained }, 1},
	{"mu", func(c *contact) *float64 { return &c.Mu }, 2},
	{"cover.film", func(c *contact) *float64 { return &c.cover.Film }, 2},
	{"cover.dry", func(c *contact) *float64 { return &c.cover.Dry }, 2},
}

// contact is the friction of a lane and the cover that meets it.
type contact struct {
	lane.Friction
	cover ball.Cover
}

// leastFriction is where the search for a setting ends below: a ball without
// friction, for all that a track can show.
const leastFriction = 1e-4

// String returns the setting's name as a scenario has it.
func (s FrictionSetting) String() string { return frictionSettings[s].name }

// OfCover reports whether the setting is one of a cover, not of a lane.
func (s FrictionSetting) OfCover() bool { return s == CoverFilm || s == CoverDry }

// Of returns the setting's value on a lane with the friction, for a ball with
// the cover.
func (s FrictionSetting) Of(f lane.Friction, c ball.Cover) float64 {
	return *frictionSettings[s].of(&contact{f, c})
}

// CoverSettings lists the settings of a cover that tracks can show, under the
// mixed law.
func CoverSettings() []FrictionSetting { return []FrictionSetting{CoverFilm, CoverDry} }

// FrictionSettings lists the settings of a law that tracks can show; none of the
// law of zones.
func FrictionSettings(law lane.Law) []FrictionSetting {
	switch law {
	case lane.Mixed:
		return []FrictionSetting{FilmFriction, DryFriction, EntrainedShare}
	case lane.Constant:
		return []FrictionSetting{ConstantFriction}
	}
	return nil
}

// AllSettings lists all settings that tracks can show under a law.
func AllSettings(law lane.Law) []FrictionSetting {
	if law == lane.Mixed {
		return append(FrictionSettings(law), CoverSettings()...)
	}
	return FrictionSettings(law)
}
