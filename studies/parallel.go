package studies

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"

	"lanesim/physics"
)

// Work is how a study is computed.
type Work struct {
	// Workers is the number of workers; 0 means as many as there are processors. The result does not depend
	// on it.
	Workers int

	// Progress, if not nil, is called with the work done and the total, in the unit that the study names.
	Progress func(done, total int)
}

// Report calls Progress if it is not nil.
func (w Work) Report(done, total int) {
	if w.Progress != nil {
		w.Progress(done, total)
	}
}

// Gather does n jobs as [InParallel] does, and returns their results in order.
func Gather[T any](ctx context.Context, workers, n int, progress func(done, total int), job func(*physics.Thrower, int) (T, error)) ([]T, error) {
	list := make([]T, n)
	err := InParallel(ctx, workers, n, progress, func(thrower *physics.Thrower, i int) (err error) {
		list[i], err = job(thrower, i)
		return err
	})
	return list, err
}

// InParallel does n jobs with several workers; 0 means as many as there are processors. Each worker has its
// own thrower. The result of a job must not depend on its worker. It returns the context's error, or that of
// the first job in order that failed.
func InParallel(ctx context.Context, workers, n int, progress func(done, total int), job func(*physics.Thrower, int) error) error {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	errs := make([]error, n)
	var next atomic.Int64
	var failed atomic.Bool
	var group sync.WaitGroup
	var reporting sync.Mutex
	done := 0
	for range min(workers, n) {
		group.Go(func() {
			thrower := physics.NewThrower()
			for !failed.Load() && ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				if errs[i] = job(thrower, i); errs[i] != nil {
					failed.Store(true)
				}
				reporting.Lock()
				done++
				if progress != nil {
					progress(done, n)
				}
				reporting.Unlock()
			}
		})
	}
	group.Wait()
	if err := ctx.Err(); err != nil {
		return err
	}
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
