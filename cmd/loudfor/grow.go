package main

import (
	"context"

	"github.com/spf13/cobra"

	"loudfor/catalog"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
	"loudfor/optimizer"
	"loudfor/optimizer/growth"
)

// grown is what grow is asked for besides its brief.
type grown struct {
	then          []string
	order, resale string
	ways          bool
	limits        limits
}

func growCommand(c *console) *cobra.Command {
	var w wishes
	var a grown
	cmd := &cobra.Command{
		Use:   "grow [BRIEF]",
		Short: "What to buy first, when more money comes later",
		Long: `grow finds the best way to buy a system in two to four steps: what to buy for the
cap now, so that it is the right thing to have when the next sum comes. The brief
says the sums, steps: [250 USD, +300 USD], or --then does.

What was bought stays and is used, or lies idle where that is better, or is sold
for a share of its price (resale: 40 %, or --resale). The order says which plan is
the best (order, or --order):
  last   the loudest at the end, then the loudest on the way
  first  the loudest now, then the best that grows from it
  fair   within 1 dB of the best at every step, with the least thrown away

Each step is a build by all rules of the brief. The answer says what is bought,
what goes idle, how it is wired then, and what the steps cost against buying all
at once and against the loudest first buy. --amplifiers also holds two ways against
each other, by both goals: an amplifier for the bass now and one for the doors
later, or one with four channels or more for both. The plan is proven; stopped, by
--time-limit or an interrupt, it says how much louder another plan could be.`,
		Example: `  loudfor grow --then 300
  loudfor grow brief.yaml --catalog parts/ --then 300 --then 200 --resale "40 %"
  loudfor grow brief.yaml --catalog parts/ --order fair --json`,
		Args:              atMost(1, "one brief"),
		ValidArgsFunction: completeDemo(inputs.DemoBriefs),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := w.check(cmd); err != nil {
				return err
			}
			if err := a.limits.check(cmd); err != nil {
				return err
			}
			w.request.Brief = first(args)
			return grow(cmd.Context(), c, &w, a)
		},
	}
	w.flags(cmd)
	f := cmd.Flags()
	f.StringArrayVar(&a.then, "then", nil, "`money` that comes on top at a later step: \"300 USD\" or 300; may be repeated; takes the place of the brief's steps")
	f.StringVar(&a.order, "order", "", "which `plan` is the best: last, first or fair")
	f.StringVar(&a.resale, "resale", "", "`share` of its price for which a part is sold that is not used any more: \"40 %\"")
	f.BoolVar(&a.ways, "amplifiers", false, "say which amplifier to live with: one for the bass now and one for the doors later, or one for both")
	complete(cmd, "order", "last", "first", "fair")
	a.limits.flags(cmd)
	return cmd
}

// steps lays the flags over the brief.
func (a *grown) steps(b *catalog.Brief, currency string) error {
	if len(a.then) > 0 {
		if err := inputs.Steps(b, a.then, currency); err != nil {
			return inputs.UsageError{Text: "--then" + err.Error()}
		}
	}
	for _, said := range [][2]string{{"order", a.order}, {"resale", a.resale}} {
		key, text := said[0], said[1]
		if text == "" {
			continue
		}
		if err := b.Say(key, text).Err(); err != nil {
			return inputs.UsageError{Text: "--" + key + ": " + err.Error()}
		}
	}
	if len(b.Steps) == 0 {
		return inputs.UsageError{Text: "the brief says no steps: write steps: [250 USD, +300 USD] in it, or say --then 300"}
	}
	return nil
}

func grow(ctx context.Context, c *console, w *wishes, a grown) error {
	job, err := c.load(&w.request)
	if err != nil {
		return err
	}
	if err := a.steps(&job.Brief, job.Catalogue.Currency); err != nil {
		return err
	}
	problem := w.problem(job, 1)
	var plan growth.Answer
	err = c.search(ctx, a.limits, &problem, func(ctx context.Context) (err error) {
		plan, err = growth.Ask(ctx, problem, a.ways)
		return err
	})
	if err != nil {
		return err
	}
	if plan.Outcome == optimizer.Infeasible {
		var result optimizer.Result
		if err := c.search(ctx, a.limits, &problem, func(ctx context.Context) (err error) {
			result, err = optimizer.Pick(ctx, problem)
			return err
		}); err != nil {
			return err
		}
		if err := c.ranked(job, result); err != nil {
			return err
		}
		return verdict(result)
	}
	if c.json {
		err = c.writeJSON(record.OfGrow(job.Brief, job.Vehicle, c.origin, &plan))
	} else {
		page := c.page()
		page.Grow(job.Question(), &plan)
		err = page.Close()
	}
	if err != nil {
		return err
	}
	return verdict(optimizer.Result{Outcome: plan.Outcome, Stop: plan.Stop})
}
