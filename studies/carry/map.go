package carry

import (
	"context"
	"math"
	"slices"

	"lanesim/physics"
	"lanesim/pins"
	"lanesim/studies"
)

// MapResult is the share of strikes by entry board and entry angle of a bowler's line, averaged over the
// bowler's scatter: Strikes[i][j] is for Boards[i] and Angles[j]. It is computed from the stored table of
// racks.
type MapResult struct {
	Boards, Angles []float64 // angles in rad
	Strikes        [][]float64
	Intervals      [][]studies.Interval // of Strikes, over the deliveries of the average

	// The scatter at the pins, standard deviations in boards and rad.
	BoardScatter, AngleScatter float64
}

// The map's grid, and the deliveries over which it averages.
const (
	mapFrom, mapTo, mapStep = 13.0, 27.0, 0.25 // boards
	mapAngles, mapAngleStep = 21, 0.5          // from 0, degrees
	mapDeliveries           = 200
)

// Map computes the map for the setup's bowler, ball and speed.
func (d Deliveries) Map(ctx context.Context) (MapResult, error) {
	var m MapResult
	list, err := d.throw(ctx, 0, mapDeliveries)
	if err != nil {
		return m, err
	}
	list = slices.DeleteFunc(list, func(t arrival) bool { return !t.Reached })
	if len(list) == 0 {
		return m, &NotAtPinsError{physics.Gutter}
	}
	n, board, angle, speed := float64(len(list)), 0.0, 0.0, 0.0
	for _, t := range list {
		board, angle, speed = board+t.Board, angle+t.Angle, speed+t.Speed
	}
	board, angle, speed = board/n, angle/n, speed/n
	for _, t := range list {
		m.BoardScatter += (t.Board - board) * (t.Board - board)
		m.AngleScatter += (t.Angle - angle) * (t.Angle - angle)
	}
	m.BoardScatter, m.AngleScatter = math.Sqrt(m.BoardScatter/max(n-1, 1)), math.Sqrt(m.AngleScatter/max(n-1, 1))
	for b := mapFrom; b <= mapTo; b += mapStep {
		m.Boards = append(m.Boards, b)
	}
	for j := range mapAngles {
		m.Angles = append(m.Angles, float64(j)*mapAngleStep*math.Pi/180)
	}
	table := pins.Stored()
	m.Strikes, m.Intervals = make([][]float64, len(m.Boards)), make([][]studies.Interval, len(m.Boards))
	shares := make([]float64, len(list))
	for i, b := range m.Boards {
		m.Strikes[i], m.Intervals[i] = make([]float64, len(m.Angles)), make([]studies.Interval, len(m.Angles))
		for j, a := range m.Angles {
			for k, t := range list {
				shares[k] = table.Strikes(pins.Entry{Board: b + t.Board - board, Angle: a + t.Angle - angle, Mass: d.Setup.Ball.Mass, Speed: speed})
			}
			share := studies.MeanOf(shares)
			m.Strikes[i][j], m.Intervals[i][j] = share.Value, studies.Interval{Low: max(0, share.Low), High: min(1, share.High)}
		}
	}
	return m, nil
}
