package scenario

import (
	"errors"
	"fmt"
	"strings"

	"lanesim/ball"
	"lanesim/ball/oilring"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies/measure"
)

// What is used where a file of measurements has nothing.
const (
	defaultLike         = "medium revs"
	defaultLine         = "2 deg"
	defaultMeasuredName = "measured bowler"
)

// Sources of values that the file of measurements gives, and of values that neither it nor
// a bowler gives.
const (
	asGiven   = "as given"
	byDefault = "the default"
)

// Measurements is a file of measurements of a bowler's delivery. Make one with
// [ReadMeasurements].
type Measurements struct {
	Title    string
	Readings measure.Readings

	// Bowler has the values that were not measured. If it aims at the pocket, no
	// line is known; the launch angle is then that of the simulation.
	Bowler Bowler

	// Sources say in words where each of the bowler's values comes from, by key. A
	// value without a source was measured or is a default.
	Sources map[string]string

	// Lane is that of the timed shot; its length is 0 if nothing was timed.
	Lane     lane.Lane
	Ball     ball.Specification
	Grip     ball.Grip
	Settings physics.Settings

	Warnings []string

	value *value // of the whole file
}

// ReadMeasurements reads a file of measurements. Name and open are as for
// [Read]. All errors are returned together, as [Errors].
func ReadMeasurements(name string, data []byte, open OpenFile) (*Measurements, error) {
	var p problems
	r := newReader(&p, name, open)
	root := r.tree(name, data)
	if root == nil {
		return nil, p.err()
	}
	r.fillLibraries(root)
	m, other := r.measurements(r.decode(root, measurementShape, ""))
	var all Errors
	for _, err := range []error{p.err(), other} {
		if list := (Errors)(nil); errors.As(err, &list) {
			all = append(all, list...)
		}
	}
	if len(all) > 0 {
		return nil, all
	}
	m.Warnings = append(m.Warnings, r.warnings...)
	return m, nil
}

// Prepared returns the ball drilled for the bowler's axis, that of the oil ring if one
// was measured.
func (m *Measurements) Prepared() (ball.Ball, error) {
	pap := m.Bowler.PAP
	if ring := m.Readings.Ring; ring != nil {
		// If no ring fits, measuring reports why.
		if fit, err := oilring.Fit(ring.Points, m.Ball.Diameter/2, ring.Error); err == nil {
			pap = fit.PAP
		}
	}
	made, _, err := m.Ball.Drill(pap, m.Bowler.Release.Hand, m.Grip)
	return made, err
}

// Place gives an error of [measure.Study.Run] its place in the file, as [Errors]. Errors
// that are not about a reading are returned unchanged.
func (m *Measurements) Place(err error) error {
	key, message := "", ""
	wrong, noSpeed := (*measure.ReadingError)(nil), (*measure.NoSpeedError)(nil)
	switch {
	case errors.As(err, &wrong):
		key, message = strings.TrimSuffix(wrong.Field, "_size"), wrong.Reason
	case errors.As(err, &noSpeed):
		key, message = "lane_time", strings.TrimPrefix(noSpeed.Error(), "lane_time: ")
	default:
		return err
	}
	at := m.value.field(key)
	if at.at.source == nil {
		return err
	}
	var p problems
	p.add(at.at, at.path, message, "")
	return p.err()
}

// Measured returns the bowler with the measured values.
func (m *Measurements) Measured(out measure.Result) Bowler {
	b := m.Bowler
	b.Release = out.Release
	if out.PAPOver != nil && out.PAPUp != nil {
		b.PAP = ball.PAP{Over: out.PAPOver.Value, Up: out.PAPUp.Value}
	}
	return b
}

// Decimals to which a bowler is rounded: finer than what can be measured.
const (
	speedDecimals = 2 // mph
	rateDecimals  = 0 // rpm
	angleDecimals = 1 // degrees
	papDecimals   = 2 // in
)

// Rounded returns the bowler with PAP and release rounded as in a table, so that it can be
// written with few digits.
func (b Bowler) Rounded() Bowler {
	for _, c := range []struct {
		value    *float64
		n        *number
		decimals int
	}{
		{&b.PAP.Over, papLength.number, papDecimals}, {&b.PAP.Up, papLength.number, papDecimals},
		{&b.Release.Speed, bowlerShape.field("speed").shape.number, speedDecimals},
		{&b.Release.RevRate, bowlerShape.field("rev_rate").shape.number, rateDecimals},
		{&b.Release.AxisRotation, anyAngle.number, angleDecimals}, {&b.Release.AxisTilt, anyAngle.number, angleDecimals},
	} {
		unit, _ := c.n.dimension.unit(c.n.unit).value().Float64()
		if rounded, err := c.n.parse(fmt.Sprintf("%.*f %s", c.decimals, *c.value/unit, c.n.unit)); err == nil {
			*c.value = rounded
		}
	}
	return b
}

// BowlerBlock writes the bowler for a scenario, with the values that were not measured
// and their sources in comments above it.
func BowlerBlock(all map[string]string, b Bowler) []byte {
	var text strings.Builder
	groups := map[string][]string{}
	var order []string
	for _, key := range []string{"hand", "pap", "speed", "rev_rate", "axis_rotation", "axis_tilt", "phase", "laydown", "laydown_distance", "angle"} {
		source, taken := all[key]
		if key == "angle" && b.AimAtPocket {
			key, source = "aim", "no line is known: the bowler aims at the pocket"
		}
		if !taken {
			continue
		}
		if groups[source] == nil {
			order = append(order, source)
		}
		groups[source] = append(groups[source], key)
	}
	text.WriteString("# For a scenario. Measured except for these:\n")
	for _, source := range order {
		fmt.Fprintf(&text, "#   %s: %s\n", strings.Join(groups[source], ", "), source)
	}
	text.Write(BowlerYAML(b))
	return []byte(text.String())
}
