package scenario

import (
	"math"
	"slices"

	"lanesim/ball"
	"lanesim/internal/input"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
)

// The numbers of a bowler and of a place on the ball with their keys.
func bowlerNumbers(b *Bowler) quantities {
	r := &b.Release
	return quantities{{"speed", &r.Speed}, {"rev_rate", &r.RevRate}, {"axis_rotation", &r.AxisRotation}, {"axis_tilt", &r.AxisTilt},
		{"phase", &r.Phase}, {"laydown", &r.Laydown}, {"laydown_distance", &r.LaydownDistance}}
}

func papNumbers(p *ball.PAP) quantities { return quantities{{"over", &p.Over}, {"up", &p.Up}} }

// pap resolves a place on the ball.
func pap(v *value) (p ball.PAP) {
	papNumbers(&p).read(v)
	return p
}

// hand resolves a hand.
func hand(v *value) ball.Hand {
	if v.word == ball.Left.String() {
		return ball.Left
	}
	return ball.Right
}

// bowler resolves a bowler. Values that are bad stay zero.
func (r *reader) bowler(v *value) Bowler {
	b := Bowler{PAP: pap(v.field("pap")), FootToBall: v.field("foot_to_ball").number}
	bowlerNumbers(&b).read(v)
	if v.fields == nil {
		return b
	}
	r.unusualPAP(v.field("pap"), b.PAP)
	b.Release.Hand = hand(v.field("hand"))
	if v.good("rev_rate") && b.Release.RevRate > 0 {
		for _, key := range []string{"axis_rotation", "axis_tilt"} {
			if !v.has(key) {
				r.missing(v, key, "a ball with a rev rate needs it")
			}
		}
	}
	switch {
	case v.has("aim"):
		aim := v.field("aim")
		b.AimAtPocket = aim.form == nil
		b.AimAtPins = aim.field("pins").leave
	case v.has("target"):
		b.Release.Angle = r.target(v)
	case v.has(lineKey):
		r.line(v, &b)
	default:
		b.Release.Angle = v.field("angle").number
	}
	if v.has(moveKey) {
		r.move(v, &b)
	}
	if v.has("repeatability") {
		b.Repeatability = r.repeatability(v.field("repeatability"))
	}
	return b
}

// target returns the launch angle toward a point of the lane. With boards
// counted from the bowler's side, lower ones lie toward the ball-side gutter,
// where angles are positive:
//
//	tan angle = (laydown − board) · board width / (distance − laydown distance)
func (r *reader) target(v *value) float64 {
	if !v.good("target", "laydown", "laydown_distance") {
		return 0
	}
	board, distance := v.field("target").field("board"), v.field("target").field("distance")
	ahead := distance.number - v.field("laydown_distance").number
	if ahead <= 0 {
		r.fail(distance, distance.text+" is not beyond the laydown", "")
		return 0
	}
	angle := math.Atan((v.field("laydown").number - board.number) * lane.BoardWidth / ahead)
	r.steep(v.field("target"), angle)
	return angle
}

// fits checks what depends on both bowler and lane.
func (r *reader) fits(bowler *value, lanes []*value) {
	d := bowler.field("laydown_distance")
	for _, l := range lanes {
		if length := l.field("length"); !d.bad && !length.bad && d.number >= length.number {
			r.fail(d, d.text+" is beyond the end of the lane, "+length.text, "")
		}
	}
}

// repeatability resolves a skill level or standard deviations.
func (r *reader) repeatability(v *value) *Repeatability {
	if !v.sound() {
		return nil
	}
	rep := &Repeatability{Level: v.word}
	for _, l := range levels {
		if v.form == nil && l.name == v.word {
			v = (&decoder{}).fallback(&field{key: l.name, shape: repeatabilityShape, fallback: l.sigmas}, v.path)
		}
	}
	quantities{{"laydown", &rep.Laydown}, {"angle", &rep.Angle}, {"speed", &rep.Speed}, {"rev_rate", &rep.RevRate},
		{"axis_rotation", &rep.AxisRotation}, {"axis_tilt", &rep.AxisTilt}, {"phase", &rep.Phase}}.read(v)
	rep.EvenPhase = !v.has("phase")
	r.correlations(v, rep)
	return rep
}

// correlations resolves the correlations of deviations.
func (r *reader) correlations(v *value, rep *Repeatability) {
	list := v.field("correlations")
	seen := map[[2]studies.Varied]bool{}
	for _, item := range list.items {
		if !item.sound() {
			continue
		}
		pair := item.field("between")
		correlation := studies.Correlation{Is: item.field("is").number}
		for i, name := range pair.items {
			correlation.Between[i] = studies.Varied(slices.IndexFunc(studies.AllVaried(), func(v studies.Varied) bool { return v.String() == name.word }))
		}
		a, b := correlation.Between[0], correlation.Between[1]
		switch key := [2]studies.Varied{min(a, b), max(a, b)}; {
		case a == b:
			r.fail(pair, "names "+a.String()+" twice: a correlation is between two", "")
		case seen[key]:
			r.fail(pair, "the correlation of "+a.String()+" and "+b.String()+" is given already", "")
		case rep.EvenPhase && (a == studies.VariedPhase || b == studies.VariedPhase):
			r.fail(pair, "the phase is drawn evenly, without correlation, unless  phase  gives a standard deviation", "")
		default:
			seen[key] = true
		}
		rep.Correlations = append(rep.Correlations, correlation)
	}
	if !list.sound() || len(rep.Correlations) == 0 {
		return
	}
	if _, err := rep.Deliverer(physics.Release{}); err != nil {
		r.fail(list, "these correlations are impossible together: their matrix is not positive definite", "")
	}
}

// AssumedLevel is the skill level, assumed, of a bowler without repeatability in the
// scenario.
const AssumedLevel = "league"

// SkillLevels lists the names of the skill levels.
func SkillLevels() []string { return input.Each(levels, func(l level) string { return l.name }) }

// SkillLevel returns the deviations of a skill level, which are assumed, and whether there
// is such a level.
func SkillLevel(name string) (*Repeatability, bool) {
	if !slices.Contains(SkillLevels(), name) {
		return nil, false
	}
	return (&reader{}).repeatability(&value{word: name, path: "repeatability"}), true
}
