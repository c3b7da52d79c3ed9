package patterns

import (
	"cmp"

	"lanesim/lane"
)

// BoardRange is a run of boards, both ends included, counted from 1 at the
// edge of the lane on the side measured.
type BoardRange struct{ From, To int }

// valid reports whether the range lies on the lane and is not empty.
func (r BoardRange) valid() bool {
	return 1 <= r.From && r.From <= r.To && r.To <= lane.Boards
}

// mean averages a row, one value per board from the right, over the range
// counted from the right or from the left. The range must be valid.
func (r BoardRange) mean(row []float64, fromLeft bool) float64 {
	sum := 0.0
	for board := r.From; board <= r.To; board++ {
		if fromLeft {
			sum += row[lane.Boards-board]
		} else {
			sum += row[board-1]
		}
	}
	return sum / float64(r.To-r.From+1)
}

// BoardSets says which boards the inside-to-outside ratio compares. The zero
// value stands for [DefaultBoardSets].
//
// Each side is measured separately: the ranges count from the right edge for
// the right side and from the left edge for the left side.
type BoardSets struct{ Inside, Outside BoardRange }

// DefaultBoardSets is the trade's usual form of the ratio: the mean of the
// five boards 18 left to 18 right, over the mean of the boards 3 to 7 of the
// side. It is common practice, without a published source. (A governing body
// words it otherwise: the boards between the second arrows over those from
// the channel to about board 10, that is {10, 30} over {1, 10}.)
func DefaultBoardSets() BoardSets {
	return BoardSets{Inside: BoardRange{18, 22}, Outside: BoardRange{3, 7}}
}

// orDefault resolves the zero value.
func (s BoardSets) orDefault() BoardSets { return cmp.Or(s, DefaultBoardSets()) }

func (s BoardSets) valid() bool { return s.Inside.valid() && s.Outside.valid() }
