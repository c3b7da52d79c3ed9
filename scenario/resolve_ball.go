package scenario

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"lanesim/ball"
	"lanesim/units"
)

// shown writes a length for a message, in inches.
func shown(v float64) string { return fmt.Sprintf("%.4g in", v/units.Inch) }

// The numbers of a ball and its parts with their keys.
func ballNumbers(s *ball.Specification) (inertia, surface, contact quantities) {
	return quantities{{"weight", &s.Weight}, {"diameter", &s.Diameter}, {"rg", &s.RG},
			{"differential", &s.Differential}, {"intermediate_differential", &s.IntermediateDifferential}},
		quantities{{"roughness", &s.Roughness}, {"games_since_finish", &s.GamesSinceFinish}},
		quantities{{"contact_radius", &s.ContactRadius}}
}

func wearNumbers(w *ball.FinishWear) quantities {
	return quantities{{"toward", &w.Toward}, {"games", &w.Games}}
}

func memoryNumbers(m *ball.FilmMemory) quantities {
	return quantities{{"pick_up", &m.PickUp}, {"give_back", &m.GiveBack}, {"contact_width", &m.ContactWidth}}
}

func layoutNumbers(l *ball.Layout) quantities {
	return quantities{{"drilling_angle", &l.DrillingAngle}, {"pin_to_pap", &l.PinToPAP}, {"val_angle", &l.VALAngle}}
}

func staticNumbers(s *ball.StaticWeights) quantities {
	return quantities{{"side", &s.Side}, {"finger_thumb", &s.FingerThumb}, {"top", &s.Top}}
}

// ball resolves a ball. Values that are bad stay zero.
func (r *reader) ball(v *value) (ball.Specification, ball.Grip) {
	s := ball.Specification{Memory: memory(v.field("film_memory"))}
	inertia, surface, contact := ballNumbers(&s)
	slices.Concat(inertia, surface, contact).read(v)
	if v.fields == nil {
		return s, ball.Grip{}
	}
	r.grossWeight(v, &s)
	r.inertia(v, s)
	s.Cover = r.cover(v.field(coverKey))
	r.soakInTimes(v, s.Cover)
	s.Roughness = r.roughness(v)
	wearNumbers(&s.FinishWear).read(v.field("finish_wear"))
	r.measured(v, v.field("film_memory"), ballMarks(&s.Measured))
	if v.has("layout") {
		s.Layout = r.layout(v)
	} else if v.good("differential") && s.Differential > 0 {
		r.missing(v, "layout", "give the layout of pin and PSA (it may be left out only with a differential of 0)")
	}
	if v.has("balance") {
		balance(v.field("balance"), &s)
	}
	if v.has("box") {
		r.box(v, &s)
	}
	return s, r.grip(v.field("grip"))
}

// inertia checks the mass properties against each other.
func (r *reader) inertia(v *value, s ball.Specification) {
	radius := s.Diameter / 2
	high := s.RG + s.Differential
	wrong := func(key, format string, values ...any) { r.complain(v, v.field(key), fmt.Sprintf(format, values...)) }
	if v.good("differential", "intermediate_differential") && s.IntermediateDifferential > s.Differential {
		r.fail(v.field("intermediate_differential"), fmt.Sprintf("%s is above the differential of %s", shown(s.IntermediateDifferential), shown(s.Differential)), "")
	}
	if v.good("diameter", "contact_radius") && s.ContactRadius >= radius {
		wrong("contact_radius", "%s is not below the ball's radius of %s", shown(s.ContactRadius), shown(radius))
	}
	switch {
	case !v.good("rg", "diameter"):
	case s.RG >= radius:
		wrong("rg", "%s is not below the ball's radius of %s", shown(s.RG), shown(radius))
	case s.RG < ball.LeastRG*radius:
		wrong("rg", "%s is below a fifth of the ball's radius of %s, the least allowed", shown(s.RG), shown(radius))
	case !v.good("differential"):
	case high >= radius:
		wrong("differential", "makes a high RG of %s, which is not below the ball's radius of %s", shown(high), shown(radius))
	case v.good("weight", "intermediate_differential"):
		s.Layout = &ball.Layout{}
		if _, err := s.Prepare(ball.DefaultPAP(), ball.Right); err != nil {
			wrong("differential", "%s", strings.TrimPrefix(err.Error(), "ball: "))
		}
	}
}

// roughness resolves the cover's Ra, given directly or by a finish.
func (r *reader) roughness(v *value) float64 {
	if !v.has("finish") {
		return v.field("roughness").number
	}
	finish := v.field("finish")
	if finish.bad {
		return 0
	}
	ra, ok := ball.RoughnessOfFinish(finish.word)
	if !ok {
		ra, ok = ball.RoughnessOfGrit(finish.number)
	}
	if !ok {
		r.fail(finish, "no roughness is known for "+finish.text, "give the Ra, for example  roughness: 25 uin")
		return 0
	}
	r.remark(finish, "%s is taken as an Ra of %.3g uin, which is assumed: no published table was found.", finish.text, ra/units.Microinch)
	return ra
}

// layout resolves a layout, nil after a problem.
func (r *reader) layout(v *value) *ball.Layout {
	l := v.field("layout")
	if !l.sound() || !v.good("diameter") {
		return nil
	}
	distance, radius := l.field("pin_to_pap"), v.field("diameter").number/2
	if half := math.Pi * radius; distance.number > half {
		r.fail(distance, fmt.Sprintf("%s is more than half the ball's circumference, %s", distance.text, shown(half)), "")
		return nil
	}
	if l.has("drilling_angle") {
		var layout ball.Layout
		layoutNumbers(&layout).read(l)
		r.unusual(l, layout, radius)
		return &layout
	}
	distances := ball.DistanceLayout{Below: l.field("pin").word == "below"}
	quantities{{"pin_to_pap", &distances.PinToPAP}, {"psa_to_pap", &distances.PSAToPAP}, {"pin_to_val", &distances.PinToVAL}}.read(l)
	layout, err := distances.Layout(radius)
	if wrong := (*ball.LayoutError)(nil); errors.As(err, &wrong) {
		r.fail(l.field(wrong.Field), wrong.Rule, "")
		return nil
	} else if err != nil {
		r.fail(l, err.Error(), "")
		return nil
	}
	if caution := distances.Caution(radius); caution != "" {
		r.remark(l, "%s.", caution)
	}
	return &layout
}

// balance resolves the mass centre.
func balance(v *value, s *ball.Specification) {
	switch {
	case !v.sound():
	case v.has("offset"):
		for i, item := range v.field("offset").items {
			s.Offset[i] = item.number
		}
	default:
		s.Static = &ball.StaticWeights{}
		staticNumbers(s.Static).read(v)
	}
}

// memory resolves the film memory.
func memory(v *value) ball.FilmMemory {
	m := defaultBall.Memory
	switch {
	case v.bad:
	case v.form == nil:
		m.Off = v.word == "off"
	default:
		m = ball.FilmMemory{SoakIn: v.field("soak_in").soakIn()}
		memoryNumbers(&m).read(v)
	}
	return m
}
