package main

import (
	"bytes"

	"gonum.org/v1/gonum/spatial/r3"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/plots"
	"lanesim/units"
)

// marksRecord tells where a low and a high axis lie against PAP and grip, by
// angles and by distances along the surface. Angles that do not exist are null.
type marksRecord struct {
	DrillingAngle         *number `json:"drilling_angle_deg"`
	PinToPAP              number  `json:"pin_to_pap_in"`
	PinToPAPMillimetres   number  `json:"pin_to_pap_mm"`
	VALAngle              *number `json:"val_angle_deg"`
	PSAToPAP              number  `json:"psa_to_pap_in"`
	PSAToPAPMillimetres   number  `json:"psa_to_pap_mm"`
	PinToVAL              number  `json:"pin_to_val_in"`
	PinToVALMillimetres   number  `json:"pin_to_val_mm"`
	Pin                   string  `json:"pin"` // above or below
	PSAAngle              *number `json:"val_to_psa_angle_deg"`
	PinToGrip             number  `json:"pin_to_grip_in"`
	PinToGripMillimetres  number  `json:"pin_to_grip_mm"`
	PSAToGrip             number  `json:"psa_to_grip_in"`
	PSAToGripMillimetres  number  `json:"psa_to_grip_mm"`
	PSAToThumb            *number `json:"psa_to_thumb_in"`
	PSAToThumbMillimetres *number `json:"psa_to_thumb_mm"`
}

// recordMarks records where a state's axes lie. A layout that was given is
// told as it was, without the rounding of its way through the axes.
func recordMarks(s ball.State, given *ball.Layout, d ball.Drilling) *marksRecord {
	m := s.Measures
	l, defined := s.Frame.Layout(d.Hand, d.Radius)
	if given != nil {
		l = *given
	}
	r := &marksRecord{
		PinToPAP: number(inches(l.PinToPAP)), PinToPAPMillimetres: number(millimetres(l.PinToPAP)),
		PSAToPAP: number(inches(m.Distances.PSAToPAP)), PSAToPAPMillimetres: number(millimetres(m.Distances.PSAToPAP)),
		PinToVAL: number(inches(m.Distances.PinToVAL)), PinToVALMillimetres: number(millimetres(m.Distances.PinToVAL)),
		Pin:       "above",
		PinToGrip: number(inches(m.PinToGrip)), PinToGripMillimetres: number(millimetres(m.PinToGrip)),
		PSAToGrip: number(inches(m.PSAToGrip)), PSAToGripMillimetres: number(millimetres(m.PSAToGrip)),
		PSAToThumb: optional(m.PSAToThumb, inches), PSAToThumbMillimetres: optional(m.PSAToThumb, millimetres),
	}
	if m.Distances.Below {
		r.Pin = "below"
	}
	if defined {
		r.DrillingAngle, r.VALAngle = optional(&l.DrillingAngle, degrees), optional(&l.VALAngle, degrees)
	}
	if angle, ok := plots.PSAAngle(s.Frame); ok {
		r.PSAAngle = optional(&angle, degrees)
	}
	return r
}

// placeRecord is a point on the ball, from the centre of the grip: over toward
// the bowler's axis side, up toward the fingers.
type placeRecord struct {
	Over            number `json:"over_in"`
	OverMillimetres number `json:"over_mm"`
	Up              number `json:"up_in"`
	UpMillimetres   number `json:"up_mm"`
}

func recordPlace(over, up float64) placeRecord {
	return placeRecord{number(inches(over)), number(millimetres(over)), number(inches(up)), number(millimetres(up))}
}

// recordDirection records a direction in grip axes, whose Y points right.
func recordDirection(v r3.Vec, d ball.Drilling) placeRecord {
	if d.Hand == ball.Left {
		v.Y = -v.Y
	}
	q := ball.SurfacePointOf(v, d.Radius)
	return recordPlace(q.Over, q.Up)
}

type insertRecord struct {
	Outer             number `json:"outer_in"`
	OuterMillimetres  number `json:"outer_mm"`
	Inner             number `json:"inner_in"`
	InnerMillimetres  number `json:"inner_mm"`
	Length            number `json:"length_in"`
	LengthMillimetres number `json:"length_mm"`
	Density           number `json:"density_g_cm3"`
}

