package pins

// Result is what became of one rack, in the bowler's terms.
type Result struct {
	Standing Leave // the pins that stand at the end; a pin that slid and stands counts

	// First is what touched each pin first, pin 1 at index 0.
	First [Count]Touch

	Ball Leave // the pins that the ball touched

	// Exit is the board, in the bowler's boards, at which the ball's centre leaves the
	// deck: at its far end, or where it drops into a gutter earlier. ExitHeading is its
	// heading there in rad, positive to the off side, and ExitTime when it is, in s.
	Exit, ExitHeading, ExitTime float64

	// BallStayed says that the ball was still on the deck at the end.
	BallStayed bool

	Time    float64 // s from the hand-over to the end
	TimeUp  bool    // the rack was ended after 4 s
	Fastest float64 // m/s, of any pin
	Overlap float64 // m, the deepest that bodies were found in each other

	// Path is the ball's path; nil unless Settings.PathSpacing asks for it.
	Path []PathPoint
}

// Touch is what touched a pin first.
type Touch struct {
	By   int     // the pin's number, ByBall or Untouched
	Time float64 // s from the hand-over
}

const (
	// ByBall says that the ball touched a pin.
	ByBall = 0

	// Untouched says that nothing did.
	Untouched = -1
)

// PathPoint is the ball's centre at one instant, in this package's frame.
type PathPoint struct{ Time, X, Y, Z float64 }

// Strike reports whether no pin stands.
func (r Result) Strike() bool { return r.Standing == 0 }
