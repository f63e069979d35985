package main

import (
	"context"

	"github.com/spf13/cobra"

	"loudfor/catalog/units"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
	"loudfor/optimizer"
	"loudfor/optimizer/advice"
)

func whyCommand(c *console) *cobra.Command {
	var w wishes
	part, full := "", false
	var bounds limits
	cmd := &cobra.Command{
		Use:   "why [BRIEF]",
		Short: "Why this build: what holds it back, what more money buys, what each part is for",
		Long: `why reads a brief as pick does, finds the best build, and answers what a customer
asks then: which limit binds, whether lamps dim, what room is left, how low it plays,
what windows and doors do, what the car did before, and what other money would do.

--full says as well what is left of the other limits, what each part is there for,
and between which prices of a part the answer stays the same.

With --part it answers for one part instead: the rule that forbids it, with the
numbers, or the best build that holds it, and the price at which it would be
chosen.`,
		Example: `  loudfor why
  loudfor why brief.yaml --catalog parts/
  loudfor why brief.yaml --catalog parts/ --part TM-12V
  loudfor why --part "value 12"`,
		Args:              atMost(1, "one brief"),
		ValidArgsFunction: completeDemo(inputs.DemoBriefs),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := w.check(cmd); err != nil {
				return err
			}
			if err := bounds.check(cmd); err != nil {
				return err
			}
			w.request.Brief = first(args)
			more := cmd.CommandPath()
			if w.request.Brief != "" {
				more += " " + w.request.Brief
			}
			if more += " --full says all, and what each part is there for."; full {
				more = ""
			}
			return why(cmd.Context(), c, &w, part, more, bounds)
		},
	}
	w.flags(cmd)
	cmd.Flags().StringVar(&part, "part", "", "answer for one `part`, by its SKU or words of its name")
	cmd.Flags().BoolVar(&full, "full", false, "say all, and what each part is there for")
	completeWith(cmd, "part", completeSKU(&w.request))
	bounds.flags(cmd)
	return cmd
}

func why(ctx context.Context, c *console, w *wishes, part, more string, bounds limits) error {
	job, err := c.load(&w.request)
	if err != nil {
		return err
	}
	if part, err = meantBy(job, part); err != nil {
		return err
	}
	problem := w.problem(job, 1)
	var desk *advice.Desk
	var talk *advice.Talk
	var about *advice.Verdict
	err = c.search(ctx, bounds, &problem, func(ctx context.Context) (err error) {
		if desk, err = advice.Ask(ctx, problem); err != nil || desk.Best() == nil {
			return err
		}
		if part != "" {
			about, err = desk.Part(ctx, part)
		} else {
			talk, err = desk.Talk(ctx, nil)
		}
		return err
	})
	if err != nil {
		return err
	}
	if c.json {
		err = c.writeJSON(record.OfWhy(job.Brief, job.Vehicle, c.origin, desk, talk, about))
	} else {
		page := c.page()
		switch {
		case desk.Best() == nil:
			page.WhyNone(job.Question(), desk.Result)
		case about != nil:
			page.WhyPart(job.Question(), desk, about)
		case more == "":
			page.WhyInFull(job.Question(), desk, talk)
		default:
			page.Why(job.Question(), desk, talk, more)
		}
		err = page.Close()
	}
	if err != nil {
		return err
	}
	return verdict(optimizer.Result{Outcome: desk.Result.Outcome, Stop: desk.Result.Stop})
}

// meantBy is the SKU of the part that words of the command line mean.
func meantBy(job inputs.Job, words string) (string, error) {
	if words == "" {
		return "", nil
	}
	found := job.Catalogue.Called(words)
	if len(found) == 1 {
		return found[0].SKU, nil
	}
	if choice := job.Catalogue.Choice(words); choice != "" {
		return "", inputs.UsageError{Text: "--part " + words + ": " + choice}
	}
	text := "--part " + words + ": no part of the catalogue has this SKU or name"
	if near := units.Nearest(words, job.Catalogue.SKUs()); near != "" {
		text += "; did you mean " + near + "?"
	}
	return "", inputs.UsageError{Text: text}
}
