package main

import (
	"math"
	"strconv"
	"strings"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/scenario"
)

// tellAssumptions says, for a verbose program, which of a scenario's values are
// defaults that were assumed or taken from elsewhere.
func (p *program) tellAssumptions(s *scenario.Scenario) {
	if !p.common.verbose {
		return
	}
	short := func(v float64) string { return strconv.FormatFloat(v, 'g', digits, 64) }
	told := map[string]bool{}
	tell := func(what, format string, values ...any) {
		if !told[what] {
			told[what] = true
			p.say("default: "+format, values...)
		}
	}
	usual := lane.DefaultFriction()
	for _, l := range s.Lanes {
		if l.Friction.Law == lane.Mixed {
			if l.Friction.Film == usual.Film {
				tell("film", "friction of a full film %s: calibrated, so that a release published in 2025 (Ji, Hooper et al., AIP Advances 15, 045222) reaches the pocket on a lane of two zones", short(usual.Film))
			}
			if l.Friction.Dry == usual.Dry {
				tell("dry", "friction of dry boards %s: the value most often quoted (Frohlich, Am. J. Phys. 72, 1170, 2004; from memory)", short(usual.Dry))
			}
			if l.Friction.Entrained == usual.Entrained {
				tell("entrained", "share of the film drawn into the contact %s: assumed", short(usual.Entrained))
			}
			if l.Roughness == lane.DefaultRoughness {
				tell("lane roughness", "roughness of the lane %s um: assumed", short(micrometres(l.Roughness)))
			}
		}
		if l.RollingResistance == 0 {
			tell("rolling resistance", "rolling resistance 0: no published value was found")
		}
	}
	memory := ball.DefaultFilmMemory()
	for _, b := range s.Balls {
		if b.Roughness == ball.DefaultRoughness {
			tell("roughness", "roughness of the ball %s uin: assumed", short(microinches(b.Roughness)))
		}
		if b.ContactRadius == ball.DefaultContactRadius {
			tell("contact radius", "radius of the contact %s mm: assumed", short(millimetres(b.ContactRadius)))
		}
		if c := b.Cover; c.Name != "" {
			soaks := "soaks up nothing"
			if !math.IsInf(c.SoakIn, 1) {
				soaks = "soaks up film within " + short(c.SoakIn) + " s"
			}
			tell("cover "+c.Name, "%s cover: friction %s dry and %s on a full film, on lanes where a reactive one has %s and %s, and %s: assumed",
				c.Name, short(c.Dry), short(c.Film), short(ball.Reactive.Dry), short(ball.Reactive.Film), soaks)
		}
		if m := b.Memory; !m.Off && m.PickUp == memory.PickUp && m.GiveBack == memory.GiveBack && m.ContactWidth == memory.ContactWidth {
			tell("memory", "oil on the ball: picks up %s and gives back %s of the film, track %s mm wide: assumed",
				short(m.PickUp), short(m.GiveBack), short(millimetres(m.ContactWidth)))
		}
	}
	for _, w := range s.Bowlers {
		if w.PAP == ball.DefaultPAP() {
			tell("pap", "PAP %s in over and %s in up: common practice", short(inches(w.PAP.Over)), short(inches(w.PAP.Up)))
		}
		if w.Repeatability != nil && w.Repeatability.Level != "" {
			tell("repeatability", "what a level of repeatability stands for: assumed")
		}
	}
}

// tellWork says, for a verbose program, what the shots took.
func (p *program) tellWork(shots []thrown) {
	if !p.common.verbose {
		return
	}
	for _, t := range shots {
		name := strings.Join([]string{t.bowler, t.ball, t.lane}, ", ")
		st := t.shot.Stats
		p.say("%s: %d steps, %d rejected, %d evaluations", name, st.Steps, st.Rejected, st.Evaluations)
		o := t.shot.Summary.Oil
		p.say("%s: oil in mL: lane %s, ball %s, soaked in %s, in all %.2g", name,
			figure(millilitres(o.Lane)), figure(millilitres(o.Ball)), figure(millilitres(o.Soaked)),
			math.Abs(millilitres(o.Lane+o.Ball+o.Soaked)))
	}
}
