package scenario

import (
	"cmp"
	"fmt"
	"slices"

	"lanesim/ball"
	"lanesim/studies/measure"
)

// measurements resolves a whole file; other has the errors of the scenario that it names.
func (r *reader) measurements(v *value) (m *Measurements, other error) {
	m = &Measurements{Title: v.field("title").text, Sources: map[string]string{}, value: v}
	if v.fields == nil {
		return m, nil
	}
	var given *Scenario
	if s := v.field("scenario"); s.sound() {
		if given, other = r.namedScenario(s); given != nil {
			m.Lane, m.Ball, m.Grip, m.Settings = given.Lanes[0], given.Balls[0], given.Grips[0], given.Settings
			m.Warnings = given.Warnings
			if len(given.Lanes) > 1 || len(given.Balls) > 1 || len(given.Bowlers) > 1 {
				m.Warnings = append(m.Warnings, fmt.Sprintf("%s: the first lane, ball and bowler are used: %s, %s, %s.",
					s.path, m.Lane.Name, m.Ball.Name, given.Bowlers[0].Name))
			}
		}
	}
	if v.has("lane") {
		m.Lane, _ = r.lane(v.field("lane"), nil)
	}
	switch {
	case v.has("ball"):
		m.Ball, m.Grip = r.ball(v.field("ball"))
	case given == nil:
		m.Ball, m.Grip = ball.Default(), ball.DefaultGrip()
		if v.has("ring") || v.has("lane_time") {
			m.Warnings = append(m.Warnings, fmt.Sprintf("ball is not given: a usual one of %s is used.", inches(m.Ball.Diameter)))
		}
	}
	if v.has("settings") {
		m.Settings = r.settings(v.field("settings"))
	}
	m.Bowler = r.unmeasured(v, given, m.Sources)
	r.readings(v, m)
	if v.has("ball") {
		r.drills(&Scenario{Balls: []ball.Specification{m.Ball}, Grips: []ball.Grip{m.Grip}, Bowlers: []Bowler{m.Bowler}}, []*value{v.field("ball")})
	}
	return m, other
}

// namedScenario reads the scenario that a file names. It returns the scenario's errors; a
// file that cannot be opened is a problem of the present file.
func (r *reader) namedScenario(v *value) (*Scenario, error) {
	name, data, err := r.opened(v.text, "scenario ")
	if err != nil {
		r.fail(v, err.Error(), "")
		return nil, nil
	}
	return Read(name, data, r.open, nil)
}

// unmeasured resolves the bowler's values that are not measured: those of the file, else
// of the scenario's bowler, else of a built-in one.
func (r *reader) unmeasured(v *value, given *Scenario, sources map[string]string) Bowler {
	word := cmp.Or(v.field(likeKey).word, defaultLike)
	b := BuiltinBowlers()[slices.Index(builtinBowlerWords, word)].Bowler
	b.Name = defaultMeasuredName
	from, lineFrom := "not measured: of "+word+", assumed", "not measured: assumed for the simulation"
	b.Release.Angle = launchAngle.number.must(defaultLine)
	if given != nil && !v.has(likeKey) {
		b = given.Bowlers[0]
		from = fmt.Sprintf("not measured: of %s in the scenario", b.Name)
		if b.AimAtPocket {
			b.Release.Angle = launchAngle.number.must(defaultLine)
		} else {
			lineFrom = from
		}
	}
	if v.has("name") {
		b.Name = v.field("name").text
	}
	for _, c := range bowlerNumbers(&b) {
		sources[c.key] = from
		if v.has(c.key) {
			*c.of = v.field(c.key).number
		}
	}
	sources["angle"], sources["pap"], sources["hand"] = lineFrom, from, from
	if given == nil {
		sources["phase"], sources["laydown_distance"], sources["hand"] = byDefault, byDefault, byDefault
	}
	if v.has("angle") {
		b.AimAtPocket, b.Release.Angle = false, v.field("angle").number
	}
	if v.has("pap") {
		b.PAP = pap(v.field("pap"))
	}
	if v.has("hand") {
		b.Release.Hand = hand(v.field("hand"))
	}
	for key := range sources {
		if v.has(key) {
			sources[key] = asGiven
		}
	}
	for measured, key := range map[string]string{"lane_time": "speed", "frames": "rev_rate", "photo": "axis_rotation", "ring": "axis_tilt"} {
		if v.has(measured) {
			delete(sources, key)
		}
	}
	if v.field("ring").has("points") {
		delete(sources, "pap")
	}
	return b
}

// readings resolves what was measured.
func (r *reader) readings(v *value, m *Measurements) {
	reading := func(v *value, key, deviation string) measure.Reading {
		return measure.Reading{Value: v.field(key).number, Error: v.field(deviation).number}
	}
	if t := v.field("lane_time"); t != absent {
		m.Readings.LaneTime = &measure.LaneTime{
			From: t.field("from").number, To: t.field("to").number, Time: reading(t, "time", "error"), DistanceError: t.field("distance_error").number,
		}
		if t.good("from", "to") && m.Readings.LaneTime.To <= m.Readings.LaneTime.From {
			r.complain(t, t.field("to"), fmt.Sprintf("%s is not beyond %s, where the clock started", t.field("to").text, t.field("from").text))
		}
		if !v.has("lane") && !v.has("scenario") {
			r.fail(t, "needs a lane to simulate on: give  scenario, or  lane  and  ball", "")
		}
	}
	if f := v.field("frames"); f != absent {
		m.Readings.Frames = &measure.FrameCount{
			Revolutions: reading(f, "revolutions", "revolutions_error"), Frames: reading(f, "frames", "error"), FramesPerSecond: f.field("rate").number,
		}
	}
	if ring := v.field("ring"); ring.form != nil {
		r.ring(ring, m)
		if ring.has("points") && v.field("pap") != absent {
			r.fail(v.field("pap"), "the points of the ring already give the PAP: leave one of them out", "")
		}
	}
	if p := v.field("photo"); p != absent {
		m.Readings.Photo = &measure.Photo{View: measure.View(p.field("view").word), Angle: reading(p, "angle", "error"), Elevation: reading(p, "elevation", "elevation_error")}
		switch behind := p.field("view").word == string(measure.FromBehind); {
		case behind && !p.has("elevation"):
			r.missing(p, "elevation", "from behind the picture depends on the camera's height")
		case !behind && p.good("view") && p.field("elevation") != absent:
			r.fail(p.field("elevation"), "belongs to a picture from behind", "")
		}
	}
	if m.Readings == (measure.Readings{}) && !v.has("ring") {
		r.add(v.at, "", "nothing is measured: give "+either([]string{"lane_time", "frames", "ring", "photo"}), "")
	}
}

// ring resolves an oil ring.
func (r *reader) ring(v *value, m *Measurements) {
	if v.form.field("points") == nil {
		span := &measure.RingSpan{Size: measure.Reading{Value: v.field("size").number, Error: v.field("error").number}}
		if i := slices.IndexFunc(across, func(a way) bool { return a.word == v.field("across").word }); i >= 0 {
			span.Method = across[i].size
		}
		m.Readings.RingSize = span
		return
	}
	points := &measure.RingPoints{Error: v.field("error").number}
	for _, item := range v.field("points").items {
		if item.sound() {
			points.Points = append(points.Points, ball.SurfacePoint{Over: item.items[0].number, Up: item.items[1].number})
		}
	}
	m.Readings.Ring = points
}
