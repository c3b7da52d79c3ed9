package handout

import (
	"html/template"
	"math"
	"strconv"
	"strings"

	"lanesim/physics"
	"lanesim/report"
)

// Playback shows balls that roll down the lane in real time.
type Playback struct {
	Picture

	// OnWide and OnNarrow are the coordinates of the two pictures.
	OnWide, OnNarrow Stage

	Balls []Ball
}

// Stage converts distance and lateral position in m to coordinates of a picture: x = X + PerDistance ·
// distance, y = Y + PerLateral · lateral.
type Stage struct{ X, PerDistance, Y, PerLateral float64 }

// Ball is a ball with its path and status. Color is the CSS colour of its path on the picture.
type Ball struct {
	Name, Color string
	Path        []physics.State
	Status      physics.Status

	// Track, if not nil, is shown on the ball, which turns by the orientations of its path.
	Track []physics.TrackPoint
}

// turns reports whether all states have an orientation; means of several shots do not.
func (b Ball) turns() bool {
	for _, s := range b.Path {
		if q := s.Orientation; !(math.Abs(q[0]*q[0]+q[1]*q[1]+q[2]*q[2]+q[3]*q[3]-1) < 1e-6) {
			return false
		}
	}
	return len(b.Track) > 1
}

// playbackView is a playback for the page's template.
type playbackView struct {
	Picture
	Data   playbackData
	Balls  []ballView
	Heads  [][]piece
	Length float64 // s, of the longest shot

	Turning bool // whether any ball turns
}

// ballView is a ball with the numbers at its end.
type ballView struct {
	Number, Name, Distance, Board, Speed, Status string
	Color                                        template.CSS
}

// playbackData is the data of the script: for each ball times, distances, lateral positions, boards and
// speeds, each as a list of differences between consecutive whole numbers in the units of Scale. For a ball
// that turns, Turns has the quaternions of the same states and Tracks the times and points of its track in
// the same form, in ms and thousandths.
type playbackData struct {
	Turns  [][]string `json:"turns"`
	Tracks [][]string `json:"tracks"`
	Wide   [4]float64 `json:"wide"`
	Narrow [4]float64 `json:"narrow"`
	Scale  [5]float64 `json:"scale"`
	Paths  [][]string `json:"paths"`
	Colors []string   `json:"colors"`
}

// packed are the units of the data: ms, mm, tenths of mm, hundredths of boards and of mph.
var packed = [5]float64{1e-3, 1e-3, 1e-4, 1e-2, 1e-2}

const thousandth = 1e-3

// trackAngle is the angle in rad that a ball turns between points of its track.
const trackAngle = math.Pi / 12

// thinnedTrack returns the points of a track that a picture needs.
func thinnedTrack(track []physics.TrackPoint) []physics.TrackPoint {
	var list []physics.TrackPoint
	for _, p := range track {
		if len(list) == 0 || p.Turned-list[len(list)-1].Turned >= trackAngle {
			list = append(list, p)
		}
	}
	return list
}

// evenSigns returns the quaternions of states with signs such that interpolation takes the shorter way.
func evenSigns(states []physics.State) [][4]float64 {
	list := make([][4]float64, len(states))
	for i, s := range states {
		list[i] = s.Orientation
		if i == 0 {
			continue
		}
		dot := 0.0
		for k, v := range list[i-1] {
			dot += v * list[i][k]
		}
		if dot < 0 {
			for k := range list[i] {
				list[i][k] = -list[i][k]
			}
		}
	}
	return list
}

// frames is the largest number of states of a path per second.
const frames = 50

// thinned returns the states of a path that a moving picture needs: the first, the last, and at most [frames]
// per second.
func thinned(path []physics.State) []physics.State {
	var list []physics.State
	for i, s := range path {
		if i == 0 || i == len(path)-1 || s.Time-list[len(list)-1].Time >= 1.0/frames {
			list = append(list, s)
		}
	}
	return list
}

func (p Playback) view(m *marker) playbackView {
	v := playbackView{Picture: p.Picture, Data: playbackData{Wide: p.OnWide.numbers(), Narrow: p.OnNarrow.numbers(), Scale: packed}}
	for _, head := range []string{"distance, ft", "board", "speed, mph", "ended"} {
		v.Heads = append(v.Heads, m.mark(head))
	}
	for i, b := range p.Balls {
		states := thinned(b.Path)
		var lists []string
		for k, of := range []func(physics.State) float64{
			func(s physics.State) float64 { return s.Time },
			func(s physics.State) float64 { return s.Distance },
			func(s physics.State) float64 { return s.Lateral },
			func(s physics.State) float64 { return s.Board },
			func(s physics.State) float64 { return report.MPH.In(s.Speed) },
		} {
			lists = append(lists, deltas(states, of, packed[k]))
		}
		var turns, track []string
		if b.turns() {
			turned := evenSigns(states)
			points := thinnedTrack(b.Track)
			track = append(track, deltas(points, func(p physics.TrackPoint) float64 { return p.Time }, packed[0]))
			for k := range 4 {
				turns = append(turns, deltas(turned, func(q [4]float64) float64 { return q[k] }, thousandth))
				if k < 3 {
					track = append(track, deltas(points, func(p physics.TrackPoint) float64 { return p.Point[k] }, thousandth))
				}
			}
			v.Turning = true
		}
		v.Data.Turns, v.Data.Tracks = append(v.Data.Turns, turns), append(v.Data.Tracks, track)
		v.Data.Paths, v.Data.Colors = append(v.Data.Paths, lists), append(v.Data.Colors, b.Color)
		last := states[len(states)-1]
		v.Length = max(v.Length, last.Time)
		v.Balls = append(v.Balls, ballView{
			Number: strconv.Itoa(i + 1), Name: b.Name, Color: template.CSS(b.Color), Status: string(b.Status),
			Distance: report.Foot.Show(last.Distance), Board: report.Board.Show(last.Board), Speed: report.MPH.Show(last.Speed),
		})
	}
	return v
}

func (s Stage) numbers() [4]float64 {
	round := func(v float64) float64 { return math.Round(100*v) / 100 }
	return [4]float64{round(s.X), round(s.PerDistance), round(s.Y), round(s.PerLateral)}
}

// deltas formats numbers as whole multiples of a unit, each minus the one before.
func deltas[T any](states []T, of func(T) float64, unit float64) string {
	var b strings.Builder
	before := 0
	for i, s := range states {
		v := int(math.Round(of(s) / unit))
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(strconv.Itoa(v - before))
		before = v
	}
	return b.String()
}
