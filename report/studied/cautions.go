package studied

import (
	"fmt"
	"math"

	"lanesim/report"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/wear"
)

// ChanceOnly says what intervals do not include.
const ChanceOnly = "The intervals show what chance leaves open, not what the assumed values do"

// OwnFreshLane describes the lanes of balls that do not share one.
const OwnFreshLane = "Each ball is thrown on a fresh lane of its own, by the same bowler with the same misses."

// FromTable warns of results from the stored table of racks if the scenario has its own rack.
func FromTable(what string) string {
	return what + " from a stored table, made with the usual values of the pins, not with the scenario's"
}

// LevelCaution says that a skill level replaces a bowler's missing repeatability.
func (t Player) LevelCaution() string {
	return fmt.Sprintf("%s: repeatability is missing: %q is assumed", t.Bowler, t.Level)
}

// MeasureCaution says that a line was judged by another measure than requested, "" if it was not.
func (t AimedBall) MeasureCaution(asked aim.Measure) string {
	if t.None != nil || t.By == asked {
		return ""
	}
	return "hardly any delivery enters at a good angle, on any line: judged by the pocket alone"
}

// UntilCaution warns if the deliveries were too few for intervals of the given half width.
func (w *Spread) UntilCaution(until float64) string {
	widest := 0.0
	for _, s := range w.Result.Setups {
		widest = max(widest, studies.WilsonInterval(s.Pocket).HalfWidth())
	}
	if !(widest > until) {
		return ""
	}
	return fmt.Sprintf("after %d deliveries a pocket share is known to ± %s, not to ± %s: give more --shots", w.Result.Shots, report.Share(widest), report.Share(until))
}

// StoppedCaution gives the number of deliveries of an interrupted study.
func (w *Spread) StoppedCaution() string {
	return fmt.Sprintf("Stopped after %d of %d deliveries, and what each miss costs is not all there.", w.Result.Shots, w.Study.Shots)
}

// LastsText describes how long a line lasts within a number of deliveries.
func LastsText(s wear.Stay, deliveries int) string {
	switch {
	case math.IsNaN(s.Median):
		return "does not reach the pocket at first"
	case math.IsInf(s.Median, 0):
		return fmt.Sprintf("lasts for all %d deliveries: the share in the pocket stays above %s", deliveries, report.Share(s.Share))
	}
	return fmt.Sprintf("lasts for about %.0f deliveries: then the share in the pocket is below %s", s.Median, report.Share(s.Share))
}
