package thrown

import (
	"fmt"
	"strings"
)

// Swept describes the shots of a sweep in a picture: points of curves or, over two fields, of maps.
type Swept struct {
	Shots int
	Maps  bool
	Each  []string // fields with a curve or a map for each value; nil for a single one

	Lacking      int // shots without a value that is drawn
	OnOtherLines int // shots on another line than the bowler's own
}

// Note describes the picture.
func (s Swept) Note() string {
	said, each, mark := "Each point is a shot", "curve", "open dots"
	if s.Maps {
		said, each, mark = fmt.Sprintf("%d shots; lines join equal values", s.Shots), "map", "crosses"
	}
	if len(s.Each) > 0 {
		said += "; a " + each + " for each " + strings.Join(s.Each, ", ")
	}
	if s.Lacking > 0 {
		said += fmt.Sprintf("; %d shots lack a value, where there is a gap", s.Lacking)
	}
	if s.OnOtherLines > 0 {
		said += fmt.Sprintf("; %d shots are on another line than the bowler's own: %s", s.OnOtherLines, mark)
	}
	return said + "."
}
