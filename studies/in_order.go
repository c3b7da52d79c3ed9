package studies

import (
	"context"
	"runtime"
	"sync"
)

// InOrder computes many independent results with several workers and emits them in order. It keeps only a few
// at a time, so its memory does not grow with their number.
type InOrder[T any] struct {
	// From is the first number, Step the increment, and all numbers are below End. Step 0 means 1.
	From, Step, End uint64

	// Workers is the number of workers; 0 means as many as there are processors. It does not affect the
	// results.
	Workers int

	// Worker returns a function that computes result k. It is called once for each worker.
	Worker func() func(k uint64) (T, error)

	// Emit receives result k. It is called in order, and never concurrently.
	Emit func(k uint64, v T) error
}

// A worker takes a batch at a time, so that the overhead is small; batches are small so that short runs have
// enough for all workers.
const mostInBatch = 32

// Run computes and emits the results. It returns the error of the first result in order that failed, after
// emitting those before it, or the error of Emit. If the context ends, Run emits what is finished in order
// and returns the context's error.
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
		err    error // of the result after the values
	}
	// Each batch given to a worker has a channel in the queue; the queue's length bounds how far workers run
	// ahead of Emit.
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
