package report

import (
	"bytes"
	"math"
	"slices"
	"testing"

	"lanesim/units"
)

// Pairs of numbers are arrays or objects in JSON, columns of their own in rows, and one
// column of tables; what does not exist is one dash.
func TestPairsOfNumbers(t *testing.T) {
	type pair struct{ a, b float64 }
	both := func(p pair) (a, b float64) { return p.a, p.b }
	columns := Columns[pair]{
		Via(Interval("angle_deg", "angle", "Angles that will do", Degree, both), func(p pair) (pair, bool) { return p, p.a != 0 }),
		Estimate("share", "share", "Share that is explained", Ratio.Digits(2), both).ShownIn(Hundredth),
		Value("list", "Both", func(p pair) any { return []float64{p.a, p.b} }),
	}
	if keys := RowsOf(columns, slices.Values([]pair{})).Keys; !slices.Equal(keys, []string{"angle_deg_low", "angle_deg_high"}) {
		t.Errorf("columns of rows: %v", keys)
	}
	for _, c := range []struct {
		of         pair
		json, rows string
		shown      []string
	}{
		{pair{units.Degree, 2 * units.Degree}, `[1,2]`, "1 2", []string{"1.0 to 2.0", "1.7% ± 3.5%"}},
		{pair{math.NaN(), 1}, `[null,57.29577951308232]`, " 57.29577951308232", []string{Absent, Absent}},
		{pair{0, 1}, `null`, " ", []string{Absent, "0.0% ± 100.0%"}},
	} {
		got, err := JSON(columns[:1].Members(c.of))
		if want := `{"angle_deg":` + c.json + `}`; err != nil || string(got) != want {
			t.Errorf("%v in JSON: %s (%v), not %s", c.of, got, err, want)
		}
		var row bytes.Buffer
		RowsOf(columns, slices.Values([]pair{c.of})).Each(func(cells []Cell) error {
			row.WriteString(cells[0].Exact(NumberKind) + " " + cells[1].Exact(NumberKind))
			return nil
		})
		if row.String() != c.rows {
			t.Errorf("%v in rows: %q, not %q", c.of, row.String(), c.rows)
		}
		if shown := TableOf(columns[:2], slices.Values([]pair{c.of})).Rows[1]; !slices.Equal(shown, c.shown) {
			t.Errorf("%v in a table: %q, not %q", c.of, shown, c.shown)
		}
	}
}
