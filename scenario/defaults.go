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

// Defaults says which of the scenario's values are defaults that were assumed or taken
// from elsewhere, a clause for each.
func (s *Scenario) Defaults() (list []string) {
	said := map[string]bool{}
	assumed := func(what, format string, values ...any) {
		if !said[what] {
			said[what] = true
			list = append(list, fmt.Sprintf(format, values...))
		}
	}
	usual := lane.DefaultFriction()
	for _, l := range s.Lanes {
		if l.Friction.Law == lane.Mixed {
			if l.Friction.Film == usual.Film {
				assumed("film", "friction of a full film %s: calibrated, so that a release published in 2025 (Ji, Hooper et al., AIP Advances 15, 045222) reaches the pocket on a lane of two zones", report.Short(usual.Film))
			}
			if l.Friction.Dry == usual.Dry {
				assumed("dry", "friction of dry boards %s: the value most often quoted (Frohlich, Am. J. Phys. 72, 1170, 2004; from memory)", report.Short(usual.Dry))
			}
			if l.Friction.Entrained == usual.Entrained {
				assumed("entrained", "share of the film drawn into the contact %s: assumed", report.Short(usual.Entrained))
			}
			if l.Roughness == lane.DefaultRoughness {
				assumed("lane roughness", "roughness of the lane %s um: assumed", report.Short(report.Micrometre.In(l.Roughness)))
			}
		}
		if l.RollingResistance == 0 {
			assumed("rolling resistance", "rolling resistance 0: no published value was found")
		}
	}
	for _, b := range s.Bowlers {
		if b.FootToBall == studies.DefaultFootToBall {
			assumed("foot to ball", "%s boards from the sliding foot to the ball: assumed", report.Short(b.FootToBall))
		}
	}
	memory := ball.DefaultFilmMemory()
	for _, b := range s.Balls {
		if b.Roughness == ball.DefaultRoughness {
			assumed("roughness", "roughness of the ball %s uin: assumed", report.Short(b.Roughness/units.Microinch))
		}
		if b.ContactRadius == ball.DefaultContactRadius {
			assumed("contact radius", "radius of the contact %s mm: assumed", report.Short(report.Millimetre.In(b.ContactRadius)))
		}
		if c := b.Cover; c.Name != "" {
			soaks := "soaks up nothing"
			if !math.IsInf(c.SoakIn, 1) {
				soaks = "soaks up film within " + report.Short(c.SoakIn) + " s"
			}
			assumed("cover "+c.Name, "%s cover: friction %s dry and %s on a full film, on lanes where a reactive one has %s and %s, and %s: assumed",
				c.Name, report.Short(c.Dry), report.Short(c.Film), report.Short(ball.Reactive.Dry), report.Short(ball.Reactive.Film), soaks)
		}
		if m := b.Memory; !m.Off && m.PickUp == memory.PickUp && m.GiveBack == memory.GiveBack && m.ContactWidth == memory.ContactWidth {
			assumed("memory", "oil on the ball: picks up %s and gives back %s of the film, track %s mm wide: assumed",
				report.Short(m.PickUp), report.Short(m.GiveBack), report.Short(report.Millimetre.In(m.ContactWidth)))
		}
	}
	for _, w := range s.Bowlers {
		if w.PAP == ball.DefaultPAP() {
			assumed("pap", "PAP %s in over and %s in up: common practice", report.Short(report.Inch.In(w.PAP.Over)), report.Short(report.Inch.In(w.PAP.Up)))
		}
		if w.Repeatability != nil && w.Repeatability.Level != "" {
			assumed("repeatability", "what a level of repeatability stands for: assumed")
		}
	}
	return list
}
