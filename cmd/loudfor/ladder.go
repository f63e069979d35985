package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"loudfor/catalog"
	"loudfor/cmd/internal/chart"
	"loudfor/cmd/internal/curve"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
	"loudfor/optimizer"
)

// rungs are what ladder is asked for besides its answer.
type rungs struct {
	csv, svg, worth string
	step            string
	least           float64 // dB of step
	all, full       bool
	limits          limits
}

func ladderCommand(c *console) *cobra.Command {
	var w wishes
	r := rungs{step: fmt.Sprintf("%g dB", optimizer.Noticed)}
	cmd := &cobra.Command{
		Use:   "ladder [BRIEF]",
		Short: "The best build at every price up to the cap",
		Long: `ladder reads a brief as pick does and finds the best build at every price up to
its cap: each price at which more can be had, to the cent, and what it buys.
Between two prices there is no better build than that of the lower one.

A step is listed when it gains at least 1 dB over the step listed before it
(--step; --all lists every one); the first and the last always are. CSV, JSON
and the drawing have every step; the drawing marks the best value, V, and the
knee, K, up to which money buys more than on the whole.

With --worth it marks where 2 dB more cost more than that. It also tells the
lowest price of a complete system, bass and new front stage.

A ladder that is stopped, by --time-limit or an interrupt, shows what was found
and how much louder unseen builds could be.`,
		Example: `  loudfor ladder
  loudfor ladder brief.yaml --catalog parts/ --worth "40 USD"
  loudfor ladder brief.yaml --catalog parts/ --csv ladder.csv --svg ladder.svg
  loudfor ladder brief.yaml --catalog parts/ --csv -`,
		Args:              atMost(1, "one brief"),
		ValidArgsFunction: completeDemo(inputs.DemoBriefs),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := w.check(cmd); err != nil {
				return err
			}
			if err := r.limits.check(cmd); err != nil {
				return err
			}
			var err error
			if r.least, err = decibels("step", r.step); err != nil {
				return usageError{text: err.Error(), command: cmd.CommandPath()}
			}
			if r.all {
				r.least = 0
			}
			w.request.Brief = first(args)
			return ladder(cmd.Context(), c, &w, r)
		},
	}
	w.flags(cmd)
	cmd.Flags().StringVar(&r.csv, "csv", "", "write the steps as CSV to `file`, or - for standard output in place of the answer")
	cmd.Flags().StringVar(&r.svg, "svg", "", "draw level against price into `file`")
	cmd.Flags().StringVar(&r.worth, "worth", "", "mark where 2 dB more cost more than this `money`: \"40 USD\" or 40")
	cmd.Flags().StringVar(&r.step, "step", r.step, "list a step when it gains so many `dB` over the one listed before it")
	cmd.Flags().BoolVar(&r.all, "all", false, "list every step")
	cmd.Flags().BoolVar(&r.full, "full", false, "say all cautions, and count in the proof what was covered")
	r.limits.flags(cmd)
	return cmd
}

func ladder(ctx context.Context, c *console, w *wishes, r rungs) error {
	job, err := c.load(&w.request)
	if err != nil {
		return err
	}
	worth, err := worthOf(r.worth, job.Catalogue.Currency)
	if err != nil {
		return err
	}
	problem := w.problem(job, 1)
	var result optimizer.LadderResult
	err = c.search(ctx, r.limits, &problem, func(ctx context.Context) (err error) {
		result, err = optimizer.Ladder(ctx, problem)
		return err
	})
	if err != nil {
		return err
	}
	changes := facts.Changes(result.Steps)
	if err := c.writeLadder(r, job, worth, changes, result); err != nil {
		return err
	}
	switch {
	case r.csv == "-":
	case c.json:
		doc := record.OfLadder(job.Brief, job.Vehicle, c.origin, worth, changes, result)
		doc.BuiltBoxes, doc.BoxSearch = record.OfBuilt(job.Shop, buildsOf(result.Steps), job.Brief.Celsius)
		err = c.writeJSON(doc)
	default:
		page := c.page()
		page.Ladder(job.Question(), worth, result, r.least, r.full)
		page.Built(job.Question(), job.Shop, buildsOf(result.Steps))
		err = page.Close()
	}
	if err != nil {
		return err
	}
	return verdict(optimizer.Result{Outcome: result.Outcome, Stop: result.Stop})
}

// buildsOf are the builds of the steps, ranked by them.
func buildsOf(steps []optimizer.Step) []optimizer.Build {
	all := make([]optimizer.Build, len(steps))
	for i := range steps {
		all[i] = steps[i].Build
		all[i].Rank = i + 1
	}
	return all
}

// worthOf reads --worth; nil if it is not given.
func worthOf(text, currency string) (*catalog.Money, error) {
	if text == "" {
		return nil, nil
	}
	worth, err := inputs.ParseCap(text, currency)
	switch {
	case err != nil:
		return nil, inputs.UsageError{Text: "--worth " + text + ": not a sum of money above zero, such as \"40 USD\""}
	case currency != "" && worth.Currency != currency:
		return nil, inputs.UsageError{Text: "--worth " + text + ": the catalogue is in " + currency}
	}
	return &worth, nil
}

// writeLadder writes the files beside the answer.
func (c *console) writeLadder(r rungs, job inputs.Job, worth *catalog.Money, changes []string, result optimizer.LadderResult) error {
	if r.csv != "" {
		text, err := curve.LadderCSV(result.Steps, changes)
		if err != nil {
			return err
		}
		if r.csv == "-" {
			if _, err := c.out.Write(text); err != nil {
				return err
			}
		} else if err := replace(r.csv, text); err != nil {
			return err
		}
	}
	if r.svg == "" || len(result.Steps) == 0 {
		return nil
	}
	title := job.Brief.Name
	if title == "" {
		title = job.Vehicle.Name
	}
	return replace(r.svg, chart.File(curve.Ladder(title, result.Steps, worth, job.Brief.Cap)))
}
