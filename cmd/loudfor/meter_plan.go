package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"loudfor/cmd/internal/record"
)

// planning are the flags of a plan.
type planning struct {
	metered
	steps           int
	place, openings string
}

func meterPlanCommand(c *console) *cobra.Command {
	p := planning{steps: 6}
	cmd := &cobra.Command{
		Use:   "plan [READINGS...]",
		Short: "Which few readings would teach most about the car",
		Long: `plan chooses the places, openings and tones whose readings narrow the bands most,
so that ten minutes at the car suffice. Readings that were taken already are
named as for learn, and count as known; without any, --build says what stands in
the car. --place and --openings say what is to be foretold: a place (or "all"),
with these openings (or "all").`,
		Example: `  loudfor meter plan
  loudfor meter plan --build demo:value-12-sealed --vehicle wagon
  loudfor meter plan monday.yaml --catalog parts/ --place headrest --openings shut`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if p.steps < 1 || p.steps > mostSteps {
				return usageError{text: fmt.Sprintf("--steps is from 1 to %d", mostSteps), command: cmd.CommandPath()}
			}
			return meterPlan(cmd.Context(), c, &p, args)
		},
	}
	p.flags(cmd)
	f := cmd.Flags()
	f.StringVar(&p.request.Build, "build", "", "plan for this `build` without readings: a file, demo:NAME, or parts in words")
	f.IntVarP(&p.steps, "steps", "n", p.steps, "how `many` readings to plan")
	f.StringVar(&p.place, "place", "", "the `place` to be foretold, or all (default: that of the readings)")
	f.StringVar(&p.openings, "openings", "", "the `openings` to be foretold, or all (default: those of the readings)")
	complete(cmd, "place", "dash", "kick panel", "headrest", "all")
	complete(cmd, "openings", "shut", "windows open", "doors open", "boot open", "all")
	return cmd
}

// mostSteps is more than anybody meters in a day.
const mostSteps = 50

func meterPlan(ctx context.Context, c *console, p *planning, files []string) error {
	job, err := p.load(ctx, c, files)
	if err != nil {
		return err
	}
	plan, err := job.Plan(p.place, p.openings, p.steps)
	if err != nil {
		return err
	}
	if c.json {
		return c.writeJSON(record.OfPlan(job.Vehicle.Name, c.origin, plan.Words, plan.Before, plan.Steps))
	}
	page := c.page()
	page.Plan(head(job), plan.Before, plan.Steps, plan.Words)
	return page.Close()
}
