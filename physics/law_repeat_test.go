package physics

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"reflect"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/units"
)

// lawHash returns a hash of all bits of a shot.
func lawHash(s Shot) uint64 {
	h := fnv.New64a()
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Float64:
			fmt.Fprintf(h, "%x,", math.Float64bits(v.Float()))
		case reflect.Pointer:
			fmt.Fprint(h, v.IsNil(), ",")
			if !v.IsNil() {
				walk(v.Elem())
			}
		case reflect.Struct:
			for i := range v.NumField() {
				walk(v.Field(i))
			}
		case reflect.Slice, reflect.Array:
			fmt.Fprint(h, v.Len(), ",")
			for i := range v.Len() {
				walk(v.Index(i))
			}
		default:
			fmt.Fprint(h, v.Interface(), ",")
		}
	}
	walk(reflect.ValueOf(s))
	return h.Sum64()
}

type lawInput struct {
	lane    lane.Lane
	ball    ball.Ball
	release Release
}

func lawInputs() *rapid.Generator[lawInput] {
	return rapid.Custom(func(t *rapid.T) lawInput {
		l, b, r := lawUsual(t)
		return lawInput{l, b, r}
	})
}

// Equal inputs give equal bits, from a new Thrower and from one that has thrown other shots before.
func TestLawEqualInputsGiveEqualBits(t *testing.T) {
	used := NewThrower()
	distinct := map[uint64]bool{}
	rapid.Check(t, func(t *rapid.T) {
		in := lawInputs().Draw(t, "input")
		other := lawInputs().Draw(t, "other input")
		s := Settings{PathSpacing: units.Foot, ExchangeSpacing: units.Foot}
		fresh := lawThrow(t, NewThrower(), in.lane, in.ball, in.release, s)
		want := lawHash(fresh)
		distinct[want] = true
		lawThrow(t, used, other.lane, other.ball, other.release, Settings{Tolerance: 1e-4})
		if got := lawHash(lawThrow(t, used, in.lane, in.ball, in.release, s)); got != want {
			t.Errorf("hash %x from a used Thrower, %x from a fresh one", got, want)
		}
		// What a shot holds does not change with the next.
		lawThrow(t, used, other.lane, other.ball, other.release, s)
		if got := lawHash(fresh); got != want {
			t.Errorf("a shot changed after it was given out")
		}
	})
	t.Logf("%d different shots", len(distinct))
	if len(distinct) < 2 {
		t.Error("all shots alike")
	}
}

// The same at the tolerances of studies, whose steppers keep more state between steps: also for balls with
// the mass centre aside after others, with film and without.
func TestLawEqualInputsGiveEqualBitsInStudies(t *testing.T) {
	rnd, used := rand.New(rand.NewPCG(17, 18)), NewThrower()
	const shots = 200
	aside := 0
	for i := range shots {
		l, b, r := randomShot(rnd, i%3 > 0)
		if b.Offset != ([3]float64{}) {
			aside++
		}
		s := Settings{Tolerance: 1e-4, EvenNodes: i%2 == 0}
		want := lawHash(lawThrow(t, NewThrower(), l, b, r, s))
		if got := lawHash(lawThrow(t, used, l, b, r, s)); got != want {
			t.Errorf("shot %d: hash %x from a used Thrower, %x from a fresh one", i, got, want)
		}
	}
	if aside < shots/10 {
		t.Errorf("the mass centre is aside in %d shots alone", aside)
	}
}

// A shot does not write to its inputs.
func TestLawInputsStay(t *testing.T) {
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		in := lawInputs().Draw(t, "input")
		if in.lane.Oil == nil {
			in.lane.Oil = lawOil(t)
		}
		before := append([]float64{}, in.lane.Oil.Film...)
		lawThrow(t, thrower, in.lane, in.ball, in.release, Settings{})
		if !reflect.DeepEqual(before, in.lane.Oil.Film) {
			t.Errorf("the lane's oil changed")
		}
	})
}

// Shots thrown at once by several goroutines, on shared lanes, are the ones
// thrown one after the other.
func TestLawGoroutinesDoNotMatter(t *testing.T) {
	const shots, workers = 24, 4
	var inputs []lawInput
	var want []uint64
	thrower := NewThrower()
	for seed := range shots {
		in := lawInputs().Example(seed)
		inputs = append(inputs, in)
		want = append(want, lawHash(lawThrow(t, thrower, in.lane, in.ball, in.release, Settings{})))
	}
	var wait sync.WaitGroup
	for w := range workers {
		wait.Go(func() {
			own := NewThrower()
			for i := range inputs {
				k := (i*5 + w*7) % shots // another order for each
				in := inputs[k]
				shot, err := own.Throw(in.lane, in.ball, in.release, Settings{})
				if got := lawHash(shot); err != nil || got != want[k] {
					t.Errorf("worker %d, shot %d: hash %x (%v), want %x", w, k, got, err, want[k])
				}
			}
		})
	}
	wait.Wait()
}

// A Thrower that has thrown the shot before allocates memory only for the report, none for the steps.
func TestLawAllocationsDoNotGrowWithSteps(t *testing.T) {
	const most = 20 // the report's states, pointers and the law of friction
	for _, memory := range []bool{false, true} {
		l, b, r := lawFlatShot(t, 3.375, lawFlatReleases[1])
		b.Memory.Off = !memory
		thrower := NewThrower()
		var counts [2]float64
		var steps [2]int
		for i, tolerance := range []float64{1e-5, 1e-8} {
			s := Settings{Tolerance: tolerance, PathSpacing: -1, ExchangeSpacing: -1}
			steps[i] = lawThrow(t, thrower, l, b, r, s).Stats.Steps
			counts[i] = testing.AllocsPerRun(20, func() { lawThrow(t, thrower, l, b, r, s) })
		}
		t.Logf("memory %v: %v allocations in %v steps, bound %d", memory, counts, steps, most)
		if counts[1] > counts[0] || counts[0] > most {
			t.Errorf("memory %v: %v allocations in %v steps", memory, counts, steps)
		}
		if steps[1] < 2*steps[0] {
			t.Errorf("only %v steps: tolerances too close", steps)
		}
	}
}

// With EndOnly the reported end is that of the whole shot, bit for bit.
func TestLawEndOnlyIsTheEndOfTheShot(t *testing.T) {
	thrower := NewThrower()
	ends := map[Status]int{}
	rapid.Check(t, func(t *rapid.T) {
		in := lawInputs().Draw(t, "shot")
		tolerance := rapid.SampledFrom([]float64{DefaultTolerance, 1e-4}).Draw(t, "tolerance")
		whole := lawThrow(t, thrower, in.lane, in.ball, in.release, Settings{Tolerance: tolerance})
		end := lawThrow(t, thrower, in.lane, in.ball, in.release, Settings{Tolerance: tolerance, EndOnly: true})
		if end.Marks != nil || end.Path != nil || end.Exchange != nil {
			t.Fatal("more than the end was kept")
		}
		cut := Shot{Status: whole.Status, Stats: whole.Stats}
		cut.Events.Pins, cut.Events.Gutter = whole.Events.Pins, whole.Events.Gutter
		w := &whole.Summary
		cut.Summary = Summary{Pocket: w.Pocket, GoodAngle: w.GoodAngle}
		if lawHash(cut) != lawHash(end) {
			t.Fatalf("the whole shot ends with %+v, the end alone is %+v", cut, end)
		}
		ends[end.Status]++
	})
	if ends[Pins] == 0 || ends[Gutter] == 0 {
		t.Errorf("the shots ended too much alike: %v", ends)
	}
}
