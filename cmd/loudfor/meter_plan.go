package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/metering"
	"loudfor/cmd/internal/record"
	"loudfor/optimizer/learning"
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
	now, err := job.Study.Prior()
	if len(job.Study.Readings) > 0 {
		job.Vehicle.Body.Learned, job.Study.Body.Learned = nil, nil
		now, err = job.Study.Fit()
	}
	if err != nil {
		return err
	}
	places, sets, err := p.wanted(job)
	if err != nil {
		return err
	}
	targets := settings(places, sets, usualTones)
	body := job.Vehicle.Body
	before, steps, err := now.Plan(settings(body.PlaceNames(), body.OpeningNames(), planTones), targets, p.steps, learning.UsualTolerance)
	if err != nil {
		return err
	}
	words := fmt.Sprintf("levels from %g to %g Hz at the %s, %s", usualTones[0], usualTones[len(usualTones)-1], strings.Join(places, ", "), strings.Join(sets, ", "))
	if c.json {
		return c.writeJSON(record.OfPlan(job.Vehicle.Name, c.origin, words, before, steps))
	}
	page := c.page()
	page.Plan(head(job), before, steps, words)
	return page.Close()
}

// planTones are the tones that a plan may ask for, Hz: what a tone disc holds.
var planTones = []float64{28, 32, 36, 40, 45, 50, 56, 63, 71}

func settings(places, sets []string, tones []float64) (list []learning.Setting) {
	for _, p := range places {
		for _, s := range sets {
			for _, hz := range tones {
				list = append(list, learning.Setting{Place: p, Openings: s, Hz: hz})
			}
		}
	}
	return list
}

// wanted is what is to be foretold.
func (p *planning) wanted(job *metering.Job) (places, sets []string, err error) {
	choose := func(word, usual, what string, all []string) ([]string, error) {
		if word == "" {
			word = usual
		}
		if strings.EqualFold(word, "all") {
			return all, nil
		}
		if i := slices.IndexFunc(all, func(n string) bool { return strings.EqualFold(n, word) }); i >= 0 {
			return all[i : i+1], nil
		}
		return nil, inputs.UsageError{Text: fmt.Sprintf("--%s: %s has no %q; there are %s, or all", what, job.Vehicle.Name, word, strings.Join(all, ", "))}
	}
	if places, err = choose(p.place, job.Place, "place", job.Vehicle.Body.PlaceNames()); err != nil {
		return nil, nil, err
	}
	all := job.Vehicle.Body.OpeningNames()
	for _, word := range []string{p.openings, job.Openings} {
		if _, ok := job.Vehicle.Body.Openings(word); ok && p.openings != "all" {
			all = append(all, word) // "doors open 45 degrees"
		}
	}
	sets, err = choose(p.openings, job.Openings, "openings", all)
	return places, sets, err
}
