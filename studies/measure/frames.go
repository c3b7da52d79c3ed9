package measure

import (
	"math"

	"lanesim/internal/portable"
)

// FrameCount is a count of video frames during revolutions of a mark on the ball.
type FrameCount struct {
	Revolutions     Reading // counted
	Frames          Reading // frames for these revolutions; an Error of 0 means DefaultFrameError
	FramesPerSecond float64
}

// DefaultFrameError is the standard deviation of a count of frames whose ends are each read to the nearest
// frame: two errors distributed uniformly over one frame have the variance 2 · 1/12.
var DefaultFrameError = 1 / math.Sqrt(6)

// leastFrames is the number of frames that a revolution must exceed: with two or fewer a ball that turns
// forward looks like one that turns backward.
const leastFrames = 2.0

// RevRate returns the rev rate in rad/s,
//
//	Ω = 2π n f / k
//
// for n revolutions in k frames at f frames per second, the mean over the time counted. A ball gains revs as
// it hooks, so only the first turns give the rev rate at release. The relative variance is (σ_k/k)² +
// (σ_n/n)².
//
// The error is a [*ReadingError].
func (c FrameCount) RevRate() (Quantity, error) {
	n, k, sigma := c.Revolutions.Value, c.Frames.Value, c.Frames.Error
	if sigma == 0 {
		sigma = DefaultFrameError
	}
	fail := func(format string, values ...any) (Quantity, error) {
		return Quantity{}, readingError("frames", format, values...)
	}
	switch {
	case !(n > 0) || !(k > 0) || !(c.FramesPerSecond > 0) || math.IsInf(n+k+c.FramesPerSecond, 0):
		return fail("%g revolutions in %g frames at %g frames per second: all must be positive and finite", n, k, c.FramesPerSecond)
	case !(sigma > 0) || !(c.Revolutions.Error >= 0) || math.IsInf(sigma+c.Revolutions.Error, 0):
		return fail("errors of %g revolutions and %g frames must be finite and not negative", c.Revolutions.Error, sigma)
	case k <= leastFrames*n:
		return fail("%.3g frames per revolution: above %g are needed to see which way the ball turns", k/n, leastFrames)
	}
	rate := 2 * math.Pi * n * c.FramesPerSecond / k
	return Quantity{rate, rate * portable.Hypot(sigma/k, c.Revolutions.Error/n)}, nil
}
