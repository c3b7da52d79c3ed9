package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lanesim/internal/files"
	"lanesim/internal/input"
	"lanesim/physics"
	"lanesim/scenario"
	"lanesim/studies"

	"github.com/spf13/cobra"
)

// commonFlags are the flags of every command.
type commonFlags struct {
	quiet, verbose bool
	color          string
}

var colorChoices = []string{"auto", "always", "never"}

func (f *commonFlags) add(c *cobra.Command) {
	s := c.PersistentFlags()
	s.SortFlags = false
	s.BoolVarP(&f.quiet, "quiet", "q", false, "print no warnings and no progress")
	s.BoolVarP(&f.verbose, "verbose", "v", false, "print which defaults are assumed, and the work of each shot")
	s.StringVar(&f.color, "color", "auto", "use color: auto (`when` on a terminal), always or never")
	complete(c, "color", colorChoices...)
}

// check checks the values of the flags.
func (f *commonFlags) check() error {
	return cmp.Or(oneOf("color", f.color, colorChoices), wrongIf(f.quiet && f.verbose, "--quiet and --verbose cannot both be given"))
}

// oneOf checks a flag that takes one of a few words.
func oneOf(flag, value string, choices []string) error {
	return wrongIf(!slices.Contains(choices, value), "--%s is %q: it can be %s", flag, value, strings.TrimSuffix(strings.Join(choices, ", "), ", "))
}

// wrongIf returns an error of the command line if wrong is true.
func wrongIf(wrong bool, format string, values ...any) error {
	if !wrong {
		return nil
	}
	return input.Wrong(format, values...)
}

// inRange checks the limits of a flag's number.
func inRange(flag string, value, least, most int) error {
	return wrongIf(value < least || value > most, "--%s is %d: it can be %d to %d", flag, value, least, most)
}

// complete gives the possible values of a flag to the shell's completion.
func complete(c *cobra.Command, flag string, choices ...string) {
	if err := c.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(choices, cobra.ShellCompDirectiveNoFileComp)); err != nil {
		panic(err) // the flag was defined just before
	}
}

// scenarioFlags are the flags of every command that reads a scenario.
type scenarioFlags struct {
	sets      []string
	tolerance string
	pocket    string // half the width in boards; "" leaves the scenario's
	pins      bool   // whether bowlers may aim at pins
	fixedLine bool   // whether lines must be given or aimed at the pocket
}

// checkLines checks that the command can use the lines of a scenario's bowlers.
func (f *scenarioFlags) checkLines(s *scenario.Scenario) error {
	for _, b := range s.Bowlers {
		if b.AimAtPins != 0 && !f.pins {
			return input.Wrong("%s aims at pins, which only throw, carry, aim and spares can do: give an angle, a target or  aim: pocket", b.Name)
		}
		if f.fixedLine && b.LineToFind() {
			return input.Wrong("%s has a line found by its breakpoint or moved after aiming, for throw, compare, spread, wear, carry and aim only: "+
				"give feet and arrows, or laydown and arrows", b.Name)
		}
	}
	return nil
}

func (f *scenarioFlags) add(c *cobra.Command) {
	s := c.Flags()
	s.StringArrayVar(&f.sets, "set", nil, "replace a value of the scenario, as `path=value`; repeatable")
	s.StringVar(&f.tolerance, "tolerance", "", "tolerance of the integration, instead of the scenario's (a `number` such as 1e-8)")
}

// addPocket adds the flag for the width of the pocket, for studies that count shots in it.
func (f *scenarioFlags) addPocket(c *cobra.Command) {
	w := physics.DefaultPocket
	c.Flags().StringVar(&f.pocket, "pocket", "", fmt.Sprintf("how many `boards` to either side of board %g count as the pocket, instead of the scenario's; usually %g",
		(w.Min+w.Max)/2, (w.Max-w.Min)/2))
}

// addLevel adds the flag for a skill level; whose says whose repeatability it replaces.
func (f *studyFlags) addLevel(c *cobra.Command, whose string) {
	c.Flags().StringVar(&f.level, "level", "", "skill `level` instead of the "+whose+" repeatability (assumed)")
	complete(c, "level", scenario.SkillLevels()...)
}

// atLeast checks the lower limit of a flag's number.
func atLeast(least int, flag string, value int) error {
	return wrongIf(value < least, "--%s is %d: it must be %d or more", flag, value, least)
}

