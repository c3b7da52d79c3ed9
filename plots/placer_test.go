package plots

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lanesim/report"
)

func drawPoint(t *rapid.T, within box) point {
	return point{
		rapid.Float64Range(within.left, within.right).Draw(t, "x"),
		rapid.Float64Range(within.top, within.bottom).Draw(t, "y"),
	}
}

func TestPlacedLabelsNeverOverlap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		frame := box{0, 0, rapid.Float64Range(50, 700).Draw(t, "width"), rapid.Float64Range(30, 300).Draw(t, "height")}
		p := placer{frame: frame}
		for range rapid.IntRange(0, 3).Draw(t, "marks") {
			at := drawPoint(t, frame)
			p.taken = append(p.taken, around(at, 4))
		}
		for range rapid.IntRange(0, 3).Draw(t, "paths") {
			p.paths = append(p.paths, []point{drawPoint(t, frame), drawPoint(t, frame), drawPoint(t, frame)})
		}
		for range rapid.IntRange(1, 14).Draw(t, "labels") {
			w, h := rapid.Float64Range(5, 140).Draw(t, "w"), rapid.Float64Range(8, 40).Draw(t, "h")
			before := p.taken
			b, _, ok := p.place(w, h, []point{drawPoint(t, frame)})
			if !ok {
				continue
			}
			if !b.within(frame) {
				t.Fatalf("%+v leaves the frame %+v", b, frame)
			}
			const rounding = 1e-9 // points: a few units in the last place of a position under 1000
			if math.Abs(b.width()-w) > rounding || math.Abs(b.height()-h) > rounding {
				t.Fatalf("%+v is not %g × %g", b, w, h)
			}
			for _, o := range before {
				if b.overlaps(o) {
					t.Fatalf("%+v overlaps %+v", b, o)
				}
			}
		}
	})
}

func TestLabelPrefersToLeaveThePathFree(t *testing.T) {
	path := []point{{0, 50}, {200, 50}}
	p := placer{frame: box{0, 0, 200, 100}, paths: [][]point{path}}
	b, _, ok := p.place(60, 12, []point{{100, 50}})
	if !ok || p.covers(b) {
		t.Errorf("label at %+v (%v) covers the path", b, ok)
	}
	// If the path leaves no room, the label covers it.
	p = placer{frame: box{0, 0, 60, 13}, paths: [][]point{{{0, 6}, {60, 6}}}}
	if b, _, ok := p.place(30, 10, []point{{5, 6}}); !ok || !p.covers(b) {
		t.Errorf("label at %+v (%v) in a frame that the path divides", b, ok)
	}
}

func TestSpreadLabelsKeepOrderAndDoNotOverlap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 9).Draw(t, "n")
		top, bottom := 10.0, rapid.Float64Range(60, 400).Draw(t, "bottom")
		targets, heights := make([]float64, n), make([]float64, n)
		total := 0.0
		for i := range n {
			targets[i] = rapid.Float64Range(-50, 450).Draw(t, "target")
			heights[i] = rapid.Float64Range(5, 50).Draw(t, "height")
			total += heights[i]
		}
		tops, ok := spreadLabels(targets, heights, top, bottom)
		if ok != (total <= bottom-top) {
			t.Fatalf("%v for %g points of labels in %g", ok, total, bottom-top)
		}
		if !ok {
			return
		}
		const rounding = 1e-9 // points, as above
		for i := range n {
			if tops[i] < top-rounding || tops[i]+heights[i] > bottom+rounding {
				t.Fatalf("label %d at %g leaves %g to %g", i, tops[i], top, bottom)
			}
			for j := range n {
				if targets[i] < targets[j] && tops[i]+heights[i] > tops[j]+rounding {
					t.Fatalf("label %d at %g + %g reaches into label %d at %g", i, tops[i], heights[i], j, tops[j])
				}
			}
		}
	})
}

func TestSpreadLeavesLabelsWithRoomAtTheirTargets(t *testing.T) {
	tops, ok := spreadLabels([]float64{80, 20, 50}, []float64{10, 10, 10}, 0, 100)
	if !ok || tops[0] != 75 || tops[1] != 15 || tops[2] != 45 {
		t.Errorf("tops %v, %v", tops, ok)
	}
	// Two labels for one place move apart equally.
	tops, ok = spreadLabels([]float64{50, 50}, []float64{10, 10}, 0, 100)
	if !ok || tops[0] != 40 || tops[1] != 50 {
		t.Errorf("tops %v, %v", tops, ok)
	}
}

func TestWrapFitsAndLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := lettering{rapid.Float64Range(6, 24).Draw(t, "size"), rapid.Bool().Draw(t, "bold")}
		s := rapid.StringMatching(`[a-zé ]{0,80}`).Draw(t, "text")
		width := rapid.Float64Range(2*l.size, 300).Draw(t, "width")
		var joined string
		for _, line := range l.wrap(s, width, 0) {
			if l.width(line) > width {
				t.Fatalf("%q is %g wide, not %g", line, l.width(line), width)
			}
			joined += line
		}
		if got, want := strings.ReplaceAll(joined, " ", ""), strings.ReplaceAll(s, " ", ""); got != want {
			t.Fatalf("%q became %q", s, joined)
		}
	})
}

func TestTicksAreRoundAndWithin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.Float64Range(-500, 500).Draw(t, "from")
		s := span{from, from + rapid.Float64Range(0.01, 900).Draw(t, "length")}
		at, decimals := s.ticks(4)
		if len(at) < 2 || len(at) > 6 {
			t.Fatalf("%d ticks in %+v", len(at), s)
		}
		slack := tickRounding * (s.max - s.min)
		seen := map[string]bool{}
		for _, v := range at {
			if v < s.min-slack || v > s.max+slack {
				t.Fatalf("tick %g leaves %+v", v, s)
			}
			seen[report.Fixed(v, decimals)] = true
		}
		if len(seen) != len(at) {
			t.Fatalf("ticks %v print alike with %d decimals", at, decimals)
		}
	})
}

func TestLinesBreakWhereAValueIsMissing(t *testing.T) {
	nan := math.NaN()
	got := runs([]point{{0, 0}, {1, 1}, {2, nan}, {3, 3}, {4, nan}, {5, 5}, {6, 6}, {7, 7}})
	if len(got) != 2 || len(got[0]) != 2 || len(got[1]) != 3 {
		t.Errorf("runs %v", got)
	}
}

func TestSteadyValuesGetAnAxis(t *testing.T) {
	series := []Series{straightBall().series("")}
	for _, q := range quantities() {
		s := q.span(series)
		if !(s.max-s.min >= q.least*(1-tickRounding)) {
			t.Errorf("%s: axis %+v is shorter than %g", q.label, s, q.least)
		}
	}
}

func TestDecimal(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{{-0.04, 1, "0.0"}, {-0.06, 1, "−0.1"}, {17.46, 1, "17.5"}, {12, 0, "12"}} {
		if got := report.Fixed(c.v, c.decimals); got != c.want {
			t.Errorf("report.Fixed(%g, %d) is %q, not %q", c.v, c.decimals, got, c.want)
		}
	}
}
