package main

import (
	"math"
	"path/filepath"
	"strings"
	"testing"
)

// carriedOutput is the part of the JSON of carry that the tests read.
type carriedOutput struct {
	Deliveries []struct {
		Bowler, Ball string
		EntryBoard   float64 `json:"entry_board"`
		Hit          string
		Racks        int
		NotAtPins    int        `json:"not_at_pins"`
		Strikes      float64    `json:"strike_share"`
		Interval     [2]float64 `json:"strike_interval"`
		Down         float64    `json:"pins_down_mean"`
		Leaves       []struct {
			Pins  string
			Share float64
			Split bool
		}
		Deflection float64                       `json:"deflection_deg"`
		Exit       float64                       `json:"exit_board"`
		First      map[string]map[string]float64 `json:"first_hits"`
		Map        *struct {
			Board        []float64
			Angle        []float64   `json:"angle_deg"`
			Strikes      [][]float64 `json:"strike_share"`
			BoardScatter float64     `json:"board_sd"`
		}
	}
	Assumed []string
}

func carriedJSON(t *testing.T, arguments ...string) (o carriedOutput) {
	t.Helper()
	text := good(t, "", append([]string{"carry", "--json", "-q"}, arguments...)...)
	readJSON(t, text, &o)
	return o
}

// The example of a light and a flush hit gives the answer in its comment.
func TestLightAndFlushExample(t *testing.T) {
	o := carriedJSON(t, filepath.Join(examples, "carry-light-and-flush.yaml"), "--racks", "300")
	flush, light := o.Deliveries[0], o.Deliveries[1]
	if flush.Hit != "pocket" || light.Hit != "light" || flush.EntryBoard-light.EntryBoard < 1.4 || flush.EntryBoard-light.EntryBoard > 1.8 {
		t.Errorf("%s on board %v, %s on board %v", flush.Hit, flush.EntryBoard, light.Hit, light.EntryBoard)
	}
	if flush.Strikes < 0.95 || light.Strikes > 0.75 {
		t.Errorf("strikes: %v flush, %v light", flush.Strikes, light.Strikes)
	}
	if first := light.Leaves[0]; first.Pins != "5" || first.Share < 0.22 || first.Share > 0.45 || light.Leaves[1].Share > first.Share/2 {
		t.Errorf("leaves of the light ball: %+v", light.Leaves)
	}
	for _, c := range []struct{ pin, by string }{{"1", "ball"}, {"3", "ball"}, {"5", "ball"}, {"9", "3"}, {"10", "6"}} {
		if share := flush.First[c.pin][c.by]; share < 0.8 {
			t.Errorf("flush: the %s is the first to touch the %s in %v of the racks", c.by, c.pin, share)
		}
	}
	if ratio := light.Deflection / flush.Deflection; ratio < 0.05 || ratio > 0.3 {
		t.Errorf("deflections %v and %v", light.Deflection, flush.Deflection)
	}
	// Shares refer to all racks, and the mean number of pins follows from them.
	for _, d := range o.Deliveries {
		sum, down := d.Strikes, 10.0
		for _, l := range d.Leaves {
			sum += l.Share
			down -= l.Share * float64(1+strings.Count(l.Pins, "-"))
		}
		if d.Racks != 300 || sum < 1-1e-9 || sum > 1+1e-9 || down-d.Down > 1e-9 || d.Down-down > 1e-9 {
			t.Errorf("%d racks, shares add up to %v, pins to %v and not %v", d.Racks, sum, down, d.Down)
		}
		if !(d.Interval[0] < d.Strikes && d.Strikes <= d.Interval[1]) {
			t.Errorf("%v outside %v", d.Strikes, d.Interval)
		}
	}
	if len(o.Assumed) < 15 {
		t.Errorf("assumed: %v", o.Assumed)
	}
}

// The example of the corner pin also gives its answer: 79.1 and 7.5 % of 2000 racks, and
// from the best lines 79.9 and 42.8 % of 1000.
func TestTenPinExample(t *testing.T) {
	file := filepath.Join(examples, "spare-ten-pin.yaml")
	o := carriedJSON(t, file, "--racks", "300", "--scatter")
	plastic, hooks := o.Deliveries[0], o.Deliveries[1]
	if off := math.Abs(plastic.Strikes - 0.79); off > 0.04 || plastic.Racks != 300 {
		t.Errorf("the plastic ball converts %v of %d", plastic.Strikes, plastic.Racks)
	}
	if off := math.Abs(hooks.Strikes - 0.075); off > 0.03 || hooks.Racks != 300 {
		t.Errorf("the hooking ball converts %v of %d", hooks.Strikes, hooks.Racks)
	}
	var best struct {
		Deliveries []struct {
			Spares []struct {
				Converted float64 `json:"converted_share"`
				Laydown   float64
			}
		}
	}
	readJSON(t, good(t, "", "aim", file, "--shots", "1000", "--json"), &best)
	for i, want := range []float64{0.80, 0.43} {
		if got := best.Deliveries[i].Spares[0]; math.Abs(got.Converted-want) > 0.03 || i == 1 && got.Laydown != 35 {
			t.Errorf("ball %d: the best line, from board %v, converts %v, not %v", i+1, got.Laydown, got.Converted, want)
		}
	}
}

// A lighter ball on the same line is deflected more.
func TestCarryComparesWeights(t *testing.T) {
	o := carriedJSON(t, filepath.Join(examples, "first-shot.yaml"), "--racks", "60", "--ball-weights", "12 lb,14 lb,16 lb")
	for i := range o.Deliveries[1:] {
		if a, b := o.Deliveries[i], o.Deliveries[i+1]; !(b.Exit > a.Exit+0.5) {
			t.Errorf("%s leaves on board %v, %s on %v", a.Ball, a.Exit, b.Ball, b.Exit)
		}
	}
}

// The map has its ridge at the pocket and is smooth: neighbours differ little.
func TestStrikeMap(t *testing.T) {
	o := carriedJSON(t, filepath.Join(examples, "first-shot.yaml"), "--racks", "10", "--map")
	m := o.Deliveries[0].Map
	if m.BoardScatter < 1 || len(m.Strikes) != len(m.Board) || len(m.Strikes[0]) != len(m.Angle) {
		t.Fatalf("%+v", m)
	}
	at := 0
	for j, a := range m.Angle {
		if a == 6 {
			at = j
		}
	}
	best := 0
	for i := range m.Board {
		if m.Strikes[i][at] > m.Strikes[best][at] {
			best = i
		}
		if i > 0 && (m.Strikes[i][at]-m.Strikes[i-1][at] > 0.1 || m.Strikes[i-1][at]-m.Strikes[i][at] > 0.1) {
			t.Errorf("from board %v to %v the share goes from %v to %v", m.Board[i-1], m.Board[i], m.Strikes[i-1][at], m.Strikes[i][at])
		}
	}
	if b := m.Board[best]; b < 16.5 || b > 18.5 {
		t.Errorf("at 6° the best board is %v", b)
	}
}
