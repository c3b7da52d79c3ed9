package main

import (
	"fmt"
	"time"

	"lanesim/report"
)

// sweepProgress shows on a terminal how many rows of a sweep are done, their rate and the
// time left.
type sweepProgress struct {
	program      *program // nil to show nothing
	from, total  uint64
	done         uint64
	start, shown time.Time
}

// sayEvery is the time between updates.
const sayEvery = 200 * time.Millisecond

func (p *program) sweepProgress(from, total uint64) *sweepProgress {
	s := &sweepProgress{from: from, done: from, total: total, start: time.Now()}
	if !p.common.quiet && terminal(p.err) {
		s.program = p
	}
	return s
}

// step counts a row as done.
func (s *sweepProgress) step() {
	s.done++
	if s.program == nil {
		return
	}
	if now := time.Now(); now.Sub(s.shown) >= sayEvery {
		s.shown = now
		fmt.Fprintf(s.program.err, "\r%s\x1b[K", s.line(now.Sub(s.start)))
	}
}

// line returns the text after a time.
func (s *sweepProgress) line(after time.Duration) string {
	text := fmt.Sprintf("row %d of %d", s.done, s.total)
	perSecond := float64(s.done-s.from) / after.Seconds()
	if after < sayEvery || perSecond <= 0 {
		return text
	}
	left := time.Duration(float64(s.total-s.done) / perSecond * float64(time.Second))
	switch {
	case left >= time.Minute:
		left = left.Round(time.Minute)
		return fmt.Sprintf("%s, %s/s, %d h %02d min left", text, report.Figure(perSecond), int(left.Hours()), int(left.Minutes())%60)
	default:
		return fmt.Sprintf("%s, %s/s, %d s left", text, report.Figure(perSecond), int(left.Seconds()+0.5))
	}
}

// wipe clears the line.
func (s *sweepProgress) wipe() {
	if s.program != nil {
		fmt.Fprint(s.program.err, "\r\x1b[K")
	}
}
