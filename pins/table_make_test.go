package pins

import (
	"context"
	"math"
	"os"
	"runtime"
	"sync"
	"sync/atomic"
	"testing"

	"lanesim/units"
)

// grid is the grid of the stored table: boards half a board apart where the head pin can be
// hit, and the weights and speeds of bowlers.
func grid() *Table {
	t := &Table{racks: 48}
	boards := axis{2, 4, 6, 8, 10, 11, 12}
	for b := 13.0; b <= 27; b += 0.5 {
		boards = append(boards, b)
	}
	t.axes[boardAxis] = append(boards, 28, 30, 32, 34, 36, 38)
	for _, degrees := range []float64{-2, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 11} {
		t.axes[angleAxis] = append(t.axes[angleAxis], degrees*units.Degree)
	}
	for _, pounds := range []float64{10, 12, 14, 15, 16} {
		t.axes[massAxis] = append(t.axes[massAxis], pounds*units.Pound)
	}
	for _, mph := range []float64{12, 16, 20} {
		t.axes[speedAxis] = append(t.axes[speedAxis], mph*units.MPH)
	}
	size := 1
	for _, a := range t.axes {
		size *= len(a)
	}
	t.nodes = make([]node, size)
	return t
}

// about returns a value nearer to node i of an axis than to any other, from a uniform
// number between 0 and 1.
func (a axis) about(i int, u float64) float64 {
	low, high := (a[max(i-1, 0)]+a[i])/2, (a[i]+a[min(i+1, len(a)-1)])/2
	return low + u*(high-low)
}

// node rolls the racks of one node. Their boards and angles are those of the R2
// sequence, which fills the plane evenly (Roberts, 2018).
func (t *Table) node(d *Deck, k int) node {
	const plastic = 1.32471795724474602596
	var at [4]int
	for i, rest := 3, k; i >= 0; i-- {
		at[i], rest = rest%len(t.axes[i]), rest/len(t.axes[i])
	}
	var counts [All + 1]int
	for rack := range t.racks {
		_, u := math.Modf(0.5 + float64(rack)/plastic)
		_, v := math.Modf(0.5 + float64(rack)/(plastic*plastic))
		ball := Rolling(t.axes[boardAxis].about(at[boardAxis], u), t.axes[angleAxis].about(at[angleAxis], v),
			t.axes[speedAxis][at[speedAxis]], t.axes[massAxis][at[massAxis]])
		counts[d.Roll(ball, All, 1, uint64(k*t.racks+rack)).Standing]++
	}
	var n node
	sum := 0
	for l, count := range counts {
		if count > 0 {
			sum += count
			n.leaves = append(n.leaves, leaveCount{Leave(l), sum})
		}
	}
	n.strikes = float64(counts[0]) / float64(t.racks)
	return n
}

// TestMakeTable renews the stored table if LANESIM_RACK_TABLE is set: in nine minutes of
// one core, shared among all.
func TestMakeTable(t *testing.T) {
	if os.Getenv("LANESIM_RACK_TABLE") == "" {
		t.Skip("LANESIM_RACK_TABLE is not set")
	}
	table := grid()
	var next atomic.Int64
	var group sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		d := newDeck(t, Settings{})
		group.Go(func() {
			for k := int(next.Add(1)) - 1; k < len(table.nodes); k = int(next.Add(1)) - 1 {
				table.nodes[k] = table.node(d, k)
			}
		})
	}
	group.Wait()
	data := table.write()
	if err := os.WriteFile("table.bin", data, 0o644); err != nil {
		t.Fatal(err)
	}
	t.Logf("%d nodes of %d racks, %d bytes", len(table.nodes), table.racks, len(data))
}

// The stored table agrees with this program at a few of its nodes, and is well below 2 MB.
func TestStoredTableIsMadeHere(t *testing.T) {
	table, made := Stored(), grid()
	if len(stored) > 1_000_000 {
		t.Errorf("%d bytes", len(stored))
	}
	d := newDeck(t, Settings{})
	if len(table.nodes) != len(made.nodes) || table.racks != made.racks {
		t.Fatalf("%d nodes of %d racks are stored, %d of %d are made", len(table.nodes), table.racks, len(made.nodes), made.racks)
	}
	for i, a := range table.axes {
		for k, v := range a {
			if v != made.axes[i][k] {
				t.Errorf("axis %d: %v is stored, %v is made", i, v, made.axes[i][k])
			}
		}
	}
	for _, k := range []int{5, len(made.nodes) / 3, len(made.nodes) / 2} {
		want, got := made.node(d, k), table.nodes[k]
		if len(want.leaves) != len(got.leaves) {
			t.Errorf("node %d: %v is stored, %v is made", k, got, want)
			continue
		}
		for i := range want.leaves {
			if want.leaves[i] != got.leaves[i] {
				t.Errorf("node %d: %v is stored, %v is made", k, got, want)
				break
			}
		}
	}
}

