package studies

import (
	"context"
	"runtime"
	"sync"
)

// InOrder computes many independent things with several workers and hands them
// over in order, keeping only a few at a time: the memory that it needs does not
// grow with their number.
type InOrder[T any] struct {
	// From is the first to compute, Step leads from one to the next, and all of
	// them are below End. Step 0 means 1.
	From, Step, End uint64

	// Workers is how many compute at once; 0 means as many as there are
	// processors. It has no influence on what is handed over.
	Workers int

	// Worker returns a function that computes the k-th, for one worker alone.
	Worker func() func(k uint64) (T, error)

	// Emit takes the k-th. It is called for one after the other, in order, and
	// never for two at once.
	Emit func(k uint64, v T) error
}

// A worker takes a batch at a time, so that handing over costs little; batches
// are small so that there are enough of them for all workers in short runs.
const mostInBatch = 32

// Run runs it. It returns the error of the first in order that failed, once
// those before it were handed over, or that of Emit. If the context ends, what
// is finished in order is handed over, and the context's error returned.
func (o InOrder[T]) Run(ctx context.Context) error {
	step := max(o.Step, 1)
	if o.From >= o.End {
		return ctx.Err()
	}
	count := (o.End-o.From-1)/step + 1
	workers := o.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	size := min(max(count/uint64(4*workers), 1), mostInBatch)
	batches := (count-1)/size + 1
	workers = int(min(uint64(workers), batches))

	type batch struct {
		values []T
		err    error // of the one after the values
	}
	// A batch that was handed out has a channel in the queue; the queue's length
	// bounds how far workers run ahead of what is handed over.
	type job struct {
		first uint64 // in the count
		n     uint64
		done  chan batch
	}
	jobs := make(chan job)
	queue := make(chan job, 4*workers)
	stop := make(chan struct{})
	var group sync.WaitGroup
	group.Go(func() {
		defer close(jobs)
		defer close(queue)
		for b := range batches {
			j := job{b * size, min(size, count-b*size), make(chan batch, 1)}
			select {
			case queue <- j:
			case <-stop:
				return
			}
			select {
			case jobs <- j:
			case <-stop:
				j.done <- batch{}
				return
			}
		}
	})
	for range workers {
		group.Go(func() {
			compute := o.Worker()
			for j := range jobs {
				made := batch{values: make([]T, 0, j.n)}
				for i := j.first; i < j.first+j.n && made.err == nil; i++ {
					if made.err = ctx.Err(); made.err != nil {
						break
					}
					v, err := compute(o.From + i*step)
					if made.err = err; err == nil {
						made.values = append(made.values, v)
					}
				}
				j.done <- made
			}
		})
	}
	var failed error
	for j := range queue {
		made := <-j.done
		for i, v := range made.values {
			if failed = o.Emit(o.From+(j.first+uint64(i))*step, v); failed != nil {
				break
			}
		}
		if failed == nil {
			failed = made.err
		}
		if failed != nil {
			break
		}
	}
	close(stop)
	group.Wait()
	if failed != nil {
		return failed
	}
	return ctx.Err()
}
