package main

import (
	"cmp"
	"context"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
	"loudfor/optimizer"
)

func pickCommand(c *console) *cobra.Command {
	var w wishes
	a := asked{top: 5, within: fmt.Sprintf("%g dB", optimizer.Noticed)}
	cmd := &cobra.Command{
		Use:   "pick [BRIEF]",
		Short: "The loudest complete build for a brief, the best value and more",
		Long: `pick reads a brief (a file, "-" for standard input, or demo:NAME for one of the
built-in ones: ` + inputs.DemoNames(inputs.DemoBriefs) + `) and finds
three complete builds of the catalogue that satisfy it: the loudest; the best
value, which is the cheapest of all at most 1 dB below it (--within); and the
best for music, or by the meter where the brief asks for music. Each is proven.

--list ranks the loudest builds as well, --top says how many; --full says all
that stands behind the first: assumptions, wiring, proof, cautions.

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
			if a.top < 1 || a.top > mostTop {
				return usageError{text: "--top is from 1 to 1000", command: cmd.CommandPath()}
			}
			if err := a.limits.check(cmd); err != nil {
				return err
			}
			var err error
			if a.dB, err = decibels("within", a.within); err != nil {
				return usageError{text: err.Error(), command: cmd.CommandPath()}
			}
			a.list = a.list || a.alike || cmd.Flags().Changed("top")
			a.command = cmd.CommandPath()
			if w.request.Brief = first(args); w.request.Brief != "" {
				a.command += " " + w.request.Brief
			}
			return pick(cmd.Context(), c, &w, a)
		},
	}
	w.flags(cmd)
	f := cmd.Flags()
	f.StringVar(&a.within, "within", a.within, "how far the best value may be below the loudest, in `dB`")
	f.BoolVar(&a.list, "list", false, "rank builds as well")
	f.IntVarP(&a.top, "top", "n", a.top, "how `many` builds to rank")
	f.BoolVar(&a.alike, "alike", false, "rank builds with the same bass driver and amplifier too, not only the best of them")
	f.BoolVar(&a.full, "full", false, "say all that stands behind the first build")
	a.limits.flags(cmd)
	return cmd
}

// asked is what pick is asked for besides its brief.
type asked struct {
	top               int
	alike, list, full bool
	within, command   string
	dB                float64 // of within
	limits            limits
}

// more is how to ask for what is not said.
func (a asked) more() string {
	switch {
	case a.full:
		return ""
	case a.list:
		return a.command + " --full says all."
	}
	return a.command + " --full says all; --list ranks more."
}

// mostDecibels is far more than any two builds are apart.
const mostDecibels = 60

// decibels reads the value of a flag: "1 dB" or 1.
func decibels(flag, text string) (float64, error) {
	value, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "dB")), 64)
	if err != nil || !(value >= 0 && value <= mostDecibels) {
		return 0, fmt.Errorf("--%s is from 0 to %d dB, such as \"1 dB\", not %q", flag, mostDecibels, text)
	}
	return value, nil
}

// mostTop keeps a ranking readable, and its search sharp.
const mostTop = 1000

func pick(ctx context.Context, c *console, w *wishes, a asked) error {
	job, err := c.load(&w.request)
	if err != nil {
		return err
	}
	problem := w.problem(job, a.top)
	if !a.alike {
		problem.Distinct = optimizer.DistinctBass
	}
	var answers optimizer.Answers
	err = c.search(ctx, a.limits, &problem, func(ctx context.Context) (err error) {
		answers, err = optimizer.FirstAnswers(ctx, problem, a.dB)
		return err
	})
	result := answers.Result
	if err != nil {
		return err
	}
	if c.json {
		doc := record.OfAnswers(job.Brief, job.Vehicle, c.origin, a.dB, answers)
		doc.BuiltBoxes, doc.BoxSearch = record.OfBuilt(job.Shop, result.Builds, job.Brief.Celsius)
		err = c.writeJSON(doc)
	} else {
		page := c.page()
		page.Choices(job.Question(), &answers, a.dB, a.more())
		switch {
		case a.full || len(result.Builds) == 0:
			page.Pick(job.Question(), result)
			page.Built(job.Question(), job.Shop, result.Builds)
		case a.list:
			page.Ranked(result.Builds)
		}
		err = page.Close()
	}
	if err != nil {
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
