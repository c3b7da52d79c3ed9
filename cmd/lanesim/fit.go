package main

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"strings"

	"lanesim/internal/files"
	"lanesim/internal/input"
	"lanesim/lane"
	"lanesim/plots"
	"lanesim/report/measured"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/fit"

	"github.com/spf13/cobra"
)

// fitOptions are the flags of the fit command.
type fitOptions struct {
	studyFlags
	fit, free  []string
	knownSpeed bool
	bootstrap  int
}

// mostRepetitions bounds the repeated fits.
const mostRepetitions = 100_000

func (p *program) fitCommand() *cobra.Command {
	var o fitOptions
	c := helped("fit", &cobra.Command{
		Use:     "fit FILE TRACKS",
		GroupID: groupRun,
		Args: func(c *cobra.Command, arguments []string) error {
			return cmp.Or(wrongIf(len(arguments) != 2, "%s needs two files, a scenario and tracks; %d were given", c.Name(), len(arguments)),
				wrongIf(slices.Equal(arguments, []string{files.Standard, files.Standard}), "standard input can be read only once"))
		},
		RunE: func(c *cobra.Command, arguments []string) error {
			return p.fit(c.Context(), arguments[0], arguments[1], o)
		},
	})
	f := c.Flags()
	o.scenario.fixedLine = true
	o.scenario.add(c)
	f.StringSliceVar(&o.fit, "fit", nil, "`settings` to fit: film, dry, entrained or mu of the lane (default all of the law), or cover.film, cover.dry")
	complete(c, "fit", settingNames()...)
	f.StringSliceVar(&o.free, "free", nil, "fit these `quantities` for each shot, too: "+strings.Join(freeNames(), ", "))
	complete(c, "free", freeNames()...)
	f.BoolVar(&o.knownSpeed, "known-speed", false, "take the speed at release from the bowler, not from the track")
	intVar(f, &o.bootstrap, "bootstrap", 0, "repeat the fit this `number` of times on resampled shots")
	seedVar(f, &o.seed, "seed", 1, "seed of the random numbers")
	o.addJobs(c)
	o.addOutput(c, "a row for each point", resultEndings())
	f.Lookup("csv").Usage += ", measured and computed"
	return c
}

func settingNames() []string {
	all := slices.Concat(fit.FrictionSettings(lane.Mixed), fit.FrictionSettings(lane.Constant), fit.CoverSettings())
	return input.Each(all, fit.FrictionSetting.String)
}

// freeable lists the quantities that may be fitted for each shot.
func freeable() []studies.Varied {
	return slices.DeleteFunc(studies.AllVaried(), func(v studies.Varied) bool {
		// Laydown and angle are always fitted; the phase is never known well enough
		// for a fit to start from it.
		return v == studies.VariedLaydown || v == studies.VariedAngle || v == studies.VariedPhase
	})
}

func freeNames() []string { return input.Each(freeable(), studies.Varied.String) }

func (p *program) fit(ctx context.Context, path, tracks string, o fitOptions) error {
	s, err := p.readScenario(ctx, path, o.scenario, o.output.check(), inRange("bootstrap", o.bootstrap, 0, mostRepetitions))
	if err != nil {
		return err
	}
	if n := len(s.Lanes); n != 1 {
		return input.Wrong("the scenario has %d lanes: tracks need a scenario with one", n)
	}
	r := &measured.Fit{Title: s.Heading(), Warnings: slices.Clone(s.Warnings)}
	of := s.TracksFor()
	r.Balls, r.Bowlers = of.Balls, of.Bowlers
	r.Study = fit.Study{
		Lane: s.Lanes[0], Settings: s.Settings, KnownSpeed: o.knownSpeed,
		Bootstrap: o.bootstrap, Seed: o.seed, Work: o.work(p.progress("fit, step")),
	}
	if err := o.choose(&r.Study); err != nil {
		return err
	}
	if r.Study.Shots, err = p.readTracks(ctx, tracks, s); err != nil {
		return err
	}
	if r.Result, err = r.Study.Run(ctx); errors.Is(err, fit.ErrSeveralCovers) {
		return input.Wrong("--fit %s: %w", strings.Join(o.fit, ","), err)
	} else if err != nil {
		return err
	}
	p.note(&r.Warnings, r.Cautions()...)
	return p.writeResults(ctx, o.output, results{
		json: r.WriteJSON, rows: r.Rows,
		table:   r.Table,
		picture: func() (*plots.Drawing, error) { return plots.DrawFit(r, o.phone.size()) },
	})
}

// choose sets the quantities to fit from the flags.
func (o fitOptions) choose(study *fit.Study) error {
	law := study.Lane.Friction.Law
	known := fit.AllSettings(law)
	if known == nil {
		return input.Wrong("the friction law is %s: a fit needs the mixed or the constant law", law)
	}
	names := input.Each(known, fit.FrictionSetting.String)
	for _, name := range o.fit {
		i := slices.Index(names, name)
		if i < 0 {
			return input.Wrong("--fit %s: with the %s law it can be %s", name, law, strings.Join(names, ", "))
		}
		study.Fitted = append(study.Fitted, known[i])
	}
	if err := laneOrCover(o.fit, study.Fitted); err != nil {
		return err
	}
	for _, name := range o.free {
		i := slices.Index(freeNames(), name)
		if i < 0 {
			return input.Wrong("--free %s: it can be %s", name, strings.Join(freeNames(), ", "))
		}
		study.Free = append(study.Free, freeable()[i])
	}
	if o.knownSpeed && slices.Contains(study.Free, studies.VariedSpeed) {
		return input.Wrong("--known-speed and --free speed cannot both be given")
	}
	return nil
}

// laneOrCover returns an error for settings of the lane together with those of a cover,
// placed at the first that differs.
func laneOrCover(names []string, settings []fit.FrictionSetting) error {
	column := 1
	for i, s := range settings {
		if s.OfCover() != settings[0].OfCover() {
			return scenario.Errors{{File: "--fit", Line: 1, Column: column, Path: names[i], Source: strings.Join(names, ","),
				Message: fit.ErrLaneAndCover.Error()}}
		}
		column += len([]rune(names[i])) + len(",")
	}
	return nil
}
