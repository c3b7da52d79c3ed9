package scenario

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"lanesim/ball"
	"lanesim/units"
)

// shown writes a length for a message, in inches.
func shown(v float64) string { return fmt.Sprintf("%.4g in", v/units.Inch) }

// ball resolves a ball. Values that are bad stay zero.
func (r *reader) ball(v *value) (ball.Specification, ball.Grip) {
	s := ball.Specification{
		Weight:                   v.field("weight").number,
		Diameter:                 v.field("diameter").number,
		RG:                       v.field("rg").number,
		Differential:             v.field("differential").number,
		IntermediateDifferential: v.field("intermediate_differential").number,
		GamesSinceFinish:         v.field("games_since_finish").number,
		ContactRadius:            v.field("contact_radius").number,
		Memory:                   memory(v.field("film_memory")),
	}
	if v.fields == nil {
		return s, ball.Grip{}
	}
	r.grossWeight(v, &s)
	r.inertia(v, s)
	s.Cover = r.cover(v.field(coverKey))
	r.soakInTimes(v, s.Cover)
	s.Roughness = r.roughness(v)
	wear := v.field("finish_wear")
	s.FinishWear = ball.FinishWear{Toward: wear.field("toward").number, Games: wear.field("games").number}
	marked := r.measured(v, v.field("film_memory"))
	s.Measured = ball.Measured{PickUp: marked["pick_up"], GiveBack: marked["give_back"],
		ContactWidth: marked["contact_width"], ContactRadius: marked["contact_radius"]}
	if v.has("layout") {
		s.Layout = r.layout(v)
	} else if v.good("differential") && s.Differential > 0 {
		r.add(v.at, join(v.path, "layout"), "is missing: the moments differ, so a layout must say where pin and PSA lie "+
			"(only with a differential of 0 can it be left out)", "")
	}
	if v.has("balance") {
		r.balance(v.field("balance"), &s)
	}
	if v.has("box") {
		r.box(v, &s)
	}
	return s, r.grip(v.field("grip"))
}

// inertia checks the mass properties against each other.
func (r *reader) inertia(v *value, s ball.Specification) {
	rg, differential, intermediate := v.field("rg"), v.field("differential"), v.field("intermediate_differential")
	if v.good("differential", "intermediate_differential") && s.IntermediateDifferential > s.Differential {
		r.fail(intermediate, fmt.Sprintf("%s is above the differential of %s", shown(s.IntermediateDifferential), shown(s.Differential)), "")
	}
	if v.good("diameter", "contact_radius") && s.ContactRadius >= s.Diameter/2 {
		r.complain(v, v.field("contact_radius"), fmt.Sprintf("%s is not below the ball's radius of %s", shown(s.ContactRadius), shown(s.Diameter/2)))
	}
	if !v.good("rg", "diameter") {
		return
	}
	radius := s.Diameter / 2
	if s.RG >= radius {
		r.complain(v, rg, fmt.Sprintf("%s is not below the ball's radius of %s", shown(s.RG), shown(radius)))
		return
	}
	if s.RG < ball.LeastRG*radius {
		r.complain(v, rg, fmt.Sprintf("%s is below a fifth of the ball's radius of %s, the least allowed", shown(s.RG), shown(radius)))
		return
	}
	if !v.good("differential") {
		return
	}
	if high := s.RG + s.Differential; high >= radius {
		r.complain(v, differential, fmt.Sprintf("makes a high RG of %s, which is not below the ball's radius of %s", shown(high), shown(radius)))
		return
	}
	if !v.good("weight", "intermediate_differential") {
		return
	}
	whole := s
	whole.Layout = &ball.Layout{}
	if _, err := whole.Prepare(ball.DefaultPAP(), ball.Right); err != nil {
		r.complain(v, differential, strings.TrimPrefix(err.Error(), "ball: "))
	}
}

// roughness resolves the cover's Ra, which a finish may give.
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
	r.warnings = append(r.warnings, fmt.Sprintf("%s: %s is taken as an Ra of %.3g uin, which is assumed: no published table was found.",
		finish.path, finish.text, ra/units.Microinch))
	return ra
}

// layout resolves a layout, nil after a problem.
func (r *reader) layout(v *value) *ball.Layout {
	l := v.field("layout")
	if !l.sound() {
		return nil
	}
	distance := l.field("pin_to_pap")
	if !v.good("diameter") {
		return nil
	}
	radius := v.field("diameter").number / 2
	if half := math.Pi * radius; distance.number > half {
		r.fail(distance, fmt.Sprintf("%s is more than half the ball's circumference, %s", distance.text, shown(half)), "")
		return nil
	}
	if l.has("drilling_angle") {
		layout := &ball.Layout{
			DrillingAngle: l.field("drilling_angle").number,
			PinToPAP:      distance.number,
			VALAngle:      l.field("val_angle").number,
		}
		r.unusual(l, *layout, radius)
		return layout
	}
	distances := ball.DistanceLayout{
		PinToPAP: distance.number,
		PSAToPAP: l.field("psa_to_pap").number,
		PinToVAL: l.field("pin_to_val").number,
		Below:    l.field("pin").word == "below",
	}
	layout, err := distances.Layout(radius)
	if wrong := (*ball.LayoutError)(nil); errors.As(err, &wrong) {
		r.fail(l.field(wrong.Field), wrong.Rule, "")
		return nil
	} else if err != nil {
		r.fail(l, err.Error(), "")
		return nil
	}
	if caution := distances.Caution(radius); caution != "" {
		r.warnings = append(r.warnings, l.path+": "+caution+".")
	}
	return &layout
}

// balance resolves the mass centre.
func (r *reader) balance(v *value, s *ball.Specification) {
	if !v.sound() {
		return
	}
	if v.has("offset") {
		for i, item := range v.field("offset").items {
			s.Offset[i] = item.number
		}
		return
	}
	s.Static = &ball.StaticWeights{
		Side:        v.field("side").number,
		FingerThumb: v.field("finger_thumb").number,
		Top:         v.field("top").number,
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
		m = ball.FilmMemory{
			PickUp:       v.field("pick_up").number,
			GiveBack:     v.field("give_back").number,
			ContactWidth: v.field("contact_width").number,
			SoakIn:       v.field("soak_in").soakIn(),
		}
	}
	return m
}
