package fit

import (
	"cmp"
	"context"
	"slices"

	"lanesim/internal/linear"
	"lanesim/internal/portable"
	"lanesim/physics"
	"lanesim/units"
)

// fitPoint is a point of the search: the logarithms of the settings, and each shot's own parameters.
type fitPoint struct {
	shared []float64
	local  [][]float64
}

// shotSlopes has a shot's residuals at a point and the derivatives of its readings, each divided by its
// scatter.
type shotSlopes struct {
	residuals []float64
	local     *linear.Matrix // readings × the shot's parameters
	shared    *linear.Matrix // readings × settings; nil without settings
}

type fitter struct {
	Study
	active  []FrictionSetting
	shots   []fitShot
	scatter Scatter
	assumed [channelCount]bool
	rounds  int

	at     fitPoint
	slopes []shotSlopes
}

func newFitter(f Study, active []FrictionSetting) *fitter {
	x := &fitter{Study: f, active: active, scatter: usualScatter}
	x.Settings.Tolerance = cmp.Or(x.Settings.Tolerance, Tolerance)
	x.Settings.ExchangeSpacing, x.Settings.TrackSpacing = -1, 0
	x.Settings.PathSpacing = pathSpacing
	for c := range channelCount {
		if given := *c.of(&f.Scatter); given > 0 {
			*c.of(&x.scatter) = given
		}
	}
	for _, t := range f.Shots {
		s := newFitShot(t, f.Lane, f.Free, f.KnownSpeed)
		s.ofCover = f.ofCover()
		x.shots = append(x.shots, s)
	}
	for _, s := range active {
		x.at.shared = append(x.at.shared, portable.Log(max(s.Of(f.Lane.Friction, f.cover()), leastFriction)))
	}
	for i := range x.shots {
		x.at.local = append(x.at.local, x.shots[i].guess())
	}
	return x
}

// pathSpacing is the spacing in m of the points of a path. Where the friction jumps, at the end of the oil,
// the error of cubics is a ten-thousandth of a board.
const pathSpacing = 0.5 * units.Foot

// contact returns friction and cover at a point.
func (x *fitter) contact(shared []float64) contact {
	c := contact{x.Lane.Friction, x.cover()}
	for i, s := range x.active {
		// The exponential of a logarithm may be rounded up.
		*frictionSettings[s].of(&c) = min(portable.Exp(shared[i]), frictionSettings[s].most)
	}
	return c
}

// throwers does a job for every shot.
type throwers func(n int, job func(*physics.Thrower, int) error) error

// oneThrower is for work that is itself one of many.
func oneThrower(ctx context.Context, t *physics.Thrower) throwers {
	return func(n int, job func(*physics.Thrower, int) error) error {
		for i := range n {
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := job(t, i); err != nil {
				return err
			}
		}
		return nil
	}
}

// scaled divides readings of a shot by their scatter.
func (x *fitter) scaled(i int, of func(k int) float64) []float64 {
	out := make([]float64, len(x.shots[i].observations))
	for k, o := range x.shots[i].observations {
		out[k] = of(k) / *o.channel.of(&x.scatter)
	}
	return out
}

// residuals computes the residuals of the shots at a point; counts, if not nil, are the weights of the shots.
func (x *fitter) residuals(each throwers, p fitPoint, counts []float64) ([][]float64, error) {
	out := make([][]float64, len(x.shots))
	with := x.contact(p.shared)
	err := each(len(x.shots), func(t *physics.Thrower, i int) error {
		if counts != nil && counts[i] == 0 {
			return nil
		}
		s := &x.shots[i]
		predicted, err := s.predict(t, with, p.local[i], x.Settings)
		if err == nil {
			out[i] = x.scaled(i, func(k int) float64 { return s.observations[k].value - predicted[k] })
		}
		return err
	})
	return out, err
}

// differentiate computes the shots and their derivatives at a point.
func (x *fitter) differentiate(each throwers, p fitPoint, counts []float64) ([]shotSlopes, error) {
	residuals, err := x.residuals(each, p, counts)
	if err != nil {
		return nil, err
	}
	out := make([]shotSlopes, len(x.shots))
	err = each(len(x.shots), func(t *physics.Thrower, i int) error {
		if counts != nil && counts[i] == 0 {
			return nil
		}
		s := &x.shots[i]
		n, size := len(s.observations), s.size()
		d := shotSlopes{residuals: residuals[i], local: linear.New(n, size)}
		column := func(m *linear.Matrix, j int, wide float64, at func(by float64) ([]float64, error)) error {
			up, err := at(wide)
			if err != nil {
				return err
			}
			down, err := at(-wide)
			if err != nil {
				return err
			}
			m.SetColumn(j, x.scaled(i, func(k int) float64 { return (up[k] - down[k]) / (2 * wide) }))
			return nil
		}
		with := x.contact(p.shared)
		for j := range size {
			if j == len(s.varied) {
				d.local.SetColumn(j, x.scaled(i, func(k int) float64 {
					if s.observations[k].channel == timeChannel {
						return 1
					}
					return 0
				}))
				continue
			}
			err := column(d.local, j, differenceSteps[s.varied[j]], func(by float64) ([]float64, error) {
				values := slices.Clone(p.local[i])
				values[j] += by
				return s.predict(t, with, values, x.Settings)
			})
			if err != nil {
				return err
			}
		}
		if len(x.active) > 0 {
			d.shared = linear.New(n, len(x.active))
		}
		for j, setting := range x.active {
			// At the upper limit both steps lead below it.
			back := min(0, portable.Log(frictionSettings[setting].most)-logStep-p.shared[j])
			err := column(d.shared, j, logStep, func(by float64) ([]float64, error) {
				shared := slices.Clone(p.shared)
				shared[j] += back + by
				return s.predict(t, x.contact(shared), p.local[i], x.Settings)
			})
			if err != nil {
				return err
			}
		}
		out[i] = d
		return nil
	})
	return out, err
}

// moved returns the point after a step, within the limits of settings and shots.
func (x *fitter) moved(p, by fitPoint) fitPoint {
	q := fitPoint{shared: slices.Clone(p.shared), local: make([][]float64, len(p.local))}
	for i, s := range x.active {
		d := min(max(by.shared[i], -farthestStep), farthestStep)
		q.shared[i] = min(max(q.shared[i]+d, portable.Log(leastFriction)), portable.Log(frictionSettings[s].most))
	}
	for i := range p.local {
		q.local[i] = slices.Clone(p.local[i])
		if by.local[i] == nil {
			continue
		}
		for j, d := range by.local[i] {
			q.local[i][j] += d
		}
		x.shots[i].allowed(q.local[i])
	}
	return q
}

// farthestStep bounds the change of a setting's logarithm in one step, to a factor of two: the shots then
// remain similar.
const farthestStep = 0.7
