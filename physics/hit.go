package physics

// Hit says in the words of coaches where a ball meets the pins.
type Hit string

// The hits, from the bowler's side across the lane.
const (
	Missed       Hit = "missed" // the head pin; also on the far side
	LightHit     Hit = "light"
	PocketHit    Hit = "pocket"
	HighHit      Hit = "high"
	NoseHit      Hit = "nose"
	CrossoverHit Hit = "crossover"
)

// Boards at the pins at which hits begin and end, beside the pocket's window.
// That the head pin is missed follows from the radii of ball and pin; where a
// high hit ends is common practice.
const (
	lightFrom     = 13.5
	highUpTo      = 19.25
	noseUpTo      = 20.75
	crossoverUpTo = 26.5
)

// HitAt returns the hit of a ball that enters at a board, counted from the
// bowler's side, with a window of boards that count as the pocket.
func HitAt(board float64, pocket Window) Hit {
	switch {
	case pocket.Contains(board):
		return PocketHit
	case board >= lightFrom && board < pocket.Min:
		return LightHit
	case board > pocket.Max && board <= highUpTo:
		return HighHit
	case board > highUpTo && board <= noseUpTo:
		return NoseHit
	case board > noseUpTo && board <= crossoverUpTo:
		return CrossoverHit
	}
	return Missed
}