type holeRecord struct {
	Finger              string        `json:"finger"`
	Diameter            number        `json:"diameter_in"`
	DiameterMillimetres number        `json:"diameter_mm"`
	Depth               number        `json:"depth_in"`
	DepthMillimetres    number        `json:"depth_mm"`
	Forward             number        `json:"forward_pitch_in"`
	ForwardMillimetres  number        `json:"forward_pitch_mm"`
	Lateral             number        `json:"lateral_pitch_in"` // toward the side of the PAP
	LateralMillimetres  number        `json:"lateral_pitch_mm"`
	Mouth               placeRecord   `json:"mouth"`
	Insert              *insertRecord `json:"insert"`
}

func recordHole(h ball.DrilledHole, d ball.Drilling) holeRecord {
	r := holeRecord{
		Finger:   h.Name,
		Diameter: number(inches(h.Diameter)), DiameterMillimetres: number(millimetres(h.Diameter)),
		Depth: number(inches(h.Depth)), DepthMillimetres: number(millimetres(h.Depth)),
		Forward: number(inches(h.Forward)), ForwardMillimetres: number(millimetres(h.Forward)),
		Lateral: number(inches(h.Lateral)), LateralMillimetres: number(millimetres(h.Lateral)),
		Mouth: recordDirection(h.Mouth, d),
	}
	if i := h.Insert; i != nil {
		outer := i.Outer
		if outer == 0 {
			outer = h.Diameter // an insert fills its hole unless told otherwise
		}
		r.Insert = &insertRecord{
			Outer: number(inches(outer)), OuterMillimetres: number(millimetres(outer)),
			Inner: number(inches(i.Inner)), InnerMillimetres: number(millimetres(i.Inner)),
			Length: number(inches(i.Length)), LengthMillimetres: number(millimetres(i.Length)),
			Density: number(i.Density / 1000),
		}
	}
	return r
}

type gripRecord struct {
	Kind                  *string      `json:"kind"` // null for a grip told hole by hole
	MiddleSpan            *number      `json:"middle_span_in"`
	MiddleSpanMillimetres *number      `json:"middle_span_mm"`
	RingSpan              *number      `json:"ring_span_in"`
	RingSpanMillimetres   *number      `json:"ring_span_mm"`
	Bridge                *number      `json:"bridge_in"`
	BridgeMillimetres     *number      `json:"bridge_mm"`
	Holes                 []holeRecord `json:"holes"`
}

func recordGrip(d ball.Drilling) gripRecord {
	g := d.Grip
	r := gripRecord{Holes: []holeRecord{}}
	if g.Kind != ball.CustomGrip {
		kind := string(g.Kind)
		r.Kind = &kind
	}
	if g.Thumb != nil {
		r.MiddleSpan, r.MiddleSpanMillimetres = optional(&g.MiddleSpan, inches), optional(&g.MiddleSpan, millimetres)
		r.RingSpan, r.RingSpanMillimetres = optional(&g.RingSpan, inches), optional(&g.RingSpan, millimetres)
	}
	if g.Middle != nil {
		r.Bridge, r.BridgeMillimetres = optional(&g.Bridge, inches), optional(&g.Bridge, millimetres)
	}
	for _, h := range d.Holes {
		r.Holes = append(r.Holes, recordHole(h, d))
	}
	return r
}

// massRecord holds the mass properties of a ball at one time.
type massRecord struct {
	Weight                   number    `json:"weight_lb"`
	WeightKilograms          number    `json:"weight_kg"`
	LowRG                    number    `json:"rg_low_in"`
	LowRGMillimetres         number    `json:"rg_low_mm"`
	IntermediateRG           number    `json:"rg_intermediate_in"`
	IntermediateRGMillimetre number    `json:"rg_intermediate_mm"`
	HighRG                   number    `json:"rg_high_in"`
	HighRGMillimetres        number    `json:"rg_high_mm"`
	Differential             number    `json:"differential_in"`
	DifferentialMillimetres  number    `json:"differential_mm"`
	Intermediate             number    `json:"intermediate_differential_in"`
	IntermediateMillimetres  number    `json:"intermediate_differential_mm"`
	Side                     number    `json:"static_side_oz"`
	FingerThumb              number    `json:"static_finger_thumb_oz"`
	Top                      number    `json:"static_top_oz"`
	Centre                   [3]number `json:"mass_centre_mm"` // toward the grip, right, toward the fingers
}

