package studies

import (
	"context"
	"errors"
	"slices"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"
)

func squares(emitted *[]uint64) InOrder[uint64] {
	return InOrder[uint64]{
		Worker: func() func(uint64) (uint64, error) {
			return func(k uint64) (uint64, error) {
				if k%7 == 0 {
					time.Sleep(time.Duration(k%50) * time.Microsecond) // so that workers overtake each other
				}
				return k * k, nil
			}
		},
		Emit: func(k, v uint64) error {
			if v != k*k {
				return errors.New("not the square")
			}
			*emitted = append(*emitted, k)
			return nil
		},
	}
}

// For any number of workers and any step, all results are emitted in order.
func TestInOrderIsInOrder(t *testing.T) {
	for _, workers := range []int{0, 1, 2, 7} {
		for _, c := range [][3]uint64{{0, 1, 1000}, {3, 7, 1000}, {999, 5, 1000}, {5, 1, 5}, {0, 0, 3}, {2, 3, 1 << 12}} {
			var got, want []uint64
			o := squares(&got)
			o.From, o.Step, o.End, o.Workers = c[0], c[1], c[2], workers
			if err := o.Run(context.Background()); err != nil {
				t.Fatal(err)
			}
			for k := c[0]; k < c[2]; k += max(c[1], 1) {
				want = append(want, k)
			}
			if !slices.Equal(got, want) {
				t.Errorf("%d workers, %v: got %d, want %d", workers, c, len(got), len(want))
			}
		}
	}
}

// The first result in order that fails ends the run, after all results before it.
func TestInOrderStopsAtTheFirstFailure(t *testing.T) {
	wrong := errors.New("wrong")
	for _, workers := range []int{1, 3} {
		var got []uint64
		o := squares(&got)
		o.End, o.Workers = 10000, workers
		inner := o.Worker
		o.Worker = func() func(uint64) (uint64, error) {
			compute := inner()
			return func(k uint64) (uint64, error) {
				if k == 500 || k == 501 || k == 700 {
					return 0, wrong
				}
				return compute(k)
			}
		}
		if err := o.Run(context.Background()); !errors.Is(err, wrong) || len(got) != 500 || got[499] != 499 {
			t.Errorf("%v after %d", err, len(got))
		}
	}
	full := errors.New("full")
	var got []uint64
	o := squares(&got)
	o.End = 1 << 40
	o.Emit = func(k, _ uint64) error {
		if k == 100 {
			return full
		}
		return nil
	}
	if err := o.Run(context.Background()); !errors.Is(err, full) {
		t.Errorf("got %v, want %v", err, full)
	}
}

// An interrupt keeps what is finished in order, and leaves no worker behind: a test
// in a bubble of its own ends when all that was started in it has ended, and fails if
// something never will.
func TestInOrderInterrupted(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		ctx, cancel := context.WithCancel(context.Background())
		var got []uint64
		o := squares(&got)
		o.End, o.Workers = 1<<40, 3
		emit := o.Emit
		o.Emit = func(k, v uint64) error {
			if k == 300 {
				cancel()
			}
			return emit(k, v)
		}
		if err := o.Run(ctx); !errors.Is(err, context.Canceled) {
			t.Fatal(err)
		}
		for i, k := range got {
			if k != uint64(i) {
				t.Fatalf("%d at %d", k, i)
			}
		}
		if len(got) < 301 {
			t.Errorf("%d handed over", len(got))
		}
	})
}

// Workers run only a little ahead of Emit.
func TestInOrderDoesNotRunAhead(t *testing.T) {
	var computed atomic.Uint64
	var most uint64
	o := InOrder[struct{}]{
		End: 20000, Workers: 2,
		Worker: func() func(uint64) (struct{}, error) {
			return func(uint64) (struct{}, error) { computed.Add(1); return struct{}{}, nil }
		},
		Emit: func(k uint64, _ struct{}) error {
			if k%1000 == 0 {
				time.Sleep(time.Millisecond)
			}
			most = max(most, computed.Load()-k)
			return nil
		},
	}
	if err := o.Run(context.Background()); err != nil {
		t.Fatal(err)
	}
	if most > 20*mostInBatch {
		t.Errorf("%d ahead", most)
	}
}
