package main

import (
	"cmp"
	"context"
	"time"

	"github.com/spf13/cobra"

	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
	"loudfor/optimizer"
)

func pickCommand(c *console) *cobra.Command {
	var w wishes
	top, alike, limit := 5, false, time.Duration(0)
	cmd := &cobra.Command{
		Use:   "pick [BRIEF]",
		Short: "Rank the loudest complete builds for a brief",
		Long: `pick reads a brief (a file, "-" for standard input, or demo:NAME for one of the
built-in ones: ` + inputs.DemoNames(inputs.DemoBriefs) + `) and ranks the
loudest complete builds of the catalogue that satisfy it.

Without a brief and without a catalogue it answers for the built-in demo, whose
parts, makers, shops and prices are invented. With a catalogue and without a
brief, --cap says how much may be spent.

No two builds ranked have the same bass driver and amplifier, so that there is
something to choose from; --alike ranks every set of parts.

A search that is stopped, by --time-limit or an interrupt, shows the best so far
and how much louder unseen builds could be.`,
		Example: `  loudfor pick
  loudfor pick brief.yaml --catalog parts/
  loudfor pick --catalog parts/ --cap 500 --vehicle sedan --openings "doors open"
  loudfor pick brief.yaml --catalog parts/ --json`,
		Args:              atMost(1, "one brief"),
		ValidArgsFunction: completeDemo(inputs.DemoBriefs),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := w.check(cmd); err != nil {
				return err
			}
			if top < 1 || top > mostTop {
				return usageError{text: "--top is from 1 to 1000", command: cmd.CommandPath()}
			}
			if limit < 0 {
				return usageError{text: "--time-limit is above zero, such as 2s", command: cmd.CommandPath()}
			}
			w.request.Brief = first(args)
			return pick(cmd.Context(), c, &w, top, alike, limit)
		},
	}
	w.flags(cmd)
	cmd.Flags().IntVarP(&top, "top", "n", top, "how `many` builds to rank")
	cmd.Flags().BoolVar(&alike, "alike", false, "rank builds with the same bass driver and amplifier too, not only the best of them")
	timeLimit(cmd, &limit)
	return cmd
}

// mostTop keeps a ranking readable, and its search sharp.
const mostTop = 1000

func pick(ctx context.Context, c *console, w *wishes, top int, alike bool, limit time.Duration) error {
	job, err := c.load(&w.request)
	if err != nil {
		return err
	}
	problem := w.problem(job, top)
	if !alike {
		problem.Distinct = optimizer.DistinctBass
	}
	var result optimizer.Result
	err = c.search(ctx, limit, &problem, func(ctx context.Context) (err error) {
		result, err = optimizer.Pick(ctx, problem)
		return err
	})
	if err != nil {
		return err
	}
	if err := c.ranked(job, result); err != nil {
		return err
	}
	return verdict(result)
}

// ranked prints a ranking, or why there is none.
func (c *console) ranked(job inputs.Job, result optimizer.Result) error {
	if c.json {
		doc := record.OfPick(job.Brief, job.Vehicle, c.origin, result)
		doc.BuiltBoxes, doc.BoxSearch = record.OfBuilt(job.Shop, result.Builds, job.Brief.Celsius)
		return c.writeJSON(doc)
	}
	page := c.page()
	page.Pick(job.Question(), result)
	page.Built(job.Question(), job.Shop, result.Builds)
	return page.Close()
}

// whole is nil for a ranking on which something else may be founded: one that
// is proven. A best so far is an answer of pick, which says how far it may be
// off; a sheet, a box or a comparison made of it would not. Where no build
// exists, that and why is the answer of every command.
func (c *console) whole(job inputs.Job, result optimizer.Result) error {
	if result.Outcome == optimizer.Infeasible {
		return cmp.Or(c.ranked(job, result), verdict(result))
	}
	if result.Outcome != optimizer.Optimal {
		return context.Canceled
	}
	return nil
}

func (w *wishes) problem(job inputs.Job, top int) optimizer.Problem {
	return optimizer.Problem{Catalogue: job.Catalogue, Brief: job.Brief, Vehicle: job.Vehicle,
		Top: top, Workers: w.workers, Seed: w.seed}
}

func first(args []string) string {
	if len(args) == 0 {
		return ""
	}
	return args[0]
}
