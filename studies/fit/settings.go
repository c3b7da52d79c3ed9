package fit

import (
	"lanesim/ball"
	"lanesim/lane"
)

// FrictionSetting is a setting of a friction law or of a cover.
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
	most float64 // upper limit, as in a scenario
}{
	{"film", func(c *contact) *float64 { return &c.Film }, 2},
	{"dry", func(c *contact) *float64 { return &c.Dry }, 2},
	{"entrained", func(c *contact) *float64 { return &c.Entrained }, 1},
	{"mu", func(c *contact) *float64 { return &c.Mu }, 2},
	{"cover.film", func(c *contact) *float64 { return &c.cover.Film }, 2},
	{"cover.dry", func(c *contact) *float64 { return &c.cover.Dry }, 2},
}

// contact is the friction of a lane and the cover of a ball on it.
type contact struct {
	lane.Friction
	cover ball.Cover
}

// leastFriction is the lower limit of the search for a setting: a track cannot distinguish it from no
// friction.
const leastFriction = 1e-4

// String returns the name of the setting's field in a scenario.
func (s FrictionSetting) String() string { return frictionSettings[s].name }

// OfCover reports whether the setting is one of a cover, not of a lane.
func (s FrictionSetting) OfCover() bool { return s == CoverFilm || s == CoverDry }

// Of returns the setting's value for the friction of a lane and a cover.
func (s FrictionSetting) Of(f lane.Friction, c ball.Cover) float64 {
	return *frictionSettings[s].of(&contact{f, c})
}

// CoverSettings lists the settings of a cover that tracks can determine, under the mixed law.
func CoverSettings() []FrictionSetting { return []FrictionSetting{CoverFilm, CoverDry} }

// FrictionSettings lists the settings of a law that tracks can determine; none for the law of zones.
func FrictionSettings(law lane.Law) []FrictionSetting {
	switch law {
	case lane.Mixed:
		return []FrictionSetting{FilmFriction, DryFriction, EntrainedShare}
	case lane.Constant:
		return []FrictionSetting{ConstantFriction}
	}
	return nil
}

// AllSettings lists all settings of a law and a cover that tracks can determine.
func AllSettings(law lane.Law) []FrictionSetting {
	if law == lane.Mixed {
		return append(FrictionSettings(law), CoverSettings()...)
	}
	return FrictionSettings(law)
}
