package compare

import (
	"math"
	"reflect"

	"lanesim/physics"
)

// meanShot returns the mean of shots that differ in the phase: paths, marks and events point by point, the
// numbers of the summary, and the verdicts of the mean entry. The mean has an event if all shots have it. If
// one of them does not reach the pins, the mean has its status, and the mean path is as long as the shortest.
func meanShot(shots []physics.Shot, r physics.Release, s physics.Settings) physics.Shot {
	m := shots[0]
	if len(shots) == 1 {
		return m
	}
	m.Events = mean(shots, func(s *physics.Shot) *physics.Events { return &s.Events })
	for i := len(shots) - 1; i >= 0; i-- {
		if shots[i].Status != physics.Pins {
			m.Status, m.Events.Gutter = shots[i].Status, shots[i].Events.Gutter
		}
	}
	m.Marks = meanStates(shots, func(s *physics.Shot) []physics.State { return s.Marks })
	m.Path = meanStates(shots, func(s *physics.Shot) []physics.State { return s.Path })
	m.Track = meanTrack(shots)
	m.Exchange = nil
	u := mean(shots, func(s *physics.Shot) *physics.Summary { return &s.Summary })
	u.Pocket, u.GoodAngle = false, false
	if at := m.Events.Pins; at != nil {
		u.Pocket, u.GoodAngle = s.Verdicts(r, at.Board, at.Heading)
	}
	point, end := m.Events.Breakpoint, m.Events.PatternEnd
	u.BreakpointInOil = point != nil && (end == nil && u.BreakpointInOil || end != nil && point.Distance < end.Distance)
	m.Summary = u
	return m
}

// meanStates returns the mean of states at equal distances, as many as the shortest shot has. The last state
// of a path is at the shot's end.
func meanStates(shots []physics.Shot, of func(*physics.Shot) []physics.State) []physics.State {
	var list []physics.State
	for k := 0; ; k++ {
		for i := range shots {
			if states := of(&shots[i]); k >= len(states) || states[k].Distance != of(&shots[0])[k].Distance {
				return list
			}
		}
		list = append(list, mean(shots, func(s *physics.Shot) *physics.State { return &of(s)[k] }))
	}
}

// meanTrack averages tracks with points at equal angles turned; Point is that of the first. The last point is
// at the shot's end.
func meanTrack(shots []physics.Shot) []physics.TrackPoint {
	var track []physics.TrackPoint
	for k, first := range shots[0].Track {
		for _, s := range shots {
			if k >= len(s.Track) || math.Abs(s.Track[k].Turned-first.Turned) > trackAngle/4 {
				return track
			}
		}
		p := mean(shots, func(s *physics.Shot) *physics.TrackPoint { return &s.Track[k] })
		p.Point = first.Point
		track = append(track, p)
	}
	return track
}

// mean returns the mean of a part of shots, field by field: of float64, of integers rounded, and of values
// behind pointers, nil if one of them is. Equal values stay; fields that are not numbers are those of the
// first shot.
func mean[T any](shots []physics.Shot, of func(*physics.Shot) *T) T {
	parts := make([]reflect.Value, len(shots))
	for i := range shots {
		parts[i] = reflect.ValueOf(of(&shots[i])).Elem()
	}
	m := *of(&shots[0])
	setMean(reflect.ValueOf(&m).Elem(), parts)
	return m
}

var stateType = reflect.TypeFor[physics.State]()

// setMean sets a value to the mean of others.
func setMean(to reflect.Value, of []reflect.Value) {
	inner := make([]reflect.Value, len(of))
	switch to.Kind() {
	case reflect.Struct:
		for f := range to.NumField() {
			if to.Type() == stateType && to.Type().Field(f).Name == "Orientation" {
				continue // orientations have no mean: keep the first
			}
			for i, v := range of {
				inner[i] = v.Field(f)
			}
			setMean(to.Field(f), inner)
		}
	case reflect.Array:
		for k := range to.Len() {
			for i, v := range of {
				inner[i] = v.Index(k)
			}
			setMean(to.Index(k), inner)
		}
	case reflect.Pointer:
		for i, v := range of {
			if v.IsNil() {
				to.SetZero()
				return
			}
			inner[i] = v.Elem()
		}
		own := reflect.New(to.Type().Elem())
		own.Elem().Set(inner[0])
		setMean(own.Elem(), inner)
		to.Set(own)
	case reflect.Float64:
		first, off := of[0].Float(), 0.0
		for _, v := range of[1:] {
			off += v.Float() - first
		}
		to.SetFloat(first + off/float64(len(of)))
	case reflect.Int:
		sum := 0.0
		for _, v := range of {
			sum += float64(v.Int())
		}
		to.SetInt(int64(math.Round(sum / float64(len(of)))))
	}
}