func recordMass(s ball.State) massRecord {
	k := s.RadiiOfGyration
	return massRecord{
		Weight: number(s.Mass / units.Pound), WeightKilograms: number(s.Mass),
		LowRG: number(inches(k[0])), LowRGMillimetres: number(millimetres(k[0])),
		IntermediateRG: number(inches(k[1])), IntermediateRGMillimetre: number(millimetres(k[1])),
		HighRG: number(inches(k[2])), HighRGMillimetres: number(millimetres(k[2])),
		Differential: number(inches(s.Differential())), DifferentialMillimetres: number(millimetres(s.Differential())),
		Intermediate: number(inches(s.IntermediateDifferential())), IntermediateMillimetres: number(millimetres(s.IntermediateDifferential())),
		Side: number(s.Static.Side / units.Ounce), FingerThumb: number(s.Static.FingerThumb / units.Ounce), Top: number(s.Static.Top / units.Ounce),
		Centre: [3]number{number(millimetres(s.Centre.X)), number(millimetres(s.Centre.Y)), number(millimetres(s.Centre.Z))},
	}
}

type changeRecord struct {
	Removed             number  `json:"removed_oz"`
	RemovedGrams        number  `json:"removed_g"`
	PutBack             number  `json:"put_back_oz"`
	PutBackGrams        number  `json:"put_back_g"`
	PinMoved            *number `json:"pin_moved_in"` // null where the undrilled ball has no such axis
	PinMovedMillimetres *number `json:"pin_moved_mm"`
	PSAMoved            *number `json:"psa_moved_in"`
	PSAMovedMillimetres *number `json:"psa_moved_mm"`
	CentreMoved         number  `json:"mass_centre_moved_mm"`
}

func recordChange(l laidOut) changeRecord {
	const grams = 1000 // in a kg
	d := l.drilling
	r := changeRecord{
		Removed: number(d.Removed / units.Ounce), RemovedGrams: number(d.Removed * grams),
		PutBack: number(d.PutBack / units.Ounce), PutBackGrams: number(d.PutBack * grams),
		CentreMoved: number(millimetres(r3.Norm(d.Shift))),
	}
	if l.specification.Layout != nil {
		r.PinMoved, r.PinMovedMillimetres = optional(&d.PinMoved, inches), optional(&d.PinMoved, millimetres)
		r.PSAMoved, r.PSAMovedMillimetres = optional(&d.PSAMoved, inches), optional(&d.PSAMoved, millimetres)
	}
	return r
}

type verdictRecord struct {
	Name    string         `json:"name"`
	Value   *number        `json:"value"`
	Unit    string         `json:"unit"`
	Limit   string         `json:"limit"`
	Verdict ball.Judgement `json:"verdict"`
	Note    string         `json:"note"`
}

type turnRecord struct {
	Turn               int    `json:"turn"` // from 1
	Oily               bool   `json:"oily"`
	Spacing            number `json:"spacing_in"` // at the widest, from the turn before; null for the first
	SpacingMillimetres number `json:"spacing_mm"`
}

type bowTieRecord struct {
	placeRecord
	Crossings          int    `json:"crossings"`
	Scatter            number `json:"scatter_in"`
	ScatterMillimetres number `json:"scatter_mm"`
}

type flareRecord struct {
	Lane                string          `json:"lane"`
	Status              *physics.Status `json:"status"` // null if there was no shot
	Failure             *string         `json:"failure"`
	Flare               *number         `json:"flare_in"`
	FlareMillimetres    *number         `json:"flare_mm"`
	FlareOil            *number         `json:"flare_oil_in"`
	FlareOilMillimetres *number         `json:"flare_oil_mm"`
	Revolutions         *number         `json:"revolutions"`
	OilyFilm            number          `json:"oily_film_um"`
	OilyTurns           *int            `json:"oily_turns"`
	Turns               []turnRecord    `json:"turns"`
	BowTies             []bowTieRecord  `json:"bow_ties"`
}

