package physics_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/units"
)

// What no lane and no ball can have is refused, all of it at once; the Thrower
// goes on with what can be.
func TestThrowRefusesWhatCannotBe(t *testing.T) {
	good, err := ball.Default().Prepare(ball.DefaultPAP(), ball.Right)
	if err != nil {
		t.Fatal(err)
	}
	r := physics.Release{Speed: 8, RevRate: 30, AxisRotation: 0.8, Laydown: 20}
	bad, empty := good, lane.Default()
	bad.Mass = math.NaN()
	empty.Oil = &lane.OilMap{}
	thrower := physics.NewThrower()
	_, err = thrower.Throw(empty, bad, r, physics.Settings{})
	var wrong *units.FieldError
	if !errors.As(err, &wrong) || wrong.Package != "lane" || wrong.Field != "Oil.Distances" || !strings.Contains(err.Error(), "ball: Mass is NaN") {
		t.Errorf("no oil and no mass: %v", err)
	}
	// 1.5 where a reactive cover meets it is 2.25 for this one.
	rough := lane.Default()
	rough.Friction.Dry = 1.5
	b := good
	b.Cover = ball.Cover{Dry: 0.3, Film: 0.022, SoakIn: 20}
	if _, err := thrower.Throw(rough, b, r, physics.Settings{}); !errors.As(err, &wrong) || wrong.Package != "lane" || wrong.Field != "Friction.Dry" {
		t.Errorf("a friction of 2.25: %v", err)
	}
	oiled := lane.Default()
	if oiled.Oil, err = lane.NewOilMap([]float64{0, 10}, 0, 1, 1, []float64{1e-6, 0}); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if s, err := thrower.Throw(oiled, good, r, physics.Settings{}); err != nil || s.Status != physics.Gutter {
			t.Errorf("%s, %v", s.Status, err)
		}
	}
	oiled.Oil = &lane.OilMap{Distances: []float64{0, 10}, Spacing: 1, Columns: 1, Film: []float64{1e-6, math.NaN()}}
	if _, err := thrower.Throw(oiled, good, r, physics.Settings{}); !errors.As(err, &wrong) || wrong.Package != "lane" {
		t.Errorf("film that is no number: %v", err)
	}
}
