package optimizer

import (
	"context"
	"fmt"

	"loudfor/catalog"
)

// Why nothing can be built where shops have to be chosen.

// blocked finds out why no tour gives a build: what blocks with all shops at
// hand and no trips blocks every tour. Where nothing does, it is the number of
// shops, or what going to them costs within the cap.
func (r *Result) blocked(ctx context.Context, p Problem, car *task) error {
	if r.Outcome != Infeasible || r.Stop != StopComplete {
		return nil
	}
	easy := p
	easy.Bare, easy.Top = true, 1
	shops := *p.Catalogue
	shops.Shops = nil
	easy.Catalogue, easy.Brief.MostStores = &shops, 0
	whole := newTour(&easy, shopsOf(&easy), anyNumber)
	free, err := pickIn(ctx, whole.p, car)
	if err != nil {
		return err
	}
	if free.Outcome == Infeasible {
		t, err := readyIn(whole.p, relaxed{}, car)
		if err == nil {
			r.Conflicts, r.Stop = blockers(ctx, whole.p, t)
		}
		return err
	}
	trips := tripConflict(ctx, p, car)
	if r.Stop = stopBy(ctx); r.Stop == StopComplete {
		r.Conflicts = [][]Requirement{trips}
	}
	return nil
}

// tripConflict is the set of rules about shops, and the cap where it is one of
// them.
func tripConflict(ctx context.Context, p Problem, car *task) (set []Requirement) {
	solved := func(change func(*Problem)) bool {
		q := p
		q.Bare, q.Top = true, 1
		change(&q)
		r, err := pickIn(ctx, q, car)
		return err == nil && len(r.Builds) > 0
	}
	more := func(q *Problem) { q.Brief.MostStores = 0 }
	richer := func(q *Problem) { q.Brief.Cap = catalog.Money{} }
	if n := p.Brief.MostStores; n > 0 {
		set = append(set, Requirement{Kind: RequireStores, Words: fmt.Sprintf("bought at %d shops at most", n), Remedy: "go to one more", Alone: solved(more)})
	}
	if p.Brief.Cap != (catalog.Money{}) && (len(set) == 0 || solved(richer)) {
		set = append(set, Requirement{Kind: RequireCap, Words: fmt.Sprintf("no more than %s, everything included, trips to the shops too", p.Brief.Cap), Remedy: "raise the cap", Alone: solved(richer)})
	}
	return set
}
