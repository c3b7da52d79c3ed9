package film

import "slices"

// passes are the pieces of the contact's path over the ball that lie beside a point c. Along the path p the
// slope of p·c is along·c. It falls through zero where the path passes the point: once a turn for a ball that
// turns about much the same axis. As the point moves on, these places move with it, so each is searched from
// its last place; one that stays well aside is updated only now and then. All passes are searched again if
// one is missing or does not move as the ball turns.
type passes struct {
	list     []pass  // the latest first
	marks    []int32 // places about a radian apart
	followed bool    // rather than looked up in the index
}

// pass is a piece of the path beside the point, and the angle in rad turned when it was last found.
type pass struct {
	piece  int32
	turned float64
}

// Passes are followed while there are at most mostPasses and the circle on which the contact moves is wide
// enough.
const (
	mostPasses  = 64
	leastCircle = 4 // radius of the circle, in widths of the contact

	wellAside   = 3   // distance in widths beyond which a pass is not beside the contact
	mostStale   = 2.4 // rad of turning for which it then need not be updated
	mostBetween = 2.5 // rad of turning after which a pass must be searched again
	mostAhead   = 1.5 // rad by which its motion may differ from the turning of the ball
	mostApart   = 9.4 // rad, a turn and a half, the most between one pass and the next
	betweenMark = 1   // rad between marks

	// The most before the earliest pass, if the path begins on a falling slope and on a rising one.
	mostBeforeFalling = 6.6 // rad
	mostBeforeRising  = 4.5 // rad
)

func (p *passes) reset() { *p = passes{list: p.list[:0], marks: p.marks[:0], followed: true} }

// mark makes the last place a mark if it is far enough from the previous mark.
func (f *Field) mark() {
	p, n := &f.passes, len(f.places)-1
	if m := len(p.marks); m == 0 || f.places[n].turned > f.places[p.marks[m-1]].turned+betweenMark {
		p.marks = append(p.marks, int32(n))
	}
}

// follow lists where earlier passes cover a touch, the latest first. It returns false if there are too many
// passes to follow.
func (f *Field) follow(t *Touch, along *Vector) bool {
	if len(f.places) >= 2 && !f.followEach(t, along) {
		f.findPasses(t)
		f.crossed = f.crossed[:0]
		for _, p := range f.passes.list {
			f.addPass(t, along, p.piece, dot(t.Point, f.places[p.piece].along), dot(t.Point, f.places[p.piece+1].along))
		}
	}
	return len(f.passes.list) <= mostPasses
}

// followEach moves the passes with the touch, and reports whether each is where it must be after the turning
// of the ball.
func (f *Field) followEach(t *Touch, along *Vector) bool {
	c, places, list := t.Point, f.places, f.passes.list
	last, turned := int32(len(places)), t.Turned // of the previous pass in the list, which is later in time
	for i := range list {
		p := &list[i]
		k := p.piece
		from, between := places[k].turned, t.Turned-p.turned
		at := from + between
		if between > -mostStale && between < mostStale {
			if x := f.perWidth * (dot(c, places[k].axis) - places[k].height); x > wellAside || x < -wellAside {
				if turned-at > mostApart {
					return false
				}
				last, turned = k, at
				continue
			}
		} else if between > mostBetween || between < -mostBetween {
			return false
		}
		behind, ahead := dot(c, places[k].along), 0.0
		if behind < 0 {
			for k--; ; k-- {
				if k < 0 {
					return false
				}
				if ahead, behind = behind, dot(c, places[k].along); behind >= 0 {
					break
				}
			}
		} else {
			for {
				if k+1 >= last {
					return false
				}
				if ahead = dot(c, places[k+1].along); ahead < 0 {
					break
				}
				k, behind = k+1, ahead
			}
		}
		now := places[k].turned
		if now-at > mostAhead || now-at < -mostAhead || turned-now > mostApart {
			return false
		}
		p.piece, p.turned = k, t.Turned
		last, turned = k, now
		f.addPass(t, along, k, behind, ahead)
	}
	if dot(c, places[0].along) >= 0 {
		return turned <= mostBeforeRising
	}
	return turned <= mostBeforeFalling
}

// findPasses searches all passes.
func (f *Field) findPasses(t *Touch) {
	p := &f.passes
	p.list = p.list[:0]
	rising := false
	for i, k := range p.marks {
		if f.places[k].turned > t.Turned-sameTurn {
			break
		}
		was := rising
		if rising = dot(t.Point, f.places[k].along) >= 0; was && !rising {
			piece := p.marks[i-1]
			for dot(t.Point, f.places[piece+1].along) >= 0 {
				piece++
			}
			p.list = append(p.list, pass{piece, t.Turned})
		}
	}
	slices.Reverse(p.list)
}
