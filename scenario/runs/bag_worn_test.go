package runs

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies/bag"
	"lanesim/units"
)

// A ball that no line brings to the pocket wears the lane from the line given; any other
// trouble with its line is an error, reported as such.
func TestErrorsOfWornOilAreReported(t *testing.T) {
	s := ball.Default()
	b, err := s.Prepare(ball.DefaultPAP(), ball.Right)
	if err != nil {
		t.Fatal(err)
	}
	b.Mass = math.NaN()
	l := lane.Default()
	row := make([]float64, lane.Boards)
	for i := range row {
		row[i] = 20
	}
	if l.Oil, err = lane.NewBoardOilMap([]float64{0, 12}, [][]float64{row, row}); err != nil {
		t.Fatal(err)
	}
	bag := bag.Study{Lanes: []lane.Lane{l}, Balls: []ball.Ball{b}, Release: physics.Release{Speed: 8, RevRate: 30, Laydown: 20}}
	_, err = wornOil(context.Background(), bag, 2)
	if wrong := (*units.FieldError)(nil); !errors.As(err, &wrong) || wrong.Package != "ball" || strings.Contains(err.Error(), "delivery") {
		t.Errorf("error %v", err)
	}
}