// all returns the values to set in the scenario.
func (f *scenarioFlags) all() []string {
	sets := slices.Clone(f.sets)
	if f.pocket != "" {
		sets = append(sets, fmt.Sprintf("settings.pocket={board: %g, half_width: %s}", (physics.DefaultPocket.Min+physics.DefaultPocket.Max)/2, f.pocket))
	}
	if f.tolerance != "" {
		sets = append(sets, "settings.tolerance="+f.tolerance)
	}
	return sets
}

// studyFlags are shared by the commands that study a scenario.
type studyFlags struct {
	scenario scenarioFlags
	output   outputFlags
	phone    pictureFlags
	jobsFlag
	seed    uint64
	level   string // of skill; "" for the scenario's own repeatability
	assumed int    // sets of assumed values
}

// jobsFlag is the flag of commands that throw many shots.
type jobsFlag struct{ jobs int }

func (f *jobsFlag) addJobs(c *cobra.Command) {
	countVar(c.Flags(), &f.jobs, "jobs", "how many `shots` are computed at a time (0: as many as there are processors); results do not depend on it")
}

// work returns the settings of a study's workers and progress.
func (f *jobsFlag) work(progress func(done, total int)) studies.Work {
	return studies.Work{Workers: f.jobs, Progress: progress}
}

func (f *studyFlags) addSeed(c *cobra.Command) {
	seedVar(c.Flags(), &f.seed, "seed", 1, "seed of the random numbers")
}

// addAssumed adds the flag for trying conclusions with sets of assumed values.
func (f *studyFlags) addAssumed(c *cobra.Command) {
	intVar(c.Flags(), &f.assumed, "assumed", 0, fmt.Sprintf("try the conclusions with this many `sets` of assumed values (%d is usual; may take minutes)", studies.DefaultAssumedSets))
}

// outputFlags say what is written and where.
type outputFlags struct {
	json, csv bool
	paths     []string
	endings   []string // that paths can have
}

func (f *outputFlags) addJSON(c *cobra.Command) {
	c.Flags().BoolVar(&f.json, "json", false, "print JSON")
}

func (f *outputFlags) addCSV(c *cobra.Command, meaning string) {
	c.Flags().BoolVar(&f.csv, "csv", false, meaning)
}

func (f *outputFlags) addPaths(c *cobra.Command, endings []string) {
	f.endings = endings
	c.Flags().StringArrayVarP(&f.paths, "out", "o", nil,
		"write to the file `path`, in the format of its ending: "+strings.Join(endings, " ")+"; - is standard output; repeatable")
}

// addOutput adds the output flags of a study; printed is what --csv prints, "" for no --csv.
func (f *studyFlags) addOutput(c *cobra.Command, printed string, endings []string) {
	f.output.addJSON(c)
	if printed != "" {
		f.output.addCSV(c, "print "+printed+" as CSV")
	}
	f.output.addPaths(c, endings)
	f.phone.addPhone(c)
}

// check checks that the flags do not exclude each other and that the endings are known.
func (f *outputFlags) check() error {
	if f.json && f.csv {
		return input.Wrong("--json and --csv cannot both be given: use -o with .json and .csv")
	}
	for _, path := range f.paths {
		if path != files.Standard && !slices.Contains(f.endings, files.Ending(path)) {
			return input.Wrong("--out %s: the ending must be one of %s", path, strings.Join(f.endings, " "))
		}
	}
	return nil
}

// files returns the paths except standard output.
func (f *outputFlags) files() []string {
	return slices.DeleteFunc(slices.Clone(f.paths), func(path string) bool { return path == files.Standard })
}

// wants reports whether a file has one of the endings or, for .json and .csv, standard
// output has that format.
func (f *outputFlags) wants(endings ...string) bool {
	if f.json && slices.Contains(endings, ".json") || f.csv && slices.Contains(endings, ".csv") {
		return true
	}
	return slices.ContainsFunc(f.paths, func(path string) bool {
		return path != files.Standard && slices.Contains(endings, files.Ending(path))
	})
}

// exactlyOne checks that there is one argument, and says what it should be.
func exactlyOne(what string) cobra.PositionalArgs {
	return func(c *cobra.Command, arguments []string) error {
		_, name, _ := strings.Cut(c.CommandPath(), " ")
		return wrongIf(len(arguments) != 1, "%s needs one %s; %d were given", name, what, len(arguments))
	}
}

var oneFile = exactlyOne("file, or - for standard input")
