package pins

import "slices"

// Result is the outcome of one rack, for the bowler's hand.
type Result struct {
	Standing Leave // the pins that stand at the end; a pin that slid and stands counts

	// First is what touched each pin first, pin 1 at index 0.
	First [Count]Touch

	Ball Leave // the pins that the ball touched

	// Exit is the board, in the bowler's boards, at which the ball's centre leaves the
	// deck: at its far end, or where it drops into a gutter earlier. ExitHeading is its
	// heading there in rad, positive to the off side, and ExitTime when it is, in s.
	Exit, ExitHeading, ExitTime float64

	// BallStayed is set if the ball was still on the deck at the end.
	BallStayed bool

	Time    float64 // s from the hand-over to the end
	TimeUp  bool    // the rack was ended after 4 s
	Fastest float64 // m/s, of any pin
	Overlap float64 // m, the deepest overlap of two bodies, a numerical error

	// Path is the ball's path, and Pins those of the pins that were touched, pin 1 at
	// index 0; nil if Settings.PathSpacing is 0.
	Path []PathPoint
	Pins [Count][]PinPoint
}

// Mirror returns the mirror image, with the numbers of the mirrored pins. Boards still
// count from the bowler's side; paths lie on the other side.
func (r Result) Mirror() Result {
	m := r
	m.Standing, m.Ball = r.Standing.Mirror(), r.Ball.Mirror()
	m.Path = slices.Clone(r.Path)
	for i := range m.Path {
		m.Path[i].Y = -m.Path[i].Y
	}
	for i := range Count {
		to := mirrored[i+1] - 1
		m.First[to] = r.First[i]
		if by := r.First[i].By; by > 0 {
			m.First[to].By = mirrored[by]
		}
		m.Pins[to] = slices.Clone(r.Pins[i])
		for k := range m.Pins[to] {
			p := &m.Pins[to][k]
			p.Y, p.Axis[1] = -p.Y, -p.Axis[1]
		}
	}
	return m
}

// Touch is what touched a pin first.
type Touch struct {
	By   int     // the pin's number, ByBall or Untouched
	Time float64 // s from the hand-over
}

const (
	// ByBall is the ball.
	ByBall = 0

	// Untouched means that nothing touched the pin.
	Untouched = -1
)

// PathPoint is the ball's centre at one instant, in this package's frame.
type PathPoint struct{ Time, X, Y, Z float64 }

// PinPoint is a pin at one instant: its mass centre, in this package's frame, and the
// unit vector along its axis, from base to head.
type PinPoint struct {
	Time, X, Y, Z float64
	Axis          [3]float64
}

// Strike reports whether no pin stands.
func (r Result) Strike() bool { return r.Standing == 0 }
