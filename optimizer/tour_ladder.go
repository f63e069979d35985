package optimizer

import (
	"cmp"
	"context"
	"slices"

	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/uncertainty"
)

// The ladder over all tours: the upper edge of theirs.

// ladderTouring is Ladder where shops have to be chosen.
func ladderTouring(ctx context.Context, p Problem, car *task) (LadderResult, error) {
	tours, err := toursOf(&p, needed(&p.Brief))
	if err != nil {
		return LadderResult{}, err
	}
	r := LadderResult{Outcome: Infeasible, Proof: build.EmptyProof()}
	var list []found
	for i := range tours {
		q := tours[i].p
		q.Bare = true
		one, err := ladderIn(ctx, q, car)
		if err != nil {
			return LadderResult{}, err
		}
		r.Proof.Join(one.Proof)
		r.Stop = max(r.Stop, one.Stop)
		r.OpenFront = append(r.OpenFront, one.OpenFront...)
		for _, s := range one.Steps {
			list = append(list, newFound(s.Build, tours[i]))
		}
	}
	r.Steps = edge(list)
	if len(r.Steps) == 0 {
		if r.Stop != StopComplete {
			r.Outcome = Unknown
			return r, nil
		}
		result := Result{Outcome: Infeasible}
		if err := blockedTours(ctx, &result, p, car); err != nil {
			return r, err
		}
		r.Conflicts, r.Stop = result.Conflicts, result.Stop
	} else if r.Outcome = Optimal; r.Stop != StopComplete {
		r.Outcome = Feasible
	}
	t, err := readyIn(everyShop(p).p, setting.Relaxation{}, car)
	if err != nil {
		return r, err
	}
	t.measure(r.Steps)
	openGaps(&r, t.Currency())
	if err := completed(ctx, p, car, &r); err != nil {
		return r, err
	}
	if !p.Bare {
		err = uncertainty.Ladder(ctx, t.Setting, &r)
	}
	return r, err
}

// edge is the upper edge of the steps of all tours.
func edge(list []found) (steps []Step) {
	slices.SortStableFunc(list, func(a, b found) int {
		return cmp.Or(a.price(b), cmp.Compare(build.Round(b.build.Objective), build.Round(a.build.Objective)),
			cmp.Compare(len(a.skus), len(b.skus)), slices.Compare(a.skus, b.skus), cmp.Compare(len(a.tour.Stores), len(b.tour.Stores)))
	})
	best := build.Silent
	for _, f := range list {
		if l := build.Round(f.build.Objective); l > best {
			best = l
			f.tour.home(&f.build)
			if n := len(steps); n > 0 && steps[n-1].Build.Cost == f.build.Cost {
				steps = steps[:n-1] // the till rounds both to one price
			}
			steps = append(steps, Step{Build: f.build})
		}
	}
	return steps
}
