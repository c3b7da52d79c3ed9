package fit

import (
	"context"
	"math"

	"lanesim/internal/leastsquares"
	"lanesim/physics"
	"lanesim/studies"
)

// Constants of the search.
const (
	// settledGain is the gain in the sum of squares, in terms of the scatter, below which the search has
	// converged: that of a step by a thirtieth of a standard error.
	settledGain = 1e-3

	// repeatGain is the same for repeated fits: a tenth of a standard error, which adds half a percent to
	// their spread.
	repeatGain = 1e-2

	// In a narrow valley, of parameters that the tracks hardly distinguish, there are many short steps:
	// patience steps in a row with a gain below smallGain end the search, too. The errors are large there,
	// and the result reports it.
	smallGain = 1e-2
	patience  = 3

	mostSteps    = 40
	mostScatters = 12

	// scatterSettled is the relative change of the scatter at which its
	// estimate ends; it moves a standard error by as much.
	scatterSettled = 0.005

	// mostAbsorbed is the largest share of a kind of readings that the fitted parameters may absorb (the sum
	// of leverages) for their scatter to be estimated from the rest.
	mostAbsorbed = 0.5
)

// huberTuning is the residual in terms of the scatter beyond which the loss is linear: with 1.345 the loss of
// efficiency on normal errors is 5 % (Holland & Welsch, "Robust regression using iteratively reweighted
// least-squares", Commun. Stat. A 6 (1977) 813).
const huberTuning = 1.345

// huberWeight returns ψ(z)/z.
func huberWeight(z float64) float64 {
	if z = math.Abs(z); z > huberTuning {
		return huberTuning / z
	}
	return 1
}

// huberLoss returns twice Huber's ρ: the square of a small residual.
func huberLoss(z float64) float64 {
	if z = math.Abs(z); z > huberTuning {
		return 2*huberTuning*z - huberTuning*huberTuning
	}
	return z * z
}

// robustLoss returns the sum of the losses; +Inf if a computed ball does not reach a measured point.
func robustLoss(residuals [][]float64, counts []float64) float64 {
	sum := 0.0
	for i, list := range residuals {
		count := 1.0
		if counts != nil {
			count = counts[i]
		}
		for _, z := range list {
			if math.IsNaN(z) {
				return math.Inf(1)
			}
			sum += count * huberLoss(z)
		}
	}
	return sum
}

func residualsOf(slopes []shotSlopes) [][]float64 {
	list := make([][]float64, len(slopes))
	for i, d := range slopes {
		list[i] = d.residuals
	}
	return list
}

// search searches from a point, whose slopes may be known, until no step gains enough. It returns the point
// and the slopes there.
func (x *fitter) search(each throwers, p fitPoint, slopes []shotSlopes, counts []float64, enough float64, step func()) (fitPoint, []shotSlopes, bool, error) {
	known := slopes != nil
	q := leastsquares.Problem[fitPoint]{
		Loss: func(p fitPoint) (float64, error) {
			if known {
				return robustLoss(residualsOf(slopes), counts), nil
			}
			residuals, err := x.residuals(each, p, counts)
			return robustLoss(residuals, counts), err
		},
		Linearise: func(p fitPoint) (func(float64) (fitPoint, float64, bool), error) {
			step()
			if !known {
				var err error
				if slopes, err = x.differentiate(each, p, counts); err != nil {
					return nil, err
				}
			}
			known = false
			n := x.normal(slopes, counts)
			return func(damping float64) (fitPoint, float64, bool) {
				d, gain, ok := n.step(damping)
				if !ok {
					return p, 0, false
				}
				return x.moved(p, d), gain, true
			}, nil
		},
	}
	p, settled, err := q.Minimise(p, leastsquares.Settings{Enough: enough, Small: smallGain, Patience: patience, Steps: mostSteps})
	return p, slopes, settled, err
}

// mostRounds is the largest number of steps of a fit.
const mostRounds = mostSteps * mostScatters

// run fits settings, shots and scatter in turn.
func (x *fitter) run(ctx context.Context) error {
	each := func(n int, job func(*physics.Thrower, int) error) error {
		return studies.InParallel(ctx, x.Workers, n, nil, job)
	}
	step := func() {
		x.rounds++
		x.Report(min(x.rounds, mostRounds-1), mostRounds+x.Bootstrap)
	}
	for range mostScatters {
		var settled bool
		var err error
		if x.at, x.slopes, settled, err = x.search(each, x.at, x.slopes, nil, settledGain, step); err != nil {
			return err
		}
		change := x.rescale()
		if settled && change < scatterSettled {
			return nil
		}
	}
	return ErrNoFit
}

// rescale estimates the scatter from the residuals, rescales them by it and returns its largest relative
// change. The estimate is Huber's proposal 2, in which the mean of ψ² has its value for normal errors,
// corrected for the readings absorbed by the fitted parameters (Huber, "Robust Statistics", 1981, section
// 7.7).
func (x *fitter) rescale() float64 {
	absorbed, counts := x.absorbed()
	largest := 0.0
	for c := range channelCount {
		if counts[c] == 0 || *c.of(&x.Study.Scatter) > 0 {
			continue
		}
		was := *c.of(&x.scatter)
		is := *c.of(&usualScatter)
		x.assumed[c] = absorbed[c] > mostAbsorbed*float64(counts[c])
		if !x.assumed[c] {
			var all []float64
			for i, d := range x.slopes {
				for k, o := range x.shots[i].observations {
					if o.channel == c {
						all = append(all, d.residuals[k]*was)
					}
				}
			}
			is = max(proposal2(all, was, float64(counts[c])-absorbed[c]), *c.of(&finestScatter))
		}
		largest = max(largest, math.Abs(is/was-1))
		*c.of(&x.scatter) = is
		for i, d := range x.slopes {
			for k, o := range x.shots[i].observations {
				if o.channel != c {
					continue
				}
				d.residuals[k] *= was / is
				rows := [][]float64{d.local.Row(k)}
				if d.shared != nil {
					rows = append(rows, d.shared.Row(k))
				}
				for _, row := range rows {
					for j := range row {
						row[j] *= was / is
					}
				}
			}
		}
	}
	return largest
}

// psiSquare is the mean of ψ² for standard normal errors, 2Φ(c) − 1 − 2cφ(c) + 2c²(1 − Φ(c)), with c =
// huberTuning.
const psiSquare = 0.71016454826904852591

// proposal2 solves Σψ²(r/σ) = free·E ψ² for σ.
func proposal2(residuals []float64, sigma, free float64) float64 {
	const most = 200
	for range most {
		sum := 0.0
		for _, r := range residuals {
			z := r / sigma
			z *= huberWeight(z)
			sum += z * z
		}
		next := sigma * math.Sqrt(sum/(free*psiSquare))
		if !(next > 0) || math.Abs(next/sigma-1) < scatterSettled/100 {
			return next
		}
		sigma = next
	}
	return sigma
}

// absorbed returns, for each kind of readings, their number and the sum of their leverages, which is the
// number absorbed by the fitted parameters.
func (x *fitter) absorbed() (absorbed [channelCount]float64, counts [channelCount]int) {
	n := x.normal(x.slopes, nil)
	v, ok := n.invert()
	for i, d := range x.slopes {
		for k, o := range x.shots[i].observations {
			counts[o.channel]++
			if ok {
				absorbed[o.channel] += huberWeight(d.residuals[k]) * v.leverage(i, d, k)
			}
		}
	}
	return absorbed, counts
}
