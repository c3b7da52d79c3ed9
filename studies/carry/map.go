package carry

import (
	"context"
	"math"
	"slices"

	"lanesim/physics"
	"lanesim/pins"
	"lanesim/studies"
)

// MapResult is the share of strikes over the board and the angle at which a bowler's line
// enters, blurred by the bowler's own scatter: Strikes[i][j] belongs to Boards[i] and
// Angles[j]. It comes from the stored table of racks.
type MapResult struct {
	Boards, Angles []float64 // angles in rad
	Strikes        [][]float64
	Intervals      [][]studies.Interval // of Strikes, over the deliveries that blur it

	// The scatter at the pins: one standard deviation.
	BoardScatter, AngleScatter float64
}

// The map's grid, and the deliveries that blur it.
const (
	mapFrom, mapTo, mapStep = 13.0, 27.0, 0.25 // boards
	mapAngles, mapAngleStep = 21, 0.5          // from 0, degrees
	mapDeliveries           = 200
)

// Map returns the map of the setup's bowler, ball and speed.
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

// leaveDeliveries is from how many deliveries the shares of leaves are.
const leaveDeliveries = 400

// leaves returns the shares of leaves after the first balls, from the stored
// table of racks, or those after the balls of a usual bowler about the pocket: board 17.5
// and 4.5°, with scatters of 1.5 boards and 0.7°.
func (d Deliveries) leaves(ctx context.Context, usual bool) (*[pins.All + 1]float64, error) {
	const board, boards, angle, angles, speed = 17.5, 1.5, 4.5 * math.Pi / 180, 0.7 * math.Pi / 180, 7.6
	var shares, turnedShares [pins.All + 1]float64
	table := pins.Stored()
	if usual {
		for k := range leaveDeliveries {
			z := studies.DrawDeviates(d.Seed, uint64(k))
			table.AddLeaves(pins.Entry{Board: board + boards*z[0], Angle: angle + angles*z[1], Mass: d.Setup.Ball.Mass, Speed: speed}, 1.0/leaveDeliveries, &shares)
		}
	} else {
		list, err := d.throw(ctx, 0, leaveDeliveries)
		if err != nil {
			return nil, err
		}
		for _, t := range list {
			if t.Reached {
				table.AddLeaves(t.entry(), 1.0/leaveDeliveries, &shares)
			} else {
				shares[pins.All] += 1.0 / leaveDeliveries
			}
		}
	}
	for l := range shares {
		turnedShares[turned(pins.Leave(l), d.Setup.Release.Hand)] = shares[l]
	}
	return &turnedShares, nil
}
