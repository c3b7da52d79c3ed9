package fit

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
)

// Scatter has the standard deviations of the readings of a track: of boards, of the speed in m/s and of the
// time in s.
type Scatter struct{ Boards, Speed, Time float64 }

// TrackedShot is a tracked shot with its setup.
type TrackedShot struct {
	Track

	// Setup has the ball drilled for the bowler and the bowler's release, whose laydown and launch angle are
	// fitted. Its lane and its repeatability are ignored.
	Setup studies.Setup
}

// Study finds the friction with which computed shots are nearest to measured tracks.
//
// The settings of the friction law, or those of a cover, are common to all shots; tracks cannot separate the
// two, since only their product has an effect. Each shot has its own laydown and launch angle, the start of
// its clock if it was timed, a speed if the track has a speed or two times, and the quantities in Free. The
// fit is by least squares of board, speed and time, each divided by its scatter, with the loss of Huber,
// "Robust estimation of a location parameter", Ann. Math. Stat. 35 (1964) 73, so that an outlier has little
// weight.
type Study struct {
	Lane  lane.Lane // its friction is the first guess, and is kept where it is not fitted
	Shots []TrackedShot

	// Fitted lists the settings to fit: of the friction law or of [CoverSettings]; nil means all of
	// [FrictionSettings]. The first guess of a cover is that of the balls.
	Fitted []FrictionSetting

	// Free lists further quantities of the release to fit for each shot.
	Free []studies.Varied

	// KnownSpeed keeps the bowler's release speed even if the tracks have speeds or times.
	KnownSpeed bool

	// Scatter of the readings if known; 0 means that it is estimated from the tracks.
	Scatter Scatter

	// Settings are those of all shots; a zero tolerance means [Tolerance].
	Settings physics.Settings

	// Bootstrap is the number of repetitions of the fit on shots drawn with replacement, and Seed the seed of
	// the draws.
	Bootstrap int
	Seed      uint64

	studies.Work // its progress counts steps, of at most the total, and repetitions
}

// ErrNoFit means that the search did not converge.
var ErrNoFit = errors.New("the fit did not settle: start from a friction and releases nearer to the truth, or fit fewer settings")

// ErrNothingToFit means that there is neither a setting nor a shot to fit.
var ErrNothingToFit = errors.New("there is nothing to fit: tracks give the settings of the mixed and of the constant law")

// ErrLaneAndCover means that settings of a lane and of a cover were to be fitted together.
var ErrLaneAndCover = errors.New("fit the friction of the lane or that of a cover: tracks show only the product of both")

// ErrSeveralCovers means that a cover was to be fitted to the tracks of balls with different covers.
var ErrSeveralCovers = errors.New("the tracked balls have different covers: fit one, with the tracks of its balls alone")

// Kept is why a setting was not fitted.
type Kept int

// The reasons.
const (
	Fitted      Kept = iota // it was fitted
	DryLane                 // there is no film to meet
	Insensitive             // the tracks hardly depend on it
)

// SettingResult is the result for one setting, a dimensionless number.
type SettingResult struct {
	Setting FrictionSetting
	Start   float64 // first guess
	Value   float64

	// Held is why the setting was kept at its first guess, if it was not fitted. The following fields are
	// valid only if it was fitted.
	Held Kept

	// AtLimit is set if the setting ended at a limit of the search.
	AtLimit bool

	// Error is the standard error. The 95 % interval is symmetric in the logarithm, so that it stays above 0.
	Error float64
	studies.Interval

	// The same from repeated fits; NaN without them.
	BootstrapError    float64
	BootstrapInterval studies.Interval
}

// ShotResult is one shot as fitted.
type ShotResult struct {
	Release physics.Release

	// Fitted lists the quantities of the release that were fitted, Errors their standard errors in SI units
	// (boards for the laydown).
	Fitted []studies.Varied
	Errors []float64

	// ClockStart is the time in s on the shot's clock at the release; NaN if the shot was not timed.
	ClockStart float64

	// Shot is the fitted shot with its path, on the lane with its gutters.
	Shot physics.Shot

	// Residuals are measured − computed, one for each point.
	Residuals []TrackResidual

	// RMS is the root mean square of the residuals; NaN for readings that were not taken.
	RMS Scatter

	// Outlier is set if the shot as a whole fits much worse than the others.
	Outlier bool
}

// TrackResidual is measured − computed at one point, in boards, m/s and s; NaN for readings that were not
// taken.
type TrackResidual struct {
	Board, Speed, Time float64

	// Outlier is set if one of them is far outside the scatter.
	Outlier bool
}

