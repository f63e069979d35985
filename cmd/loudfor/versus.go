package main

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"loudfor/catalog"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
	"loudfor/cmd/internal/reprice"
	"loudfor/cmd/internal/versus"
	"loudfor/optimizer"
	"loudfor/optimizer/build"
)

// mostVersus is how many builds fit side by side on a page.
const mostVersus = 4

func versusCommand(c *console) *cobra.Command {
	var w wishes
	cmd := &cobra.Command{
		Use:   "versus BRIEF BUILD BUILD...",
		Short: "Builds side by side, at every place and with every opening of the car",
		Long: `versus puts two to four builds side by side in the car of a brief: what a meter
shows at every place and with everything open or shut that the car knows, how
far each is behind the first and whether that is a tie, the music, the front,
what the clamp shows, the current, the filters, the price, and which parts
differ.

A BUILD is a file, demo:NAME (` + inputs.DemoNames(inputs.DemoBuilds) + `), or rank:N, the
brief's own pick number N. Of a build's file only the parts and the hookup
count: car, cap and what the customer owns are the brief's.`,
		Example: `  loudfor versus demo:250-reading rank:1 rank:2
  loudfor versus brief.yaml rank:1 build.yaml --catalog parts/`,
		Args: func(cmd *cobra.Command, args []string) error {
			switch {
			case len(args) < 3:
				return usageError{text: "versus needs a brief and at least two builds, such as: versus brief.yaml rank:1 rank:2", command: cmd.CommandPath()}
			case len(args) > 1+mostVersus:
				return usageError{text: fmt.Sprintf("versus shows at most %d builds side by side", mostVersus), command: cmd.CommandPath()}
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := w.check(cmd); err != nil {
				return err
			}
			w.request.Brief = args[0]
			return sideBySide(cmd.Context(), c, &w, args[1:])
		},
	}
	w.flags(cmd)
	return cmd
}

// rankPrefix names a build of the brief's own ranking.
const rankPrefix = "rank:"

func sideBySide(ctx context.Context, c *console, w *wishes, names []string) error {
	ranks, files, err := sortBuilds(names)
	if err != nil {
		return err
	}
	job, err := c.load(&w.request)
	if err != nil {
		return err
	}
	given, err := heard(c.interrupted, func() ([]catalog.BuildFile, error) { return inputs.LoadBuilds(w.request, &job, files) })
	if err != nil {
		return err
	}
	problem := w.problem(job, 1)
	problem.Shared = new(optimizer.Shared)
	var picked []optimizer.Build
	if top := highest(ranks); top > 0 {
		pick := problem
		pick.Top, pick.Distinct, pick.Bare = top, optimizer.DistinctBass, true
		var result optimizer.Result
		err := c.search(ctx, limits{}, &pick, func(ctx context.Context) (err error) {
			result, err = optimizer.Pick(ctx, pick)
			return err
		})
		if err != nil {
			return err
		}
		if err := c.whole(job, result); err != nil {
			return err
		}
		if picked = result.Builds; len(picked) < top {
			return fmt.Errorf("%s%d: the brief's ranking has %d builds", rankPrefix, top, len(picked))
		}
	}
	v := versus.Versus{}
	for i, name := range names {
		b := versus.Rival{Name: name}
		if ranks[i] > 0 {
			p := picked[ranks[i]-1]
			b.Parts, b.Mode, b.Load = build.Mentions(p.Lines), p.Plan.Mode.String(), p.Plan.Load
		} else {
			b.Parts, b.Mode, b.Load = given[0].Parts, given[0].Mode, given[0].Load
			given = given[1:]
		}
		v.Rivals = append(v.Rivals, b)
	}
	if err := meetEverywhere(ctx, problem, &v); err != nil {
		return err
	}
	if c.json {
		return c.writeJSON(record.OfVersus(job.Brief, job.Vehicle, c.origin, v))
	}
	page := c.page()
	page.Versus(job.Question(), v)
	return page.Close()
}

// sortBuilds tells ranks, which are 0 for files, from files.
func sortBuilds(names []string) (ranks []int, files []string, err error) {
	for _, name := range names {
		text, isRank := strings.CutPrefix(name, rankPrefix)
		n := 0
		if !isRank {
			files = append(files, name)
		} else if n, err = strconv.Atoi(text); err != nil || n < 1 || n > mostTop {
			return nil, nil, inputs.UsageError{Text: fmt.Sprintf("%s: the rank is a number from 1 to %d, such as rank:1", name, mostTop)}
		}
		ranks = append(ranks, n)
	}
	return ranks, files, nil
}

func highest(ranks []int) (most int) {
	for _, n := range ranks {
		most = max(most, n)
	}
	return most
}

// meetEverywhere predicts all builds at the brief's place first, which settles
// the hookups, and then with the same hookups at every other place.
func meetEverywhere(ctx context.Context, p optimizer.Problem, v *versus.Versus) error {
	var err error
	if v.Here, err = meet(ctx, p, v.Rivals); err != nil {
		return err
	}
	if p.Vehicle.OpenField {
		return nil
	}
	for i, b := range v.Here {
		v.Rivals[i].Mode, v.Rivals[i].Load = b.Plan.Mode.String(), b.Plan.Load
	}
	for _, openings := range p.Vehicle.Body.OpeningNames() {
		for _, place := range p.Vehicle.Body.PlaceNames() {
			at := p
			at.Brief.Place, at.Brief.Openings = place, openings
			builds, err := meet(ctx, at, v.Rivals)
			if err != nil {
				return err
			}
			v.Spots = append(v.Spots, versus.Spot{Place: place, Openings: openings, Builds: builds})
		}
	}
	return nil
}

// meet predicts all builds at one place and holds them against the first.
func meet(ctx context.Context, p optimizer.Problem, rivals []versus.Rival) ([]optimizer.Build, error) {
	var builds []optimizer.Build
	for _, r := range rivals {
		q := p
		q.Catalogue = reprice.Shelf(p.Catalogue, p.Brief, r.Parts)
		q.Bare = false
		b, err := optimizer.Predict(ctx, q, r.Parts, r.Mode, r.Load)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", r.Name, err)
		}
		builds = append(builds, b)
	}
	return builds, optimizer.Compare(ctx, p, builds)
}
