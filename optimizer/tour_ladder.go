package optimizer

import (
	"cmp"
	"context"
	"slices"
)

// The ladder over all tours: the upper edge of theirs.

// ladderTouring is Ladder where shops have to be chosen.
func ladderTouring(ctx context.Context, p Problem, car *task) (LadderResult, error) {
	tours, err := toursOf(&p, needed(&p.Brief))
	if err != nil {
		return LadderResult{}, err
	}
	r := LadderResult{Outcome: Infeasible, Proof: noProof()}
	var list []found
	var completes []found
	for i := range tours {
		q := tours[i].p
		q.Bare = true
		one, err := ladderIn(ctx, q, car)
		if err != nil {
			return LadderResult{}, err
		}
		r.Proof.join(one.Proof)
		r.Stop = max(r.Stop, one.Stop)
		r.unseen = append(r.unseen, one.unseen...)
		for _, s := range one.Steps {
			list = append(list, newFound(s.Build, tours[i]))
		}
		if one.Complete != nil {
			completes = append(completes, newFound(*one.Complete, tours[i]))
		}
	}
	r.Steps = edge(list)
	if len(completes) > 0 && r.Stop == StopComplete {
		slices.SortStableFunc(completes, func(a, b found) int {
			return cmp.Or(cmp.Compare(a.build.Cost.Minor, b.build.Cost.Minor), cmp.Compare(round(b.build.Objective), round(a.build.Objective)))
		})
		completes[0].tour.home(&completes[0].build)
		r.Complete = &completes[0].build
	}
	if len(r.Steps) == 0 {
		if r.Stop != StopComplete {
			r.Outcome = Unknown
			return r, nil
		}
		result := Result{Outcome: Infeasible}
		err := result.blocked(ctx, p, car)
		r.Conflicts, r.Stop = result.Conflicts, result.Stop
		return r, err
	}
	if r.Outcome = Optimal; r.Stop != StopComplete {
		r.Outcome = Feasible
	}
	t, err := readyIn(tours[0].p, relaxed{}, car)
	if err != nil {
		return r, err
	}
	t.measure(r.Steps)
	r.gaps(t.currency())
	if !p.Bare {
		err = t.ladderBands(&r)
	}
	return r, err
}

// edge is the upper edge of the steps of all tours.
func edge(list []found) (steps []Step) {
	slices.SortStableFunc(list, func(a, b found) int {
		return cmp.Or(a.price(b), cmp.Compare(round(b.build.Objective), round(a.build.Objective)),
			cmp.Compare(len(a.skus), len(b.skus)), slices.Compare(a.skus, b.skus), cmp.Compare(len(a.tour.stores), len(b.tour.stores)))
	})
	best := silent
	for _, f := range list {
		if l := round(f.build.Objective); l > best {
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
