package scenario

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"lanesim/report/thrown"
	"lanesim/studies/sweep"
)

const sweepScenario = `scenario:
  lane: {oil: flat}
  balls:
    - {name: Near, differential: 0.04 in, layout: {drilling_angle: 60 deg, pin_to_pap: 3 in, val_angle: 40 deg}}
    - {name: Far, differential: 0.04 in, layout: {drilling_angle: 60 deg, pin_to_pap: 5 in, val_angle: 40 deg}}
  bowlers:
    - {like: medium revs, angle: 2 deg}
    - {name: Low, speed: 19 mph, rev_rate: 200 rpm, axis_rotation: 40 deg, axis_tilt: 10 deg, laydown: 20, target: {board: 12, distance: 15 ft}}
`

func readSweep(t *testing.T, text string) *Sweep {
	t.Helper()
	s, err := ReadSweep("sweep.yaml", []byte(text), nil, nil)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return s
}

// Every point equals the scenario read with its values set, whatever varies and whichever
// point was resolved before.
func TestPointsAreScenariosWithValuesSet(t *testing.T) {
	for _, vary := range []string{
		"bowler.rev_rate: {from: 100 rpm, to: 500 rpm, steps: 4}, bowler.speed: [17 mph, 29 km/h]",
		"ball.layout.pin_to_pap: {from: 1 in, to: 6 in, steps: 5}, ball.rg: [2.5 in, 2.6 in]",
		"'balls[1].weight': {from: 12 lb, to: 16 lb, steps: 3}, balls.Near.roughness: [10 uin, 1 um]",
		"lane.friction.film: {from: 0.02, to: 0.06, steps: 3}, lane.tilt: [0 in, 1/32 in]",
		"ball.cover: [plastic, reactive, {dry: 0.1}], ball.finish: [polished, 500 grit]",
		"ball.cover.dry: {from: 0.1, to: 0.3, steps: 3}, lane.friction.dry: [0.1, 0.2]",
		"balls.Far.cover.soak_in: [never, 20 s], balls.Near.film_memory.soak_in: {from: 5 s, to: 60 s, steps: 3}",
		"lane.oil: [house, flat, dry], lane.roughness: [0.1 um, 0.3 um]",
		"lane.length: [50 ft, 60 ft], lane.oil: [house, {kind: crown, length: 40 ft, volume: 20 mL, ratio: 2}]",
		"settings.tolerance: [1e-5, 1e-6], settings.pocket.board: [17, 18], settings.pocket.half_width: [1]",
		"'bowlers[0].pap.over': {from: 4 in, to: 5 1/2 in, steps: 3}, 'bowlers[0].pap.up': [0 in], 'bowlers[0].laydown': {from: 20, to: 25, steps: 2}",
		"ball.film_memory: [on, off], bowler.hand: [right, left], 'bowlers[1].target.board': [10, 12.5]",
		"lane.friction: [{law: constant, mu: 0.1}, {law: mixed}], ball.layout.psa_to_pap: [4.2 in, 4 in], ball.layout.pin_to_val: [2.5 in]",
		"ball.grip: [fingertip, thumbless], ball.balance.side: [0 oz, 1/2 oz]",
		"bowler: [low revs, high revs], ball.film_memory.soak_in: [never, 60 s]",
	} {
		for _, design := range []string{"grid", "latin, points: 9, seed: 2", "halton, points: 9"} {
			file := sweepScenario + "vary: {" + vary + "}\ncolumns: [entry_board]\ndesign: " + strings.ReplaceAll(design, ", ", "\n") + "\n"
			s := readSweep(t, file)
			r := s.Resolver()
			scenarioText := strings.ReplaceAll(strings.TrimPrefix(sweepScenario, "scenario:\n"), "\n  ", "\n")[2:]
			var order []uint64
			for k := range s.Points() {
				order = append(order, k, s.Points()-1-k)
			}
			for _, k := range order {
				got, err := r.Point(k)
				if err != nil {
					t.Fatalf("%s, point %d: %v", vary, k, err)
				}
				var sets []string
				for i := range s.Parameters {
					q := &s.Parameters[i]
					v := q.at(got.Coordinates[i])
					text := v.node.text
					if v.node.kind != scalar {
						text = v.node.brief()
					}
					sets = append(sets, q.Path+"="+text)
				}
				want := mustRead(t, "sweep.yaml", []byte(scenarioText), nil, sets...)
				deliveries := deliveriesOf(t, want)
				if !reflect.DeepEqual(got.Deliveries, deliveries) || len(deliveries) != s.Deliveries {
					t.Errorf("%v: other balls", sets)
				}
				a, b := *got.Scenario, *want
				a.Warnings, b.Warnings, a.oils, b.oils = nil, nil, nil, nil
				if !reflect.DeepEqual(a, b) {
					t.Errorf("%v at %d: got\n%+v\nwant\n%+v", sets, k, a, b)
				}
			}
		}
	}
}

// Values are as written or evenly spaced, and their texts read back to the numbers used.
func TestValuesOfParameters(t *testing.T) {
	s := readSweep(t, sweepScenario+`vary:
  ball.layout.pin_to_pap: {from: 1 in, to: 6 in, steps: 21}
  bowler.speed: [17 1/2 mph, 29 km/h]
  bowlers[0].laydown: {from: 25, to: 20, steps: 4}
  lane.oil: [house, flat]
columns: [entry_board]
`)
	var names []string
	for i := range s.Parameters {
		names = append(names, s.Parameters[i].Column)
	}
	if want := []string{"ball.layout.pin_to_pap_in", "bowler.speed_mph", "bowlers[0].laydown", "lane.oil"}; !slices.Equal(names, want) {
		t.Errorf("columns are %q, want %q", names, want)
	}
	texts := func(q *Parameter) (list []string) {
		for i := range q.Levels {
			list = append(list, q.Value(sweep.Coordinate{Level: i}).Text)
		}
		return list
	}
	if got := texts(&s.Parameters[0]); got[0] != "1" || got[1] != "1.25" || got[20] != "6" {
		t.Errorf("pin to PAP: %q", got)
	}
	for i, want := range [][]string{nil, {"17.5", "18.019764574882686"}, {"25", "23.333333333333332", "21.666666666666668", "20"}, {"house", "flat"}} {
		if got := texts(&s.Parameters[i]); want != nil && !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", names[i], got, want)
		}
	}
	if s.Points() != 21*2*4*2 || s.Deliveries != 4 || s.Rows() != 21*2*4*2*4 {
		t.Errorf("%d points of %d deliveries", s.Points(), s.Deliveries)
	}
}

// Every bad sweep file gives exactly the messages in its golden file.
func TestErrorsOfBadSweeps(t *testing.T) {
	checkErrors(t, "testdata/sweeps/*.yaml", func(name string, data []byte) (any, error) {
		s, err := ReadSweep(name, data, openIn("sweeps"), overrides(data))
		return s, err
	})
}

// The page of fields lists every column and every key.
func TestSweepReferenceIsComplete(t *testing.T) {
	page := SweepReference()
	for _, c := range thrown.ShotColumns() {
		if !strings.Contains(page, "| `"+c.Key+"` | "+c.Meaning+" | ") {
			t.Errorf("no column %s", c.Key)
		}
	}
	for _, key := range append(sweepShape.keys(), "from", "to", "steps") {
		if !strings.Contains(page, "| `"+key+"` |") {
			t.Errorf("no key %s", key)
		}
	}
}