func recordFlare(f flare, d ball.Drilling) flareRecord {
	r := flareRecord{Lane: f.lane, OilyFilm: number(micrometres(plots.OilyFilm)), Turns: []turnRecord{}, BowTies: []bowTieRecord{}}
	if f.shot == nil {
		r.Failure = &f.why
		return r
	}
	u := f.shot.Summary
	r.Status = &f.shot.Status
	r.Flare, r.FlareMillimetres = optional(&u.Flare, inches), optional(&u.Flare, millimetres)
	r.FlareOil, r.FlareOilMillimetres = optional(&u.FlareOil, inches), optional(&u.FlareOil, millimetres)
	r.Revolutions, r.OilyTurns = optional(&u.Revolutions, same), &f.tracks.Oiled
	for i, t := range f.tracks.Turns {
		r.Turns = append(r.Turns, turnRecord{i + 1, t.Oiled, number(inches(t.Spacing)), number(millimetres(t.Spacing))})
	}
	for _, b := range f.tracks.BowTies {
		r.BowTies = append(r.BowTies, bowTieRecord{recordDirection(b.Place, d), b.Crossings, number(inches(b.Scatter)), number(millimetres(b.Scatter))})
	}
	return r
}

// layoutRecord is a ball laid out for a bowler as it is printed.
type layoutRecord struct {
	Ball                string          `json:"ball"`
	Bowler              string          `json:"bowler"`
	Hand                string          `json:"hand"`
	Diameter            number          `json:"diameter_in"`
	DiameterMillimetres number          `json:"diameter_mm"`
	PAP                 placeRecord     `json:"pap"`
	Layout              *marksRecord    `json:"layout"`  // as marked; null without one
	Drilled             *marksRecord    `json:"drilled"` // of the drilled ball's axes; null for a ball that stays without
	Grip                gripRecord      `json:"grip"`
	Before              massRecord      `json:"before"`
	After               massRecord      `json:"after"`
	Change              changeRecord    `json:"change"`
	Verdicts            []verdictRecord `json:"verdicts"`
	Flare               []flareRecord   `json:"flare"` // one for each lane
}

func recordLayout(l laidOut) layoutRecord {
	d := l.drilling
	r := layoutRecord{
		Ball: l.ball, Bowler: l.bowler, Hand: d.Hand.String(),
		Diameter: number(inches(l.specification.Diameter)), DiameterMillimetres: number(millimetres(l.specification.Diameter)),
		PAP:  recordPlace(d.PAP.Over, d.PAP.Up),
		Grip: recordGrip(d), Before: recordMass(d.Before), After: recordMass(d.After), Change: recordChange(l),
	}
	if l.specification.Layout != nil {
		r.Layout = recordMarks(d.Before, l.specification.Layout, d)
	}
	if l.specification.Layout != nil || len(d.Holes) > 0 {
		r.Drilled = recordMarks(d.After, nil, d)
	}
	for _, v := range l.verdicts {
		r.Verdicts = append(r.Verdicts, verdictRecord{v.Name, optional(v.Value, same), v.Unit, v.Limit, v.Verdict, v.Note})
	}
	for _, f := range l.flares {
		r.Flare = append(r.Flare, recordFlare(f, d))
	}
	return r
}

type limitsRecord struct {
	Edition string `json:"edition"`
	Mark    string `json:"mark"`
	Caution string `json:"caution"`
}

// encodeLayout prints balls laid out as JSON, a line for each.
func encodeLayout(warnings []string, balls []laidOut) ([]byte, error) {
	if warnings == nil {
		warnings = []string{}
	}
	l := ball.ListedLimits()
	var b bytes.Buffer
	for _, part := range []struct {
		before string
		value  any
	}{
		{`{"model":`, model},
		{",\n\"warnings\":", warnings},
		{",\n\"limits\":", limitsRecord{l.Edition, l.Mark, l.Caution}},
		{",\n\"cautions\":", layoutCautions()},
	} {
		text, err := encodeJSON(part.value)
		if err != nil {
			return nil, err
		}
		b.WriteString(part.before)
		b.Write(text)
	}
	separator := ",\n\"layouts\":[\n"
	for _, l := range balls {
		text, err := encodeJSON(recordLayout(l))
		if err != nil {
			return nil, err
		}
		b.WriteString(separator)
		b.Write(text)
		separator = ",\n"
	}
	b.WriteString("]}\n")
	return b.Bytes(), nil
}
