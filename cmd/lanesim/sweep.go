package main

import (
	"context"
	"fmt"

	"lanesim/internal/files"
	"lanesim/internal/input"
	"lanesim/report/thrown"
	"lanesim/rows"

	"github.com/spf13/cobra"
)

// sweepOptions are the flags of the sweep command.
type sweepOptions struct {
	scenario scenarioFlags
	output   outputFlags
	phone    pictureFlags
	jobsFlag
	resume  bool
	shard   string
	yes     bool
	columns bool
}

// mostRows is the most rows of a sweep without --yes: days of work.
const mostRows = 1_000_000_000

func (p *program) sweepCommand() *cobra.Command {
	var o sweepOptions
	c := helped("sweep", &cobra.Command{
		Use:     "sweep FILE",
		GroupID: groupRun,
		Args: func(c *cobra.Command, arguments []string) error {
			if o.columns && len(arguments) == 0 {
				return nil
			}
			return oneFile(c, arguments)
		},
		RunE: func(c *cobra.Command, arguments []string) error {
			if o.columns {
				return p.print([]byte(thrown.ShotColumns().List()))
			}
			return p.sweep(c.Context(), arguments[0], o)
		},
	})
	f := c.Flags()
	o.scenario.add(c)
	o.addJobs(c)
	o.output.addJSON(c)
	f.Lookup("json").Usage = "print rows as JSON, an object on a line"
	o.output.addCSV(c, "print rows as CSV")
	o.output.addPaths(c, append(rows.Endings(), pictureEndings()...))
	f.BoolVar(&o.resume, "resume", false, "continue from the .partial file of an interrupted run")
	f.StringVar(&o.shard, "shard", "", "compute a part of the rows into the folder of -o: `i/n`, /n or auto")
	f.BoolVar(&o.yes, "yes", false, fmt.Sprintf("allow more than %d rows", mostRows))
	f.BoolVar(&o.columns, "columns", false, "list all columns and exit")
	o.phone.addPhone(c)
	return c
}

func (p *program) sweep(ctx context.Context, path string, o sweepOptions) error {
	shard, of := uint64(0), uint64(1)
	if o.shard == "" {
		if err := o.output.check(); err != nil {
			return err
		}
	} else if len(o.output.paths) != 1 || o.output.paths[0] == files.Standard || o.output.json || o.output.csv {
		return input.Wrong("--shard needs one -o, the folder of the parts, and prints nothing")
	} else {
		var err error
		if shard, of, err = rows.Shard(o.shard, p.environment); err != nil {
			return input.Wrong("--shard: %w", err)
		}
	}
	s, err := p.readSweep(ctx, path, o.scenario)
	if err != nil {
		return err
	}
	if n := s.Rows(); n > mostRows && !o.yes {
		return input.Wrong("the sweep has %d rows, more than %d: give --yes to compute them", n, mostRows)
	}
	if o.output.wants(pictureEndings()...) {
		if err := s.CanDraw(); err != nil {
			return input.AsWrong(err)
		}
	}
	p.sayAssumptions(s.Base)
	s.Header.Shard, s.Header.Of = shard, of
	if o.shard != "" {
		return p.sweepPart(ctx, s, o)
	}
	return p.sweepWhole(ctx, s, o)
}