// Shares from the table agree with racks rolled around the entry with a bowler's scatter:
// half a board to one board, a quarter to half a degree, with weights, speeds and slips
// that are not the grid's.
func TestTableAgainstRacks(t *testing.T) {
	racks := many(60, 1500)
	table := Stored()
	sum, square, worst, bound, own := 0.0, 0.0, 0.0, 0.0, 0.0
	cases := 0
	for i, board := range []float64{14.5, 16, 17, 17.5, 18, 19, 20.5, 23} {
		for j, degrees := range []float64{1, 3.5, 5.5, 7} {
			if os.Getenv("LANESIM_RACKS") == "" && (i+j)%3 > 0 {
				continue
			}
			pounds, mph := []float64{11.5, 14, 14.5, 15}[(i+j)%4], []float64{14, 16, 17.5}[(i+2*j)%3]
			looked := 0.0
			scatter := func(k int) (float64, float64) {
				_, u := math.Modf(0.5 + float64(k)*0.7548776662466927)
				_, v := math.Modf(0.5 + float64(k)*0.5698402909980532)
				r := math.Sqrt(-2 * math.Log(1-u))
				return board + 0.8*r*math.Cos(2*math.Pi*v), (degrees + 0.4*r*math.Sin(2*math.Pi*v)) * units.Degree
			}
			tally, err := Rolls{Delivery: func(k int) Delivery {
				b, a := scatter(k)
				return Rolling(b, a, mph*units.MPH, pounds*units.Pound)
			}, Seed: 77, Racks: racks}.Run(context.Background())
			if err != nil {
				t.Fatal(err)
			}
			weights := map[int]float64{}
			for k := range racks {
				b, a := scatter(k)
				entry := Entry{b, a, pounds * units.Pound, mph * units.MPH}
				looked += table.Strikes(entry) / float64(racks)
				for _, c := range table.corners(entry) {
					weights[c.node] += c.weight / float64(racks)
				}
			}
			for n, w := range weights {
				p := table.nodes[n].strikes
				own += w * w * p * (1 - p) / float64(table.racks-1)
			}
			direct := tally.Strikes().Share
			off := looked - direct
			t.Logf("board %.1f, %.1f°, %.1f lb, %.1f mph: %.3f looked up, %.3f rolled", board, degrees, pounds, mph, looked, direct)
			sum, square, worst = sum+off, square+off*off, max(worst, math.Abs(off))
			bound += direct * (1 - direct) / float64(racks)
			cases++
		}
	}
	n := float64(cases)
	rms, chance := math.Sqrt(square/n), math.Sqrt(bound/n)
	tables := math.Sqrt(own / n)
	t.Logf("strike share looked up less rolled, %d cases: mean %+.4f, root mean square %.4f, largest %.4f; chance of the racks rolled %.4f, of the table's %.4f, left for interpolation and blur %.4f",
		cases, sum/n, rms, worst, chance, tables, math.Sqrt(max(0, rms*rms-chance*chance-tables*tables)))
	if round := func(v float64) float64 { return math.Round(v*1000) / 1000 }; os.Getenv("LANESIM_RACKS") != "" &&
		(cases != StoredPlaces || round(sum/n) != StoredMean || round(rms) != StoredError || round(worst) != StoredErrorMost) {
		t.Errorf("of %d places the table is off by %+.4f in the mean, %.4f and at most %.4f; %v, %v and %v of %d are stated", cases, sum/n, rms, worst, StoredMean, StoredError, StoredErrorMost, StoredPlaces)
	}
	if rms > math.Sqrt(0.025*0.025+chance*chance) || math.Abs(sum/n) > 0.02+2*chance/math.Sqrt(n) {
		t.Errorf("the table is off by %.3f (root mean square), %+.3f in the mean", rms, sum/n)
	}
}

func TestTableHoldsShares(t *testing.T) {
	table := Stored()
	e := Entry{17.3, 5 * units.Degree, 15 * units.Pound, 17 * units.MPH}
	var shares [All + 1]float64
	table.AddLeaves(e, 1, &shares)
	sum := 0.0
	for _, s := range shares {
		sum += s
	}
	near(t, "sum of the shares", sum, 1, 1e-12)
	near(t, "strikes", shares[0], table.Strikes(e), 1e-12)
	drawn := 0
	const times = 40000
	for k := range times {
		_, u := math.Modf(0.5 + float64(k)*0.7548776662466927)
		_, v := math.Modf(0.5 + float64(k)*0.5698402909980532)
		if table.Draw(e, u, v) == 0 {
			drawn++
		}
	}
	near(t, "strikes drawn", float64(drawn)/times, shares[0], 0.005)
	// Beyond the ends the table has the values at the ends.
	near(t, "beyond", table.Strikes(Entry{-50, 1, 100, 100}), table.Strikes(Entry{2, 11 * units.Degree, 16 * units.Pound, 20 * units.MPH}), 0)
	if _, err := readTable(stored[:len(stored)/2]); err == nil {
		t.Error("half a table is read")
	}
}

func BenchmarkTable(b *testing.B) {
	table := Stored()
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		table.Strikes(Entry{14 + float64(i%64)/10, 0.09, 6.8, 7.5})
	}
}
