package lists

import (
	"slices"
	"testing"

	"lanesim/lane"
	"lanesim/patterns"
	"lanesim/units"
)

func TestDescribePattern(t *testing.T) {
	uneven := patterns.Grid{Distances: []float64{0, 44 * units.Foot}}
	for range uneven.Distances {
		uneven.Units = append(uneven.Units, append(slices.Repeat([]float64{10}, 20), slices.Repeat([]float64{20}, lane.Boards-20)...))
	}
	asymmetric, err := uneven.Build()
	if err != nil {
		t.Fatal(err)
	}
	crown := func(feet, volume, ratio float64) *lane.OilMap {
		o, err := patterns.Crown{Length: feet * units.Foot, Volume: volume * 1e-6, Ratio: ratio}.Build()
		if err != nil {
			t.Fatal(err)
		}
		return o
	}
	for _, test := range []struct {
		oil  *lane.OilMap
		want string
	}{
		{nil, "A dry lane: no oil anywhere."},
		{crown(40, 24.5, 10), "A medium-length, crowned pattern: 40 ft, 24.5 mL, 10 times as much oil inside as outside (boards 18–22 over 3–7 of each side). A miss inside finds oil and holds, a miss outside finds dry boards and comes back; a first guess is that the ball leaves the oil at board 9 (length less 31)."},
		{crown(37.4, 20, 4), "A short, mildly crowned pattern: 37.4 ft, 20 mL, 4 times as much oil inside as outside (boards 18–22 over 3–7 of each side). It forgives a little: a miss inside finds some more oil, a miss outside somewhat less; a first guess is that the ball leaves the oil at board 6.4 (length less 31)."},
		{crown(51, 30, 0.25), "A very long, reversed pattern: 51 ft, 30 mL, 0.25 times as much oil inside as outside (boards 18–22 over 3–7 of each side). Misses are made worse: the inside is drier and hooks early, the outside is oilier and does not come back; a first guess is that the ball leaves the oil at board 20 (length less 31)."},
		{asymmetric, "A long, flat pattern: 44 ft, 37.79 mL, 0.933 times as much oil inside as outside (boards 18–22 over 3–7 of each side). A miss to either side stays a miss: the oil neither holds the ball inside nor brings it back from outside; a first guess is that the ball leaves the oil at board 13 (length less 31). It is not symmetric: 66 % of the oil lies left of centre, 33 % finds no match on the other side."},
	} {
		if got := DescribePattern(patterns.Measure(test.oil, patterns.BoardSets{})); got != test.want {
			t.Errorf("described as\n%s\nwant\n%s", got, test.want)
		}
	}
}
