package scenario

import (
	"fmt"
	"math"

	"lanesim/lane"
	"lanesim/units"
)

// The numbers of a lane and of the mixed law with their keys.
func laneNumbers(l *lane.Lane) (surface, rolling quantities) {
	return quantities{{"length", &l.Length}, {"tilt", &l.Tilt}, {"roughness", &l.Roughness}}, quantities{{"rolling_resistance", &l.RollingResistance}}
}

func mixedNumbers(f *lane.Friction) quantities {
	return quantities{{"film", &f.Film}, {"dry", &f.Dry}, {"entrained", &f.Entrained}}
}

// lane resolves a lane and its oil, unless that is kept. Values that are bad stay zero.
func (r *reader) lane(v *value, kept *oil) (lane.Lane, oil) {
	var l lane.Lane
	surface, rolling := laneNumbers(&l)
	append(surface, rolling...).read(v)
	if v.fields == nil {
		return l, oil{}
	}
	l.Friction = r.friction(v.field("friction"))
	r.measured(v, v.field("friction"), laneMarks(&l.Measured))
	var o oil
	switch {
	case kept != nil:
		o = *kept
	case v.has("oil"):
		o = r.oil(v.field("oil"))
	case v.good("friction") && l.Friction.Law == lane.Mixed:
		r.missing(v, "oil", "the mixed law needs it; name a built-in pattern, a pattern file or  dry")
	default:
		o.word = dry
	}
	l.Oil, l.Name = o.film, o.name()
	if v.good("length") && l.Oil.Length() > l.Length {
		at := v.field("oil")
		if at.form != nil && at.form.word == kindCrown {
			at = at.field("length")
		}
		r.fail(at, fmt.Sprintf("the oil ends at %.4g ft, beyond the lane's length of %.4g ft", l.Oil.Length()/units.Foot, l.Length/units.Foot), "")
	}
	return l, o
}

// friction resolves a friction law.
func (r *reader) friction(v *value) lane.Friction {
	if v.bad && v.form == nil {
		return lane.Friction{}
	}
	f := lane.Friction{Law: lane.Law(v.form.word), Mu: v.field("mu").number, Zones: r.zones(v.field("zones").items)}
	mixedNumbers(&f).read(v)
	return f
}

// zones resolves the zones of a lane, which must follow each other.
func (r *reader) zones(items []*value) []lane.Zone {
	var zones []lane.Zone
	var before *value
	for i, z := range items {
		if z.bad {
			continue
		}
		zone := lane.Zone{To: math.Inf(1), Mu: z.field("mu").number}
		to, last := z.field("to"), i == len(items)-1
		switch {
		case !z.has("to") && !last:
			r.missing(z, "to", "only the last zone has no end")
		case !z.has("to") || to.bad:
		case last:
			r.fail(to, "the last zone extends to the end of the lane: remove its  to", "")
		case before != nil && to.number <= before.number:
			r.fail(to, to.text+" is not beyond the zone before, which ends at "+before.text, "")
		default:
			zone.To, before = to.number, to
		}
		zones = append(zones, zone)
	}
	return zones
}
