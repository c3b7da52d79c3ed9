package physics

import "lanesim/lane"

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

// AllHits are the hits in their order across the lane.
func AllHits() []Hit {
	return []Hit{LightHit, PocketHit, HighHit, NoseHit, CrossoverHit, Missed}
}

// Boards at the pins at which hits begin and end, beside the pocket's window.
// That the head pin is missed follows from the radii of ball and pin; where a
// high hit ends is common practice.
const (
	lightFrom     = 13.5
	highUpTo      = 19.25
	noseUpTo      = 20.75
	crossoverUpTo = 26.5
)

// headPinBoard is the board of the head pin, the middle of the lane, in which what is said
// of one pocket is mirrored for the other.
const headPinBoard = (lane.Boards + 1) / 2

// Backup reports whether the ball hooks toward the bowler's own side, as a backup ball
// does: it turns, and its axis rotation is negative.
func (r Release) Backup() bool { return r.RevRate > 0 && r.AxisRotation < 0 }

// PocketOf returns the windows of boards at the pins and of entry angles in rad by which
// a release is judged: those of the settings or, if they are zero, the defaults. A
// backup ball strikes the other pocket from the other side: its windows are the mirror
// images of those.
func (s Settings) PocketOf(r Release) (pocket, goodAngle Window) {
	pocket, goodAngle = s.Pocket, s.GoodAngle
	if pocket == (Window{}) {
		pocket = DefaultPocket
	}
	if goodAngle == (Window{}) {
		goodAngle = DefaultGoodAngle
	}
	if r.Backup() {
		pocket = mirrored(pocket)
		goodAngle = Window{-goodAngle.Max, -goodAngle.Min}
	}
	return pocket, goodAngle
}

// Verdicts judge where and at which angle in rad a release's ball enters: whether in the
// pocket, and whether at a good angle. No angle is good that brings the ball to the pins
// neither in the pocket nor light or high beside it.
func (s Settings) Verdicts(r Release, board, angle float64) (inPocket, goodAngle bool) {
	pocket, good := s.PocketOf(r)
	switch HitAt(board, pocket) {
	case LightHit, PocketHit, HighHit:
		goodAngle = good.Contains(angle)
	}
	return pocket.Contains(board), goodAngle
}

// mirrored is a window of boards as the head pin mirrors it.
func mirrored(w Window) Window { return Window{2*headPinBoard - w.Max, 2*headPinBoard - w.Min} }

// beyondHeadPin reports whether a pocket is the other one, which backup balls strike.
func beyondHeadPin(pocket Window) bool { return pocket.Min+pocket.Max > 2*headPinBoard }

// HitAt returns the hit of a ball that enters at a board, counted from the
// bowler's side, with a window of boards that count as the pocket. If that lies beyond
// the head pin, as a backup ball's does, hits are mirrored in the head pin.
func HitAt(board float64, pocket Window) Hit {
	if beyondHeadPin(pocket) {
		board, pocket = 2*headPinBoard-board, mirrored(pocket)
	}
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

// HitRange is a range of boards at the pins that has a word, from the side from which a ball
// meets the pins light.
type HitRange struct {
	Hit      Hit
	From, To float64
}

// HitRanges are the ranges of [HitAt] about a pocket, from light to crossover. A board at
// which two of them meet belongs to the pocket or to the one nearer to it; beyond all of them
// the head pin is missed.
func HitRanges(pocket Window) []HitRange {
	backup := beyondHeadPin(pocket)
	if backup {
		pocket = mirrored(pocket)
	}
	list := []HitRange{{LightHit, lightFrom, pocket.Min}, {PocketHit, pocket.Min, pocket.Max}, {HighHit, pocket.Max, highUpTo}, {NoseHit, highUpTo, noseUpTo}, {CrossoverHit, noseUpTo, crossoverUpTo}}
	for i := range list {
		if r := &list[i]; backup {
			r.From, r.To = 2*headPinBoard-r.From, 2*headPinBoard-r.To
		}
	}
	return list
}
