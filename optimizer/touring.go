package optimizer

import (
	"cmp"
	"context"
	"fmt"
	"math/big"
	"slices"
	"strings"

	"loudfor/catalog"
)

// The answers over all tours; tours.go says why they are right.

// found is a build with the tour that it costs least on.
type found struct {
	build Build
	tour  *tour
	skus  []string // repeats written out
}

// pickTouring is Pick where shops have to be chosen.
func pickTouring(ctx context.Context, p Problem, car *task) (Result, error) {
	all, first, err := bestOfTours(ctx, p, car)
	if err != nil {
		return Result{}, err
	}
	if len(all.Builds) == 0 {
		return all, all.blocked(ctx, p, car)
	}
	if p.Bare {
		return all, nil
	}
	t, err := readyIn(first.p, relaxed{}, car)
	if err != nil {
		return Result{}, err
	}
	return all, t.bands(ctx, all.Builds)
}

// bestOfTours is the ranking alone, with the tour of the first build. Why there
// is none is not asked.
func bestOfTours(ctx context.Context, p Problem, car *task) (all Result, first *tour, err error) {
	tours, err := toursOf(&p, needed(&p.Brief))
	if err != nil {
		return Result{}, nil, err
	}
	all = Result{Outcome: Infeasible, Proof: noProof()}
	var list []found
	upper := silent // nothing unseen is louder
	for _, t := range tours {
		r, err := pickIn(ctx, t.p, car)
		if err != nil {
			return Result{}, nil, err
		}
		all.join(r.Outcome, r.Stop, r.Proof)
		upper = max(upper, r.unseen)
		for _, b := range r.Builds {
			list = append(list, newFound(b, t))
		}
	}
	list = ranked(list, p.Distinct)
	top := p.Top
	if top <= 0 {
		top = DefaultTop
	}
	list = list[:min(top, len(list))]
	for i := range list {
		list[i].tour.home(&list[i].build)
		list[i].build.Rank = i + 1
		all.Builds = append(all.Builds, list[i].build)
	}
	if len(all.Builds) == 0 {
		return all, nil, nil
	}
	if all.Outcome = Optimal; all.Stop != StopComplete {
		all.Outcome = Feasible
		all.Proof.GapDB = max(0, upper.dB()-all.Builds[0].Objective)
	}
	return all, list[0].tour, nil
}

// cheapestOfTours is what the cheapest build costs, in minor units, whatever the
// cap.
func cheapestOfTours(p Problem, car *task) (cost int64, ok bool, err error) {
	tours, err := toursOf(&p, needed(&p.Brief))
	if err != nil {
		return 0, false, err
	}
	for _, tour := range tours {
		t, err := readyIn(tour.p, relaxed{}, car)
		if err != nil {
			return 0, false, err
		}
		if sum, some := t.cheapest(); some {
			if c := t.till.figure(sum); !ok || c < cost {
				cost, ok = c, true
			}
		}
	}
	return cost, ok, nil
}

func newFound(b Build, t *tour) found {
	f := found{build: b, tour: t}
	for _, l := range b.Lines {
		for range l.Count {
			f.skus = append(f.skus, l.Part.SKU)
		}
	}
	slices.Sort(f.skus)
	return f
}

// price is the order of prices before rounding.
func (f found) price(g found) int { return slices.Compare(f.build.due[:], g.build.due[:]) }

// ranked puts builds into the stated order, each once, at its least price.
func ranked(list []found, distinct Distinct) (out []found) {
	slices.SortStableFunc(list, func(a, b found) int {
		return cmp.Or(cmp.Compare(round(b.build.Objective), round(a.build.Objective)), a.price(b),
			cmp.Compare(len(a.skus), len(b.skus)), slices.Compare(a.skus, b.skus),
			cmp.Compare(len(a.tour.stores), len(b.tour.stores)), slices.Compare(a.tour.stores, b.tour.stores))
	})
	seen := map[string]bool{}
	for _, f := range list {
		key := strings.Join(f.skus, "\x00")
		if distinct == DistinctBass {
			key = f.build.Bass.Amplifier.SKU + "\x00" + f.build.Bass.Part.SKU
		}
		if !seen[key] {
			seen[key] = true
			out = append(out, f)
		}
	}
	return out
}

func noProof() Proof { return Proof{Combinations: new(big.Int), Evaluated: new(big.Int)} }

// join adds the account of one tour.
func (r *Result) join(o Outcome, s Stop, p Proof) {
	r.Proof.join(p)
	if o == Unknown && len(r.Builds) == 0 {
		r.Outcome = Unknown
	}
	r.Stop = max(r.Stop, s)
}

func (p *Proof) join(q Proof) {
	p.Combinations.Add(p.Combinations, q.Combinations)
	p.Evaluated.Add(p.Evaluated, q.Evaluated)
	for _, d := range q.Dropped {
		i := slices.IndexFunc(p.Dropped, func(e Drop) bool { return e.Reason == d.Reason })
		if i < 0 {
			p.Dropped = append(p.Dropped, Drop{Reason: d.Reason, Count: new(big.Int)})
			i = len(p.Dropped) - 1
		}
		p.Dropped[i].Count.Add(p.Dropped[i].Count, d.Count)
	}
	slices.SortFunc(p.Dropped, func(a, b Drop) int { return int(a.Reason - b.Reason) })
}

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
			r.Conflicts = conflicts(ctx, whole.p, t)
		}
		return err
	}
	r.Conflicts = [][]Requirement{tripConflict(ctx, p, car)}
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
	if len(completes) > 0 {
		slices.SortStableFunc(completes, func(a, b found) int {
			return cmp.Or(cmp.Compare(a.build.Cost.Minor, b.build.Cost.Minor), cmp.Compare(round(b.build.Objective), round(a.build.Objective)))
		})
		completes[0].tour.home(&completes[0].build)
		r.Complete = &completes[0].build
	}
	if len(r.Steps) == 0 {
		result := Result{Outcome: Infeasible, Stop: r.Stop}
		err := result.blocked(ctx, p, car)
		r.Conflicts = result.Conflicts
		if r.Stop != StopComplete {
			r.Outcome = Unknown
		}
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
		err = t.ladderBands(ctx, &r)
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

// predictTouring is Predict where shops have to be chosen: on the cheapest
// tour.
func predictTouring(ctx context.Context, p Problem, parts []catalog.Mention, mode string, load float64) (Build, error) {
	tours, err := toursOf(&p, anyNumber) // whatever the brief allows
	if err != nil {
		return Build{}, err
	}
	var best *tour
	var cost int64
	var first error
	for i := range tours {
		q := tours[i].p
		q.Bare = true
		b, err := Predict(ctx, q, parts, mode, load)
		if err != nil {
			first = cmp.Or(first, err)
			continue
		}
		if best == nil || b.Cost.Minor < cost {
			best, cost = tours[i], b.Cost.Minor
		}
	}
	if best == nil {
		return Build{}, first
	}
	b, err := Predict(ctx, best.p, parts, mode, load)
	if err == nil {
		best.home(&b)
	}
	return b, err
}
