package main

import (
	"context"
	"fmt"

	"lanesim/files"
	"lanesim/report"
	"lanesim/rows"

	"github.com/spf13/cobra"
)

// sweepOptions are the flags of the sweep command.
type sweepOptions struct {
	scenario scenarioFlags
	output   outputFlags
	jobs     int
	resume   bool
	shard    string
	yes      bool
	columns  bool
	phone    pictureFlags
}

// mostRows is how many rows a sweep may have without --yes: days of work.
const mostRows = 1_000_000_000

func (p *program) sweepCommand() *cobra.Command {
	var o sweepOptions
	c := &cobra.Command{
		Use:     "sweep FILE",
		GroupID: groupRun,
		Short:   "Throw a scenario over and over while some of its fields vary",
		Long: `Sweep throws a scenario at every point of a design and keeps some numbers of
each shot. FILE, or - for standard input, says which:

  scenario: first-shot.yaml       a file relative to this one, or written out
  vary:                           paths as in --set
    bowler.speed: {from: 16 mph, to: 20 mph, steps: 9}
    lane.oil: [house, flat]
  design: grid                    or latin or halton, with points and a seed
  columns: [entry_board, hook_ft, breakpoint_distance_ft]

A grid takes all values with all others; the last field changes fastest. A Latin
hypercube and a Halton sequence spread points over the ranges; they follow from
the seed, and each from its number alone. --columns lists what can be kept.

A row holds its number, from 0, the fields that vary as they are given, with the
unit in the column's name, and the columns. Where a scenario has several lanes,
balls or bowlers, each point has a row for every delivery, and columns lane,
ball or bowler between. What does not exist for a shot is empty in CSV and null
elsewhere.

Rows are computed at the tolerance of studies, 1e-4, good for about a hundredth
of a board, unless the scenario or --tolerance gives another: with --tolerance
1e-6 a row has the digits of lanesim throw FILE --set path=value and takes
several times as long.

Where a bowler aims at the pocket, one line is found: with the first ball and
the middle value of each field that varies (if that has none, with the first
values or the last), the launch angle nearest to 0. Each row follows this line
to its own values. A column line says own or, where that line ends on the way
and the row is thrown on another, changed (open dots and crosses in a picture),
or none: the columns are then empty. An oil or a lane that is given by words
has a line of its own. No row depends on the others.

Files: .csv, .jsonl (an object on a line), .parquet, and a picture of one or two
fields that vary. Rows on their way are kept in a file beside the first that is
asked for, with the ending .partial: rows.csv.partial. After an interrupt, or
whatever ended the run, --resume goes on with it; the result is that of a run
that nothing disturbed. It is the same for any number of jobs.

--shard i/n computes the rows k ≡ i modulo n, i from 0, into a part in the
folder that -o names, and skips a part that is there. --shard auto takes i and n
from a Slurm job array, or from a Kubernetes Indexed Job with its number of
completions in LANESIM_SHARDS; --shard /n takes i alone from there. lanesim
merge joins the parts.`,
		Example: `  lanesim sweep examples/sweep-layout.yaml
  lanesim sweep examples/sweep-layout.yaml -o layout.csv -o layout.png
  lanesim sweep examples/sweep-speed-revs.yaml -o speed-revs.svg -o speed-revs.parquet
  lanesim sweep examples/sweep-any-release.yaml --csv --jobs 2
  lanesim sweep examples/sweep-layout.yaml --set 'bowler.rev_rate=450 rpm' --json
  lanesim sweep examples/sweep-layout.yaml --shard 0/2 -o parts
  lanesim sweep --columns`,
		Args: func(c *cobra.Command, arguments []string) error {
			if o.columns && len(arguments) == 0 {
				return nil
			}
			return oneFile(c, arguments)
		},
		RunE: func(c *cobra.Command, arguments []string) error {
			if o.columns {
				return p.print([]byte(report.ColumnList(report.ShotColumns())))
			}
			return p.sweep(c.Context(), arguments[0], o)
		},
	}
	f := c.Flags()
	f.SortFlags = false
	o.scenario.add(c)
	intVar(f, &o.jobs, "jobs", 0, "how many `shots` to compute at once (0: as many as there are processors)")
	o.output.addJSON(c)
	f.Lookup("json").Usage = "print rows as JSON, an object on a line"
	o.output.addCSV(c, "print rows as CSV")
	o.output.addPaths(c, sweepEndings())
	f.BoolVar(&o.resume, "resume", false, "go on with the .partial file of a run that did not end")
	f.StringVar(&o.shard, "shard", "", "compute a part of the rows into the folder of -o: `i/n`, /n or auto")
	f.BoolVar(&o.yes, "yes", false, fmt.Sprintf("do compute more than %d rows", mostRows))
	f.BoolVar(&o.columns, "columns", false, "list the columns that there are, and stop")
	o.phone.addPhone(c)
	return c
}

func sweepEndings() []string { return append(rows.Endings(), pictureEndings()...) }

// sweep runs the sweep command.
func (p *program) sweep(ctx context.Context, path string, o sweepOptions) error {
	if o.jobs < 0 {
		return wrongInput("--jobs is %d: it cannot be negative", o.jobs)
	}
	shard, of := uint64(0), uint64(1)
	if o.shard == "" {
		if err := o.output.check(sweepEndings()); err != nil {
			return err
		}
	} else if len(o.output.paths) != 1 || o.output.paths[0] == files.Standard || o.output.json || o.output.csv {
		return wrongInput("--shard needs one -o, the folder of the parts, and prints nothing")
	} else {
		var err error
		if shard, of, err = rows.Shard(o.shard, p.environment); err != nil {
			return wrongInput("--shard: %w", err)
		}
	}
	s, err := p.readSweep(ctx, path, o.scenario)
	if err != nil {
		return err
	}
	if n := s.Rows(); n > mostRows && !o.yes {
		return wrongInput("the sweep has %d rows, more than %d: give --yes if that is meant", n, mostRows)
	}
	if o.output.wants(pictureEndings()...) {
		if err := s.CanDraw(); err != nil {
			return inputError{err}
		}
	}
	p.tellAssumptions(s.Base)
	s.Header.Shard, s.Header.Of = shard, of
	if o.shard != "" {
		return p.sweepPart(ctx, s, o)
	}
	paths := o.output.files()
	if len(paths) == 0 {
		return p.sweepToOutput(ctx, s, o)
	}
	return p.sweepToFiles(ctx, s, paths, o)
}
