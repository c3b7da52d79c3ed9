package film

import "slices"

// passes finds the pieces of the contact's path over the ball that lie beside a point. Along
// the path the slope of its height over the point, p·c, is along·c; it falls through zero
// where the path passes the point: once a turn for a ball that turns about much the same
// axis. As the point moves on these places move along with it, so that each is found from
// where it was; one that stays well aside needs no finding but now and then. All are
// looked for anew where one is missing or moves other than the ball turns.
type passes struct {
	list     []pass  // the latest first
	marks    []int32 // places about a radian apart
	followed bool    // rather than looked up in the index
}

// pass is the piece of the path that is beside the point when the ball has turned by so many rad.
type pass struct {
	piece  int32
	turned float64
}

// Passes are followed while there are not many and the circle on which the contact moves is
// mostly wider than it.
const (
	mostPasses  = 64
	leastCircle = 4 // widths

	wellAside   = 3   // widths at which a pass is not beside the contact
	mostStale   = 2.4 // rad of turning for which that holds
	mostBetween = 2.5 // rad of turning from which a pass is found again
	mostAhead   = 1.5 // rad by which it may move more or less than the ball turns
	mostApart   = 9.4 // rad, a turn and a half, between one pass and the next
	betweenMark = 1   // rad

	// before the earliest pass, where the path begins on a falling slope and on a rising one
	mostBeforeFalling = 6.6 // rad
	mostBeforeRising  = 4.5 // rad
)

func (p *passes) reset() { *p = passes{list: p.list[:0], marks: p.marks[:0], followed: true} }

// mark notes the last place where it is far enough from the mark before.
func (f *Field) mark() {
	p, n := &f.passes, len(f.places)-1
	if m := len(p.marks); m == 0 || f.places[n].turned > f.places[p.marks[m-1]].turned+betweenMark {
		p.marks = append(p.marks, int32(n))
	}
}

// follow lists where earlier passes cover a touch, the latest first. It reports false where
// there are too many to follow.
func (f *Field) follow(t *Touch, along *Vector) bool {
	if len(f.places) >= 2 && !f.followEach(t, along) {
		f.findPasses(t)
		f.crossed = f.crossed[:0]
		for _, p := range f.passes.list {
			f.beside(t, along, p.piece, dot(t.Point, f.places[p.piece].along), dot(t.Point, f.places[p.piece+1].along))
		}
	}
	return len(f.passes.list) <= mostPasses
}

// followEach moves the passes along with the touch, and reports whether they are where they should
// be after the ball has turned as it did.
func (f *Field) followEach(t *Touch, along *Vector) bool {
	c, places, list := t.Point, f.places, f.passes.list
	last, turned := int32(len(places)), t.Turned // of the pass before, which is later
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
		f.beside(t, along, k, behind, ahead)
	}
	if dot(c, places[0].along) >= 0 {
		return turned <= mostBeforeRising
	}
	return turned <= mostBeforeFalling
}

// findPasses finds the passes without knowing any.
func (f *Field) findPasses(t *Touch) {
	p := &f.passes
	p.list = p.list[:0]
	rising := false
	for i, k := range p.marks {
		if f.places[k].turned > t.Turned-now {
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
