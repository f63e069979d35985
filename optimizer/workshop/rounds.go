package workshop

import (
	"context"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/model/parallel"
	"loudfor/optimizer"
)

// The second step: rank, refine the boxes of the first few builds, rank again.
// Parts are only ever added, so the best build never gets worse; the rounds end
// when it gains less than Tolerance.

// job is one refinement; the same is done once.
type job struct {
	sku  string
	n    int
	d    bass.Drive
	most int64
}

func (s *Shop) refine(ctx context.Context, b *bench) error {
	done := map[job]bool{}
	best := 0.0
	for s.Rounds < mostRounds && len(s.Boxes) > 0 && ctx.Err() == nil {
		p := b.p
		p.Catalogue, p.Top, p.Distinct, p.Bare, p.Progress = s.Catalogue, refined, optimizer.DistinctBass, true, nil
		r, err := optimizer.Pick(ctx, p)
		if err != nil {
			return err
		}
		if len(r.Builds) == 0 || ctx.Err() != nil {
			return nil
		}
		s.Rounds++
		s.Gain = r.Builds[0].Objective - best
		if s.Rounds > 1 && s.Gain < Tolerance {
			return nil
		}
		best = r.Builds[0].Objective
		var jobs []job
		var pairs []pair
		for i := range r.Builds {
			build := &r.Builds[i]
			j, of, ok := b.job(build)
			if ok && !done[j] {
				done[j] = true
				jobs, pairs = append(jobs, j), append(pairs, of)
			}
		}
		found := make([][]trial, len(jobs))
		parallel.Each(parallel.Workers(b.p.Workers), len(jobs), func(i int) {
			if ctx.Err() == nil {
				found[i] = b.refine(pairs[i], jobs[i].d, jobs[i].most)
			}
		})
		added := false
		for _, trials := range found {
			for _, t := range trials {
				added = s.add(b, t) || added
			}
		}
		if !added {
			return nil
		}
	}
	return nil
}

// job is what there is to refine in a build: its drivers in one box, with its
// drive, for the money of its boxes and what the cap leaves.
func (b *bench) job(build *optimizer.Build) (job, pair, bool) {
	x := &build.Bass
	if x.Enclosure == nil {
		return job{}, pair{}, false
	}
	source, _, _, ok := x.Amplifier.Amplifier.Spec.Source(build.Plan.Mode)
	if !ok {
		return job{}, pair{}, false
	}
	of := pair{x.Part, x.Driver, x.Drivers}
	d := bass.Drive{Outputs: x.Amplifiers * build.Plan.Outputs, Series: build.Plan.Series, Parallel: build.Plan.Parallel, Source: source, Feed: build.Feed}
	most := b.money()
	if cap := b.p.Brief.Cap; cap.Minor > 0 {
		left := cap.Minor - build.Cost.Minor
		const million = 1_000_000
		most = left * million / (million + b.p.Brief.TaxOn(catalog.KindEnclosure))
		for _, l := range build.Lines {
			if l.Part == x.Enclosure {
				most += l.Cost.Minor
			}
		}
	}
	return job{x.Part.SKU, x.Drivers, d, most}, of, true
}
