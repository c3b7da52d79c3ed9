package wear

import (
	"math"

	"lanesim/pins"
	"lanesim/studies"
	"lanesim/studies/aim"
)

// blocks summarises the deliveries of each block and setup.
func (w Study) blocks(sessions [][]DeliveryResult) []Block {
	strikes := func(DeliveryResult) float64 { return 0 }
	if w.By == aim.ByStrikeShare {
		strikes = func(d DeliveryResult) float64 {
			return pins.Stored().Strikes(pins.Entry{Board: d.EntryBoard, Angle: d.EntryAngle, Mass: w.Setups[d.Setup].Ball.Mass, Speed: d.EntrySpeed})
		}
	}
	var list []Block
	for from := w.Practice; from < len(w.Order); from += w.Block {
		to := min(from+w.Block, len(w.Order))
		part := make([][]DeliveryResult, len(sessions))
		for i, session := range sessions {
			part[i] = session[from:to]
		}
		for setup := range w.Setups {
			if b := blockOf(setup, part, strikes); b.Pocket.Of > 0 {
				b.From, b.To = from-w.Practice, to-1-w.Practice
				list = append(list, b)
			}
		}
	}
	return list
}

// blockOf summarises a setup's deliveries in parts of sessions. strikes returns the probability of a strike
// for a delivery that reaches the pins.
func blockOf(setup int, part [][]DeliveryResult, strikes func(DeliveryResult) float64) Block {
	b := Block{Setup: setup}
	reached, sum := 0, 0.0
	var shares []float64 // of strikes
	for _, session := range part {
		for _, d := range session {
			if d.Setup != setup {
				continue
			}
			b.Pocket = b.Pocket.Plus(studies.CountOf([]bool{d.Pocket}))
			share := 0.0
			if !math.IsNaN(d.EntryBoard) {
				reached++
				sum += d.EntryBoard
				share = strikes(d)
			}
			shares = append(shares, share)
		}
	}
	b.StrikeShare, b.EntryBoardMean = studies.MeanOf(shares), sum/float64(reached)
	return b
}
