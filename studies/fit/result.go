package fit

import (
	"context"
	"math"
	"slices"

	"lanesim/internal/portable"
	"lanesim/internal/statistics"
	"lanesim/physics"
	"lanesim/studies"
)

const (
	// OutlierPoint is the residual in terms of the scatter beyond which a reading is an outlier: 1 in 16 000
	// of normal readings.
	OutlierPoint = 4.0

	// outlierShot is the root mean square residual of a shot in terms of the scatter, without outliers,
	// beyond which the shot is an outlier: hardly one in 10 000 shots with ten normal readings. A shot with a
	// larger share of outliers than mostOutliers is one, too.
	outlierShot  = 2.0
	mostOutliers = 0.25

	fitCoverage = 0.95 // confidence of intervals
)

// result collects the result of a converged fit, and repeats the fit for the bootstrap.
func (x *fitter) result(ctx context.Context, wanted []FrictionSetting, held map[FrictionSetting]Kept) (Result, error) {
	with := x.contact(x.at.shared)
	r := Result{Friction: with.Friction, Assumed: x.assumed}
	if x.ofCover() {
		r.Cover = &with.cover
		with.cover.Name = ""
	}
	factor, free := x.inflation()
	r.FreeReadings = free
	v, ok := x.normal(x.slopes, nil).invert()
	if !ok {
		factor = math.NaN()
	}
	logErrors := make([]float64, len(x.active))
	for i := range x.active {
		logErrors[i] = math.NaN()
		if ok {
			logErrors[i] = math.Sqrt(factor * v.shared.At(i, i))
		}
	}
	repeats, err := x.bootstrap(ctx, &r)
	if err != nil {
		return Result{}, err
	}
	for _, s := range AllSettings(x.Lane.Friction.Law) {
		if !slices.Contains(wanted, s) {
			continue
		}
		start := s.Of(x.Lane.Friction, x.cover())
		one := SettingResult{Setting: s, Start: start, Value: s.Of(r.Friction, with.cover), Held: held[s]}
		one.Error, one.Interval = math.NaN(), studies.UnknownInterval()
		one.BootstrapError, one.BootstrapInterval = math.NaN(), studies.UnknownInterval()
		if i := slices.Index(x.active, s); i >= 0 {
			one.Error = one.Value * logErrors[i]
			if free > 0 {
				t := statistics.Student((1+fitCoverage)/2, free)
				one.Low, one.High = one.Value*portable.Exp(-t*logErrors[i]), one.Value*portable.Exp(t*logErrors[i])
			}
			one.AtLimit = x.atLimit(i)
			one.summarize(repeats, i)
		}
		r.Settings = append(r.Settings, one)
	}
	if ok {
		for i := range x.active {
			row := make([]float64, len(x.active))
			for j := range x.active {
				row[j] = v.shared.At(i, j) / math.Sqrt(v.shared.At(i, i)*v.shared.At(j, j))
			}
			r.Correlations = append(r.Correlations, row)
		}
	}
	if err := x.readShots(ctx, &r, v, factor, ok); err != nil {
		return Result{}, err
	}
	x.limits(&r, v, ok)
	x.Report(mostRounds+x.Bootstrap, mostRounds+x.Bootstrap)
	return r, nil
}

