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

// Scatter is a standard deviation of each thing that is measured on a track: in boards
// across the lane, of the speed in m/s and of the time in s.
type Scatter struct{ Boards, Speed, Time float64 }

// TrackedShot is a shot whose ball was tracked, with what is known of it.
type TrackedShot struct {
	Track

	// Setup has the ball drilled for the bowler and the bowler's release, whose laydown
	// and angle count only as names of the line: they are fitted. Its lane is that of the
	// study; neither it nor the repeatability matters.
	Setup studies.Setup
}

// Study asks which friction brings computed shots nearest to measured tracks.
//
// The settings of the friction law are shared by all shots, or those of one
// cover, if they are fitted: of both the tracks give the product alone. Each shot has a
// laydown and a launch angle of its own, the start of its clock if it was timed,
// a speed if it has a speed or two times, and what else Free names. Least
// squares of board, speed and time, each over its scatter, with the loss of
// Huber, "Robust estimation of a location parameter", Ann. Math. Stat. 35
// (1964) 73, so that an outlier counts little.
type Study struct {
	Lane  lane.Lane // its friction is the first guess, and that of what is not fitted
	Shots []TrackedShot

	// Settings that are fitted: of the friction law or of [CoverSettings]; nil
	// means all of [FrictionSettings]. The first guess of a cover is that of the
	// balls.
	Fitted []FrictionSetting

	// Free is what else of the release each shot has for itself.
	Free []studies.Varied

	// KnownSpeed takes the speed at release from the bowler although the tracks
	// have speeds or times.
	KnownSpeed bool

	// Scatter of the readings where it is known; 0 means to estimate it from
	// the tracks.
	Scatter Scatter

	// Settings hold for all shots; a zero tolerance means [Tolerance].
	Settings physics.Settings

	// Bootstrap is how many times the fit is repeated on shots drawn with
	// replacement from the tracks, Seed what the draws follow from.
	Bootstrap int
	Seed      uint64

	studies.Work // its progress is that of the rounds, at most, and of the repetitions
}

// ErrNoFit says that no settings were found from which no step leads nearer to
// the tracks.
var ErrNoFit = errors.New("the fit did not settle: start from a friction and releases nearer to the truth, or fit fewer settings")

// ErrNothingToFit says that there is neither a setting nor a shot to fit.
var ErrNothingToFit = errors.New("there is nothing to fit: tracks give the settings of the mixed and of the constant law")

// ErrLaneAndCover says that settings of a lane and of a cover were to be fitted
// together.
var ErrLaneAndCover = errors.New("fit the friction of the lane or that of a cover: of both the tracks give the product alone")

// ErrSeveralCovers says that a cover was to be fitted to the tracks of balls with
// different ones.
var ErrSeveralCovers = errors.New("the tracked balls have different covers: fit one, with the tracks of its balls alone")

// Kept is why a setting was not fitted.
type Kept int

// The reasons.
const (
	Fitted      Kept = iota // it was
	DryLane                 // there is no film to meet
	Insensitive             // the tracks hardly depend on it
)

// SettingResult is what the tracks show of one setting, a dimensionless number.
type SettingResult struct {
	Setting FrictionSetting
	Start   float64 // first guess
	Value   float64

	// Held says why the setting was kept at its first guess, if it was not fitted.
	// What follows exists only if it was.
	Held Kept

	// AtLimit says that the setting ended where the search for it ends.
	AtLimit bool

	// Error is the standard error. The interval is even in the logarithm, so that it
	// stays above 0.
	Error float64
	studies.Interval

	// The same from repeated fits; NaN without them.
	BootstrapError    float64
	BootstrapInterval studies.Interval
}

// ShotResult is one shot as fitted.
type ShotResult struct {
	Release physics.Release

	// Fitted lists what of the release was fitted, Errors its standard errors
	// in SI units (boards for the laydown).
	Fitted []studies.Varied
	Errors []float64

	// ClockStart is the time in s on the shot's clock at the release; NaN if it
	// was not timed.
	ClockStart float64

	// Shot is the shot with its path, on the lane as it is.
	Shot physics.Shot

	// Residuals are measured − computed, one for each point.
	Residuals []TrackResidual

	// RMS is the root mean square of the residuals; NaN of what was not
	// measured.
	RMS Scatter

	// Outlier says that the shot as a whole fits worse than the others.
	Outlier bool
}

// TrackResidual is measured − computed at one point: boards, m/s and s, NaN of
// what was not measured.
type TrackResidual struct {
	Board, Speed, Time float64

	// Outlier says that one of them is far outside the scatter.
	Outlier bool
}

// Result is what became of a fit.
type Result struct {
	Friction lane.Friction // with the fitted settings
	Settings []SettingResult

	// Cover is that of the balls with the fitted settings; nil if none of a
	// cover was asked for.
	Cover *ball.Cover
	Shots []ShotResult

	// Correlations are those of the errors of the settings that were fitted, in
	// the order of Settings, without those that were held.
	Correlations [][]float64

	// Scatter of the residuals about the fit, a standard deviation that
	// outliers do not inflate; NaN of what was not measured. Readings counts
	// them. Assumed says for which the scatter could not be estimated.
	Scatter  Scatter
	Readings [channelCount]int
	Assumed  [channelCount]bool

	// FreeReadings is the number of readings less that of fitted numbers.
	FreeReadings int

	// Repetitions is the number of those of the bootstrap that settled, and Failed of
	// those that did not.
	Repetitions, Failed int

	// Singular says that the tracks cannot distinguish the settings from the shots'
	// releases: there are no errors.
	Singular bool

	// Weak lists settings that together can change much without the tracks
	// changing; nil if there are none.
	Weak []FrictionSetting

	// Ties are what the tracks of single shots hardly distinguish.
	Ties []ReleaseTie

	// ShortOfOilEnd says that no track reaches well past the end of the oil.
	ShortOfOilEnd bool
}

// Run fits.
//
// The errors are [ErrNothingToFit], [ErrLaneAndCover], [ErrSeveralCovers],
// [ErrNoFit], that of a shot that breaks down
// and that of the context if it ends.
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
		// A search may not settle where there is nothing to be found.
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

// cover is that of the balls; of the zero cover the numbers that it stands for.
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

// rootMean is the square root of a mean square; NaN of nothing.
func rootMean(sum float64, n int) float64 {
	if n == 0 {
		return math.NaN()
	}
	return math.Sqrt(sum / float64(n))
}
