package main

import (
	"context"
	"io"

	"github.com/spf13/cobra"

	"loudfor/catalog"
	"loudfor/cmd/internal/cutlist"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
	"loudfor/optimizer"
	"loudfor/optimizer/workshop"
)

func boxCommand(c *console) *cobra.Command {
	var w wishes
	csv, svg := "", ""
	cmd := &cobra.Command{
		Use:   "box [BRIEF|BUILD]",
		Short: "The box that the shop builds: size, port, cut list, plan of the sheets",
		Long: `box works out the best box that a workshop of the catalogue could build of its
sheet material for a brief (a file, "-" for standard input, or demo:NAME), within
the car's space, the cap, and what port and driver stand; or the one that a build
file describes under built_box. It prints outside and inside, the net volume,
the port with its length and tuning, the cut list and where its panels lie on
the sheets, and the level over frequency.

pick, ladder and the other commands consider such boxes beside the ready-made
ones when the brief says build_boxes: yes; box always does.`,
		Example: `  loudfor box
  loudfor box brief.yaml --catalog parts/ --csv cuts.csv --svg sheets.svg
  loudfor box demo:twelve-built --json`,
		Args: atMost(1, "one brief or build"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := w.check(cmd); err != nil {
				return err
			}
			if csv == "-" && c.json {
				return usageError{text: "--csv - and --json both want standard output; the JSON holds the cut list", command: cmd.CommandPath()}
			}
			if err := c.buildOrBrief(&w.request, first(args)); err != nil {
				return err
			}
			return box(cmd.Context(), c, &w, csv, svg)
		},
	}
	w.flags(cmd)
	cmd.Flags().StringVar(&csv, "csv", "", "write the cut list as CSV to `file`, or - for standard output in place of the answer")
	cmd.Flags().StringVar(&svg, "svg", "", "draw the plan of the sheets into `file`")
	return cmd
}

func box(ctx context.Context, c *console, w *wishes, csv, svg string) error {
	job, err := c.load(&w.request)
	if err != nil {
		return err
	}
	build, made, bought, err := c.boxOf(ctx, w, &job)
	if err != nil {
		return err
	}
	if svg != "" {
		if err := replace(svg, []byte(cutlist.SVG(made))); err != nil {
			return err
		}
	}
	if csv != "" {
		text, err := cutlist.CSV(made)
		if err != nil {
			return err
		}
		if csv == "-" {
			_, err := c.out.Write(text)
			return err
		}
		if err := replace(csv, text); err != nil {
			return err
		}
	}
	if c.json {
		return c.writeJSON(record.OfBox(job.Vehicle, c.origin, build, made, job.Shop, job.Brief.Celsius))
	}
	return c.turn(func(w io.Writer, paged bool) error {
		page := c.pageOn(w)
		if paged {
			page.Paged()
		}
		page.Box(job.Question(), build, made, job.Shop, bought)
		return page.Close()
	})
}

// boxOf finds the build and its built box: that of a build file, or of the best
// build for a brief. Where the best build buys its box, bought is that build,
// and the best with a built box is the answer.
func (c *console) boxOf(ctx context.Context, w *wishes, job *inputs.Job) (build optimizer.Build, made *workshop.Box, bought *optimizer.Build, err error) {
	if w.request.Build != "" {
		if job.Box == nil {
			return build, nil, nil, inputs.UsageError{Text: w.request.Build + ": the build has no box built; describe it under built_box, or name a brief"}
		}
		build, err = optimizer.Predict(ctx, w.problem(*job, 1), job.Parts, job.Mode, job.Load)
		return build, job.Box, nil, err
	}
	if job.Shop == nil {
		if err := c.buildBoxes(ctx, job, w.workers); err != nil {
			return build, nil, nil, err
		}
	}
	if why := job.Shop.Why; why != nil {
		return build, nil, nil, answeredError{statusNoBuild, why.Error()}
	}
	problem := w.problem(*job, 1)
	var result optimizer.Result
	pick := func() error {
		return c.search(ctx, limits{}, &problem, func(ctx context.Context) (err error) {
			result, err = optimizer.Pick(ctx, problem)
			return err
		})
	}
	err = pick()
	if err == nil && result.Outcome == optimizer.Optimal && job.Shop.Of(&result.Builds[0]) == nil {
		best := result.Builds[0]
		bought = &best
		problem.Brief.Never = append(problem.Brief.Never[:len(problem.Brief.Never):len(problem.Brief.Never)], readyMade(job)...)
		err = pick()
	}
	if err == nil {
		err = c.whole(*job, result)
	}
	if err != nil {
		return build, nil, nil, err
	}
	build = result.Builds[0]
	return build, job.Shop.Of(&build), bought, nil
}

// readyMade are all boxes that are bought.
func readyMade(job *inputs.Job) (all []catalog.Mention) {
	for _, p := range job.Catalogue.Parts {
		if p.Kind == catalog.KindLoaded || p.Kind == catalog.KindEnclosure && job.Shop.Box(p.SKU) == nil {
			all = append(all, catalog.Mention{SKU: p.SKU, Count: 1})
		}
	}
	return all
}
