package engine

import (
	"context"
	"fmt"
	"math"
	"time"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/layouts"
	"lanesim/report/thrown"
	"lanesim/studies"
	"lanesim/units"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	// trackSpacing is the angle of rotation between points of a track at rest, about 6 mm
	// on the ball. While a slider moves it is coarser.
	trackSpacing       = 3 * units.Degree
	coarseTrackSpacing = 30 * units.Degree

	// apartSpacing is the step in distance of the list of boards apart.
	apartSpacing = 0.5 * units.Foot

	// micrometre is the unit of films in packed numbers.
	micrometre = units.Micrometre
)

// The numbers of values in a point of a path and in one of a track.
const pathStride, trackStride = 17, 8

// firstRows are the few numbers shown first.
var firstRows = map[string]bool{
	"entry_board": true, "entry_angle_deg": true, "friction_read_distance_ft": true, "breakpoint_distance_ft": true,
	"breakpoint_board": true, "hit": true, "pins_speed_mph": true, "flare_in": true,
}

// throw answers with both shots.
func (e *Engine) throw(ctx context.Context, r request, _ Progress) (answer, error) {
	began := time.Now()
	s, err := e.read(r.State)
	if err != nil {
		return answer{}, err
	}
	shots, err := e.shots(ctx, s, r.Rest)
	if err != nil {
		return answer{}, err
	}
	a := answer{is: "shots"}
	capacity := 2 * int(s.lane().Length/apartSpacing+1)
	if oil := s.lane().Oil; oil != nil {
		capacity += lane.Boards * len(oil.Distances)
	}
	for side := range shots {
		capacity += pathStride*len(shots[side].Shot.Path) + trackStride*len(shots[side].Shot.Track)
	}
	a.packed = make(packed, 0, capacity)
	cautions := texts(s.Warnings)
	var objects report.List
	for side := range shots {
		t := &shots[side]
		objects = append(objects, a.packed.shot(s, side, t, r.Rest))
		if r.Rest {
			if warning := layouts.OverHoles(t.Shot.Track, s.balls[side].Drilling); warning != "" {
				cautions = append(cautions, fmt.Sprintf("%s: %s", t.Ball, warning))
			}
		}
	}
	cautions = append(cautions, thrown.NearGutters(shots[:])...)
	values, assumed := report.Object{}, []string{}
	if r.Rest {
		if values, err = s.values([sides]float64{shots[sideA].Release.Angle, shots[sideB].Release.Angle}); err != nil {
			return answer{}, err
		}
		assumed = append(assumed, s.Defaults()...)
	}
	a.members = report.ObjectOf(
		"rest", r.Rest, "title", s.Title, "shots", objects,
		"rows", rows(&shots[sideA], &shots[sideB], r.Rest),
		"apart", a.packed.apart(shots[sideA].Shot.Path, shots[sideB].Shot.Path),
		"lane", a.packed.lane(s),
		"values", values, "cautions", cautions, "assumed", assumed,
		"milliseconds", float64(time.Since(began).Microseconds())/1000,
	)
	return a, nil
}

// shots throws both balls: at rest as the program does, while a slider moves at a looser
// tolerance.
func (e *Engine) shots(ctx context.Context, s *setup, rest bool) (shots [sides]thrown.Shot, err error) {
	lines, err := e.linesOf(ctx, s, rest)
	if err != nil {
		return shots, err
	}
	settings := s.settings()
	settings.TrackSpacing = trackSpacing
	if !rest {
		settings.TrackSpacing, settings.PathSpacing = coarseTrackSpacing, apartSpacing
		if settings.Tolerance == 0 {
			settings.Tolerance = studies.ManyShotsTolerance
		}
	}
	for side := range shots {
		b := s.bowler()
		t := &shots[side]
		*t = thrown.Shot{Lane: s.lane().Name, Ball: s.Balls[side].Name, Bowler: b.Name, Pocket: thrown.Pocket(settings, s.bowler().Release), FootToBall: b.FootToBall,
			Release: lines[side].Release, Aimed: lines[side].aimed}
		if t.Shot, err = e.thrower.Throw(s.lane(), s.balls[side].Prepared, t.Release, settings); err != nil {
			return shots, fmt.Errorf("%s: %w", t.Ball, err)
		}
		if rest {
			if t.Inputs, err = s.InputsFrom(s.balls[side], t.Release.Laydown, t.Release.Angle); err != nil {
				return shots, err
			}
		}
	}
	return shots, nil
}