// readShots computes the fitted shots and their residuals.
func (x *fitter) readShots(ctx context.Context, r *Result, v inverted, factor float64, ok bool) error {
	settings := x.Settings
	settings.PathSpacing = 0
	shots, err := studies.Gather(ctx, x.Workers, len(x.shots), nil, func(t *physics.Thrower, i int) (physics.Shot, error) {
		l, b := x.Lane, x.shots[i].Setup.Ball
		l.Friction = r.Friction
		if r.Cover != nil {
			b.Cover = *r.Cover
		}
		return t.Throw(l, b, x.shots[i].release(x.at.local[i]), settings)
	})
	if err != nil {
		return err
	}
	for i := range x.shots {
		s := &x.shots[i]
		one := ShotResult{
			Release: s.release(x.at.local[i]), Fitted: s.varied, ClockStart: math.NaN(), Shot: shots[i],
			Residuals: make([]TrackResidual, len(s.Points)),
		}
		for j := range s.varied {
			e := math.NaN()
			if ok {
				e = math.Sqrt(factor * v.local[i].At(j, j))
			}
			one.Errors = append(one.Errors, e)
		}
		if s.clock {
			one.ClockStart = x.at.local[i][len(s.varied)]
		}
		for k := range one.Residuals {
			one.Residuals[k] = TrackResidual{Board: math.NaN(), Speed: math.NaN(), Time: math.NaN()}
		}
		var sums [channelCount]float64
		var counts [channelCount]int
		sum, outliers := 0.0, 0.0
		for k, o := range s.observations {
			z := x.slopes[i].residuals[k]
			off := z * *o.channel.of(&x.scatter)
			p := &one.Residuals[o.point]
			*[channelCount]*float64{&p.Board, &p.Speed, &p.Time}[o.channel] = off
			if math.Abs(z) > OutlierPoint {
				p.Outlier = true
				outliers++
			} else {
				sum += z * z
			}
			sums[o.channel] += off * off
			counts[o.channel]++
		}
		n := float64(len(s.observations))
		one.Outlier = outliers > max(1, mostOutliers*n) || sum > outlierShot*outlierShot*(n-outliers)
		for c := range channelCount {
			*c.of(&one.RMS) = rootMean(sums[c], counts[c])
			r.Readings[c] += counts[c]
		}
		r.Shots = append(r.Shots, one)
	}
	r.Scatter = x.scatter
	for c := range channelCount {
		if r.Readings[c] == 0 {
			*c.of(&r.Scatter) = math.NaN()
		}
	}
	return nil
}

// bootstrap repeats the fit on shots drawn with replacement (Efron, "Bootstrap methods: another look at the
// jackknife", Ann. Stat. 7 (1979) 1): whole shots, since the readings of one share its release. Repetition k
// depends only on the seed and k. It returns the logarithms of the settings.
func (x *fitter) bootstrap(ctx context.Context, r *Result) ([][]float64, error) {
	if x.Bootstrap <= 0 || len(x.active) == 0 {
		return nil, nil
	}
	all := make([][]float64, x.Bootstrap)
	progress := func(done, _ int) {
		x.Report(mostRounds-1+done, mostRounds+x.Bootstrap)
	}
	err := studies.InParallel(ctx, x.Workers, x.Bootstrap, progress, func(t *physics.Thrower, k int) error {
		draws := studies.Draws(x.Seed, studies.ForResampling, uint64(k))
		counts := make([]float64, len(x.shots))
		for range x.shots {
			counts[draws.IntN(len(counts))]++
		}
		p, _, settled, err := x.search(oneThrower(ctx, t), x.at, x.slopes, counts, repeatGain, func() {})
		if settled {
			all[k] = p.shared
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	kept := slices.DeleteFunc(slices.Clone(all), func(p []float64) bool { return p == nil })
	r.Repetitions, r.Failed = len(kept), len(all)-len(kept)
	return kept, nil
}

// leastRepetitions is the least number of repetitions for an interval: of 20 at most one lies beyond each
// end.
const leastRepetitions = 20

// summarize sets the errors of a setting from the repeated fits.
func (s *SettingResult) summarize(repeats [][]float64, i int) {
	if len(repeats) < leastRepetitions {
		return
	}
	values := make([]float64, len(repeats))
	mean, squares := 0.0, 0.0
	for k, p := range repeats {
		values[k] = portable.Exp(p[i])
		mean += values[k] / float64(len(repeats))
	}
	for _, v := range values {
		squares += (v - mean) * (v - mean)
	}
	slices.Sort(values)
	s.BootstrapError = math.Sqrt(squares / float64(len(values)-1))
	s.BootstrapInterval = studies.Interval{Low: statistics.Quantile(values, (1-fitCoverage)/2), High: statistics.Quantile(values, (1+fitCoverage)/2)}
}
