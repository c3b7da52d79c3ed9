package physics

import "lanesim/lane"

// Hit is where a ball meets the pins, in the words of coaches.
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

// AllHits returns the hits in their order across the lane.
func AllHits() []Hit {
	return []Hit{LightHit, PocketHit, HighHit, NoseHit, CrossoverHit, Missed}
}

// Boards at the pins at which hits begin and end, outside the pocket's window. The boards beyond which the
// head pin is missed follow from the radii of ball and pin; the limits of high and nose hits are common
// practice.
const (
	lightFrom     = 13.5
	highUpTo      = 19.25
	noseUpTo      = 20.75
	crossoverUpTo = 26.5
)

// headPinBoard is the board of the head pin, the middle of the lane. Boards of one pocket are mirrored in it
// for the other.
const headPinBoard = (lane.Boards + 1) / 2

// Backup reports whether the release is a backup ball, which hooks toward the bowler's own side: it has a rev
// rate, and its axis rotation is negative.
func (r Release) Backup() bool { return r.RevRate > 0 && r.AxisRotation < 0 }

// PocketOf returns the pocket, in boards at the pins, and the window of good entry angles in rad for a
// release: those of the settings or, if they are zero, the defaults. A backup ball hits the other pocket from
// the other side: its windows are the mirror images.
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

// Verdicts reports whether the ball of a release enters in the pocket, and whether at a good angle, given its
// board and entry angle in rad at the pins. An angle is good only if the hit is light, pocket or high.
func (s Settings) Verdicts(r Release, board, angle float64) (inPocket, goodAngle bool) {
	pocket, good := s.PocketOf(r)
	switch HitAt(board, pocket) {
	case LightHit, PocketHit, HighHit:
		goodAngle = good.Contains(angle)
	}
	return pocket.Contains(board), goodAngle
}

// mirrored returns the mirror image of a window of boards in the head pin.
func mirrored(w Window) Window { return Window{2*headPinBoard - w.Max, 2*headPinBoard - w.Min} }

// beyondHeadPin reports whether a pocket is the one that backup balls hit, on the far side of the head pin.
func beyondHeadPin(pocket Window) bool { return pocket.Min+pocket.Max > 2*headPinBoard }

// HitAt returns the hit of a ball that enters at a board, counted from the bowler's side. The pocket is a
// window of boards. If it lies beyond the head pin, as for a backup ball, the hits are mirrored in the head
// pin.
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

// HitRange is the range of boards at the pins of one hit. From is the end nearer to the light side.
type HitRange struct {
	Hit      Hit
	From, To float64
}

// HitRanges returns the ranges of [HitAt] for a pocket, from light to crossover. A board at which two ranges
// meet belongs to the pocket or to the range nearer to it. Outside all ranges the ball misses the head pin.
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