// shot packs a shot's path and track, and returns the shot's object.
func (p *packed) shot(s *setup, side int, t *thrown.Shot, rest bool) report.Object {
	from := len(*p)
	for _, x := range t.Shot.Path {
		q := x.Orientation
		p.add(x.Time, x.Distance, x.Lateral, x.Board, x.Heading/units.Degree, x.Speed, x.RevRate, x.AxisRotation/units.Degree, x.AxisTilt/units.Degree,
			x.Slip, x.Friction, x.Oil/micrometre, x.BallOil/micrometre, q[0], q[1], q[2], q[3])
	}
	path := p.points(from, pathStride)
	from = len(*p)
	for _, x := range t.Shot.Track {
		p.add(x.Time, x.Distance, x.Turned, x.Point[0], x.Point[1], x.Point[2], x.Found/micrometre, x.Left/micrometre)
	}
	track := p.points(from, trackStride)
	var exact report.Object
	if rest {
		exact = t.Object()
	}
	b := s.balls[side].Prepared
	return report.ObjectOf(
		"ball", t.Ball, "status", string(t.Shot.Status), "hit", t.Hit(), "line", t.LineText(),
		"exact", exact, "events", events(t), "path", path, "track", track,
		"marks", marks(b, s.balls[side].Drilling),
		"radius", b.Radius, "contactWidth", b.Memory.ContactWidth, "left", t.Release.Hand == ball.Left,
	)
}

// events returns the events of a shot in their order down the lane.
func events(t *thrown.Shot) report.List {
	list := report.List{}
	for _, e := range thrown.Events(*t) {
		x := e.State
		list = append(list, report.ObjectOf(
			"key", e.Key, "label", e.Label, "time", x.Time, "distance", x.Distance,
			"lateral", x.Lateral, "board", x.Board,
			"text", fmt.Sprintf("%s at %s ft, board %s", e.Label, report.Foot.Show(x.Distance), report.Board.Show(x.Board)),
		))
	}
	return list
}

// marks returns the visible marks of a drilled ball: pin and PSA at their places before
// drilling, the PAP and the holes, in the body axes of the drilled ball.
func marks(b ball.Ball, d ball.Drilling) report.List {
	f := d.After.Frame
	mark := func(kind, label string, at r3.Vec, radius float64) report.Object {
		v := f.Body(at)
		return report.ObjectOf("kind", kind, "label", label, "at", v[:], "radius", radius)
	}
	list := report.List{mark("pap", "PAP", f.PAP, 0)}
	if m := d.Before.Moments; m[0] != m[2] {
		list = append(list, mark("pin", "pin", d.Before.Frame.Pin, 0))
		if m[1] != m[2] {
			list = append(list, mark("psa", "PSA", d.Before.Frame.PSA, 0))
		}
	}
	for _, h := range d.Holes {
		list = append(list, mark("hole", h.Name, h.Mouth, math.Asin(min(1, h.Diameter/2/b.Radius))))
	}
	return list
}

// lane packs the oil and returns the lane's object.
func (p *packed) lane(s *setup) report.Object {
	l := s.lane()
	var distances []float64
	from, end := len(*p), 0.0
	if o := l.Oil; o != nil {
		distances, end = o.Distances, o.Length()
		for _, x := range o.Distances {
			for board := range lane.Boards {
				p.add(o.Extended(x, lane.Lateral(float64(board+1))) / micrometre)
			}
		}
	}
	pocket := thrown.Pocket(s.Scenario.Settings, s.bowler().Release)
	return report.ObjectOf(
		"name", l.Name, "length", l.Length, "width", lane.Width, "boards", lane.Boards,
		"oilEnd", end, "oil", report.ObjectOf("distances", append([]float64{}, distances...), "film", p.array(from)),
		"pocket", []float64{pocket.Min, pocket.Max}, "left", s.bowler().Release.Hand == ball.Left,
	)
}

// rows returns the quantities of both shots and their differences, as in the program's table;
// while a slider moves without the texts, which do not change.
func rows(a, b *thrown.Shot, rest bool) report.List {
	var list report.List
	for _, c := range thrown.UsualShotColumns() {
		column, _ := thrown.FindShotColumn(c)
		row := report.ObjectOf("key", column.Key, "a", column.Show(*a), "b", column.Show(*b), "change", column.ShowChange(*a, *b))
		if rest {
			row = append(row, report.ObjectOf("label", column.Label, "unit", column.Shown.Suffix(), "meaning", column.Meaning, "first", firstRows[column.Key])...)
		}
		list = append(list, row)
	}
	return list
}

// apart packs distances in ft and the boards from a to b there.
func (p *packed) apart(a, b []physics.State) report.Object {
	start := len(*p)
	if len(a) > 0 && len(b) > 0 {
		from, to := max(a[0].Distance, b[0].Distance), min(a[len(a)-1].Distance, b[len(b)-1].Distance)
		for k := math.Ceil(from / apartSpacing); k*apartSpacing <= to+1e-9; k++ {
			x := min(k*apartSpacing, to)
			if d := studies.BoardAt(b, x) - studies.BoardAt(a, x); !math.IsNaN(d) {
				p.add(x/units.Foot, d)
			}
		}
	}
	return p.array(start)
}
