package scenario

import (
	"fmt"
	"math"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/report"
	"lanesim/studies"
	"lanesim/units"
)

// Defaults lists the scenario's values that are defaults, a clause for each with its
// source or that it is assumed.
func (s *Scenario) Defaults() (list []string) {
	said := map[string]bool{}
	assumed := func(is bool, what, format string, values ...any) {
		if is && !said[what] {
			said[what] = true
			list = append(list, fmt.Sprintf(format, values...))
		}
	}
	short := report.Short
	usual := lane.DefaultFriction()
	for _, l := range s.Lanes {
		f, mixed := l.Friction, l.Friction.Law == lane.Mixed
		assumed(mixed && f.Film == usual.Film, "film", "friction of a full film %s: calibrated, so that a release published in 2025 (Ji, Hooper et al., AIP Advances 15, 045222) reaches the pocket on a lane of two zones", short(f.Film))
		assumed(mixed && f.Dry == usual.Dry, "dry", "friction of dry boards %s: the value most often quoted (Frohlich, Am. J. Phys. 72, 1170, 2004; from memory)", short(f.Dry))
		assumed(mixed && f.Entrained == usual.Entrained, "entrained", "share of the film drawn into the contact %s: assumed", short(f.Entrained))
		assumed(mixed && l.Roughness == lane.DefaultRoughness, "lane roughness", "roughness of the lane %s um: assumed", short(report.Micrometre.In(l.Roughness)))
		assumed(l.RollingResistance == 0, "rolling resistance", "rolling resistance 0: no published value was found")
	}
	for _, b := range s.Bowlers {
		assumed(b.FootToBall == studies.DefaultFootToBall, "foot to ball", "%s boards from the sliding foot to the ball: assumed", short(b.FootToBall))
	}
	memory := ball.DefaultFilmMemory()
	for _, b := range s.Balls {
		assumed(b.Roughness == ball.DefaultRoughness, "roughness", "roughness of the ball %s uin: assumed", short(b.Roughness/units.Microinch))
		assumed(b.ContactRadius == ball.DefaultContactRadius, "contact radius", "radius of the contact %s mm: assumed", short(report.Millimetre.In(b.ContactRadius)))
		c, soaks := b.Cover, "soaks up nothing"
		if !math.IsInf(c.SoakIn, 1) {
			soaks = "soaks up film within " + short(c.SoakIn) + " s"
		}
		assumed(c.Name != "", "cover "+c.Name, "%s cover: friction %s dry and %s on a full film, on lanes where a reactive one has %s and %s, and %s: assumed",
			c.Name, short(c.Dry), short(c.Film), short(ball.Reactive.Dry), short(ball.Reactive.Film), soaks)
		m := b.Memory
		assumed(!m.Off && m.PickUp == memory.PickUp && m.GiveBack == memory.GiveBack && m.ContactWidth == memory.ContactWidth,
			"memory", "oil on the ball: picks up %s and gives back %s of the film, track %s mm wide: assumed",
			short(m.PickUp), short(m.GiveBack), short(report.Millimetre.In(m.ContactWidth)))
	}
	for _, w := range s.Bowlers {
		assumed(w.PAP == ball.DefaultPAP(), "pap", "PAP %s in over and %s in up: common practice", short(report.Inch.In(w.PAP.Over)), short(report.Inch.In(w.PAP.Up)))
		assumed(w.Repeatability != nil && w.Repeatability.Level != "", "repeatability", "what a level of repeatability stands for: assumed")
	}
	return list
}