// Result is the result of a fit.
type Result struct {
	Friction lane.Friction // with the fitted settings
	Settings []SettingResult

	// Cover is the balls' cover with the fitted settings; nil unless settings of a cover were to be fitted.
	Cover *ball.Cover
	Shots []ShotResult

	// Correlations of the errors of the fitted settings, in the order of Settings, without those that were
	// held.
	Correlations [][]float64

	// Scatter is a standard deviation of the residuals that outliers do not inflate; NaN for readings that
	// were not taken. Readings counts the readings of each kind, and Assumed is set for kinds whose scatter
	// could not be estimated.
	Scatter  Scatter
	Readings [channelCount]int
	Assumed  [channelCount]bool

	// FreeReadings is the degrees of freedom: the number of readings minus that of fitted parameters.
	FreeReadings int

	// Repetitions is the number of repetitions of the bootstrap that converged, Failed the number of those
	// that did not.
	Repetitions, Failed int

	// Singular is set if the tracks cannot distinguish the settings from the shots' releases. There are then
	// no errors.
	Singular bool

	// Weak lists settings that can change much together without changing the tracks; nil if there are none.
	Weak []FrictionSetting

	// Ties are pairs of parameters that the tracks of single shots hardly distinguish.
	Ties []ReleaseTie

	// ShortOfOilEnd is set if no track reaches well past the end of the pattern.
	ShortOfOilEnd bool
}

// Run fits the settings.
//
// The errors are [ErrNothingToFit], [ErrLaneAndCover], [ErrSeveralCovers], [ErrNoFit], those of invalid
// inputs, that of [physics.Throw] for a shot, and that of the context.
func (f Study) Run(ctx context.Context) (Result, error) {
	if err := f.check(); err != nil {
		return Result{}, err
	}
	wanted := f.Fitted
	if wanted == nil {
		wanted = FrictionSettings(f.Lane.Friction.Law)
	}
	held := map[FrictionSetting]Kept{}
	if f.Lane.Friction.Law == lane.Mixed && !oiled(f.Lane) {
		for _, s := range []FrictionSetting{FilmFriction, EntrainedShare, CoverFilm} {
			held[s] = DryLane
		}
	}
	rounds := 0
	for {
		var active []FrictionSetting
		for _, s := range AllSettings(f.Lane.Friction.Law) {
			if slices.Contains(wanted, s) && held[s] == Fitted {
				active = append(active, s)
			}
		}
		x := newFitter(f, active)
		x.rounds = rounds
		err := x.run(ctx)
		if err != nil && !errors.Is(err, ErrNoFit) {
			return Result{}, err
		}
		rounds = x.rounds
		// A search may not converge if the tracks do not determine the settings.
		if dull := x.insensitive(); len(dull) > 0 {
			for _, s := range dull {
				held[s] = Insensitive
			}
			continue
		}
		if err != nil {
			return Result{}, err
		}
		return x.result(ctx, wanted, held)
	}
}

func (f Study) ofCover() bool { return slices.ContainsFunc(f.Fitted, FrictionSetting.OfCover) }

// cover returns the cover of the balls; for the zero cover the default that it means.
func (f Study) cover() ball.Cover {
	if c := f.Shots[0].Setup.Ball.Cover; c != (ball.Cover{}) {
		return c
	}
	return ball.Reactive
}

func (f Study) check() error {
	for _, s := range f.Fitted {
		if !slices.Contains(AllSettings(f.Lane.Friction.Law), s) {
			return fmt.Errorf("the %s law has no setting %s", f.Lane.Friction.Law, s)
		}
	}
	if len(f.Shots) == 0 || len(FrictionSettings(f.Lane.Friction.Law)) == 0 {
		return ErrNothingToFit
	}
	if f.ofCover() {
		for _, s := range f.Fitted {
			if !s.OfCover() {
				return ErrLaneAndCover
			}
		}
		for _, s := range f.Shots {
			if s.Setup.Ball.Cover != f.Shots[0].Setup.Ball.Cover {
				return ErrSeveralCovers
			}
		}
	}
	for _, s := range f.Shots {
		if len(s.Points) < leastPoints {
			return fmt.Errorf("shot %q has fewer than %d points", s.Shot, leastPoints)
		}
	}
	return nil
}

func oiled(l lane.Lane) bool {
	return l.Oil.Length() > 0 && slices.Max(l.Oil.Film) > 0
}

// rootMean returns the square root of a mean square; NaN for n = 0.
func rootMean(sum float64, n int) float64 {
	if n == 0 {
		return math.NaN()
	}
	return math.Sqrt(sum / float64(n))
}
