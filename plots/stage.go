package plots

// Stage gives the places of the lane on an inlined drawing of one lane, in the drawing's
// units, so that balls can move over it: x = X + PerDistance · distance and y = Y +
// PerLateral · lateral, with both in m as in [physics.State].
type Stage struct {
	X, PerDistance float64
	Y, PerLateral  float64
	Colors         []string // of the shots, as they are drawn
}

// Stage returns the places of the lane on a drawing of one lane by [Lane] or [Combined]; ok
// is false for other drawings.
func (d *Drawing) Stage() (s Stage, ok bool) { return d.stage, d.stage.PerDistance != 0 }

func (l *lanePanel) stage() Stage {
	origin, far, left := l.point(0, 0), l.point(1, 0), l.point(0, 1)
	s := Stage{
		X: perPoint * origin.x, PerDistance: perPoint * (far.x - origin.x),
		Y: perPoint * origin.y, PerLateral: perPoint * (left.y - origin.y),
	}
	for i := range l.v.Series {
		s.Colors = append(s.Colors, hex(l.shotStroke(i).color))
	}
	return s
}
